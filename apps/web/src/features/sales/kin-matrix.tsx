import { AnimalLink } from '../../components/animal-link.js';
import { Code } from '../../components/code.js';
import { TakeAlong } from '../../components/take-along.js';
import { EvidenceList, WhyDrawer } from '../../components/why-drawer.js';
import { WideTable } from '../../components/wide-table.js';
import { inbreedingWords } from '../../lib/chance-words.js';
import type { SaleAnimal, SaleCheck, SalePair } from './sale-documents.js';

/** More columns than these do not fit on a sheet of paper: then the list is printed. */
const MOST_ON_PAPER = 6;

const SEX_WORDS: Record<string, string> = { MALE: 'male', FEMALE: 'female', UNKNOWN: 'not sexed' };

export const roleWords = ({ isBuyers, sex }: SaleAnimal) =>
  isBuyers ? `buyer's, ${SEX_WORDS[sex]}` : `goes, ${SEX_WORDS[sex]}`;

/** Every pair of the animals: in words, as a figure, with its range; as a list on a phone. */
export function KinMatrix({
  programId,
  check,
}: {
  readonly programId: string;
  readonly check: SaleCheck;
}) {
  const { animals, pairs } = check;
  const pairOf = (a: string, b: string) =>
    pairs.find((pair) => (pair.a === a && pair.b === b) || (pair.a === b && pair.b === a));
  const codeOf = (id: string) => animals.find((animal) => animal.id === id)?.code ?? '';
  const shared = pairs.filter(({ through }) => through.length > 0);
  return (
    <>
      <WideTable label="How related, every pair" onlyWide>
        <table
          className={animals.length > MOST_ON_PAPER ? 'kin many' : 'kin'}
          style={{ minWidth: `${8 + animals.length * 8.5}rem` }}
        >
          <caption>
            How related, in words, then as a figure with the range its possible fathers allow.
            Hatched: nobody can say, or our books hold no shared parent, which is not the same as
            unrelated.
          </caption>
          <thead>
            <tr>
              <td />
              {animals.slice(1).map((animal) => (
                <th scope="col" key={animal.id}>
                  <Code code={animal.code} />
                  <span className="small block role">{roleWords(animal)}</span>
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {animals.slice(0, -1).map((row, k) => (
              <tr key={row.id}>
                <th scope="row">
                  <SaleCode programId={programId} animal={row} />
                  <span className="small block role">{roleWords(row)}</span>
                </th>
                {animals.slice(1).map((column, n) => {
                  const pair = n >= k ? pairOf(row.id, column.id) : undefined;
                  if (!pair) return <td key={column.id} className="blank" />;
                  return (
                    <td key={column.id} className={pair.highest === 0 ? 'cell open' : 'cell'}>
                      <div className="in">
                        <b>{pair.words}</b>
                        {pair.isKnown && <PairFigures pair={pair} />}
                      </div>
                    </td>
                  );
                })}
              </tr>
            ))}
          </tbody>
        </table>
      </WideTable>
      <ul className="rows only-narrow">
        {pairs.map((pair) => (
          <li key={`${pair.a} ${pair.b}`}>
            <span>
              <Code code={codeOf(pair.a)} /> and <Code code={codeOf(pair.b)} />: <b>{pair.words}</b>
            </span>
            {pair.isKnown && <PairFigures pair={pair} />}
          </li>
        ))}
      </ul>
      <p className="small soft">
        For measure: full brother and sister 0.5, half 0.25, first cousins 0.125, when nothing
        further back is shared.
      </p>
      {shared.length > 0 && (
        <WhyDrawer of="the kinship" label="Through whom they are kin">
          {shared.map((pair) => (
            <div key={`${pair.a} ${pair.b}`}>
              <p className="part-name">
                {codeOf(pair.a)} and {codeOf(pair.b)}: forebears of both, with the part of the
                young's F each brings
              </p>
              <EvidenceList
                lines={pair.through.map(({ animal, contribution }) => ({
                  key: animal.id,
                  finding: <AnimalLink programId={programId} animal={animal} />,
                  moved: inbreedingWords(contribution),
                }))}
              />
            </div>
          ))}
        </WhyDrawer>
      )}
      <TakeAlong
        file="sale kinship"
        of="how related each pair is"
        columns={['a', 'b', 'words', 'known', 'relatedness', 'lowest', 'highest', 'F of young']}
        rows={() =>
          pairs.map((pair) => [
            codeOf(pair.a),
            codeOf(pair.b),
            pair.words,
            pair.isKnown,
            pair.isKnown ? pair.relatedness : null,
            pair.isKnown ? pair.lowest : null,
            pair.isKnown ? pair.highest : null,
            pair.isKnown ? pair.youngF : null,
          ])
        }
      />
    </>
  );
}

/** One of ours leads to its page; one of the buyer's has none. */
export function SaleCode(props: { readonly programId: string; readonly animal: SaleAnimal }) {
  const { animal } = props;
  // An animal of ours may stand on the buyer's side: they bought it from us.
  return animal.id.startsWith('buyer ') ? (
    <Code code={animal.code} />
  ) : (
    <AnimalLink programId={props.programId} animal={animal} />
  );
}

function PairFigures({ pair }: { readonly pair: SalePair }) {
  const { lowest, highest } = pair;
  return (
    <span className="small">
      <span className="figure">{inbreedingWords(pair.relatedness)}</span>{' '}
      {lowest === highest
        ? 'by our books'
        : `${inbreedingWords(lowest)} to ${inbreedingWords(highest)}`}
      {pair.canBreed && (
        <span className="block">young would have F {inbreedingWords(pair.youngF)}</span>
      )}
    </span>
  );
}
