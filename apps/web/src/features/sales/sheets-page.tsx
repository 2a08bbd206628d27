import { Link, useSearchParams } from 'react-router';
import { FaultNote } from '../../components/fault-note.js';
import { Opening } from '../../components/opening.js';
import { Skeleton } from '../../components/skeleton.js';
import { addresses } from '../../lib/addresses.js';
import { dayWords } from '../../lib/date-words.js';
import { useProgram } from '../../lib/program-context.js';
import { useRead } from '../../lib/use-read.js';
import { animalIdsOf, type SaleSheet, SaleSheetsQuery } from './sale-documents.js';
import './sheets.css';

/** A sheet of paper for each animal that goes: what the records hold, what they rest on, what is not claimed. */
export function SheetsPage() {
  const program = useProgram();
  const [params] = useSearchParams();
  const ids = animalIdsOf(params);
  const { data, faults, again } = useRead(
    SaleSheetsQuery,
    { programId: program.id, animalIds: ids },
    ids.length === 0,
  );
  const check = data?.saleCheck;
  return (
    <>
      <Opening
        title="Sale sheets"
        trail={<Link to={addresses.sales(program.id, ids)}>Before a sale</Link>}
        sentence={ids.length === 0 ? 'Choose the animals that go first.' : undefined}
        acts={
          check && (
            <button type="button" className="act" onClick={() => window.print()}>
              Print
            </button>
          )
        }
      />
      <FaultNote faults={faults} again={again} />
      {ids.length > 0 && !check && faults.length === 0 && <Skeleton lines={14} what="the sheets" />}
      {check?.sheets.map((sheet) => (
        <Sheet
          key={sheet.animal.id}
          sheet={sheet}
          program={program.name}
          mates={check.pairs
            .filter(({ a, b }) => a === sheet.animal.id || b === sheet.animal.id)
            .map((pair) => ({
              ...pair,
              other: check.sheets.find(
                ({ animal }) =>
                  animal.id !== sheet.animal.id && (animal.id === pair.a || animal.id === pair.b),
              )?.animal.code,
            }))}
        />
      ))}
    </>
  );
}

function Sheet(props: {
  readonly sheet: SaleSheet;
  readonly program: string;
  readonly mates: readonly { readonly other?: string; readonly words: string }[];
}) {
  const { sheet, program } = props;
  const { code, name } = sheet.animal;
  return (
    <article className="sale-sheet" aria-labelledby={`sheet-${code}`}>
      <header>
        <b>{program}</b>
        <span>
          Sale sheet, {dayWords(new Date())}
          <span className="block">draft, not signed</span>
        </span>
      </header>
      <h2 id={`sheet-${code}`}>
        {code} {name}
      </h2>
      <p className="lead">{sheet.sentence}</p>
      <table>
        <caption className="vh">What the records hold</caption>
        <thead className="vh">
          <tr>
            <th scope="col">What</th>
            <th scope="col">Finding</th>
            <th scope="col">What it rests on</th>
          </tr>
        </thead>
        <tbody>
          {sheet.lines.map(({ what, finding, basis }) => (
            <tr key={what}>
              <th scope="row">{what}</th>
              <td>
                <b>{finding}</b>
              </td>
              <td>{basis}</td>
            </tr>
          ))}
          {props.mates.map(({ other, words }) => (
            <tr key={other}>
              <th scope="row">Goes with</th>
              <td>
                <b>{other}</b>
              </td>
              <td>{words}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {sheet.notKnown.length > 0 && (
        <p>
          <b>Not known, and so not claimed:</b> {sheet.notKnown.join('; ')}.
        </p>
      )}
      <p>
        <b>Care and law.</b> {sheet.care.join(' ')}
      </p>
      <div className="signatures">
        <p>Seller, place and date</p>
        <p>Buyer, place and date</p>
      </div>
    </article>
  );
}
