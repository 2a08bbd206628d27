import { AnimalLink } from '../../components/animal-link.js';
import { Code } from '../../components/code.js';
import { inbreedingWords } from '../../lib/chance-words.js';
import type { RelatedPair, SaleCheck } from './sale-documents.js';

/** Every pair of the animals: in words, as a figure, with its range; as a list on a phone. */
export function KinMatrix({
  programId,
  check,
}: {
  readonly programId: string;
  readonly check: SaleCheck;
}) {
  const { animals, relatedness } = check;
  const pairOf = (a: string, b: string) =>
    relatedness.pairs.find(
      (pair) => (pair.a.id === a && pair.b.id === b) || (pair.a.id === b && pair.b.id === a),
    );
  const codeOf = (id: string) => animals.find((animal) => animal.id === id)?.code ?? '';
  return (
    <>
      <div className="scroll only-wide">
        <table className="kin">
          <caption>
            How related, in words, then as a figure with the range its possible fathers allow.
            Hatched: our books hold no shared parent, which is not the same as unrelated.
          </caption>
          <thead>
            <tr>
              <td />
              {animals.slice(1).map((animal) => (
                <th scope="col" key={animal.id}>
                  <Code code={animal.code} />
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {animals.slice(0, -1).map((row, k) => (
              <tr key={row.id}>
                <th scope="row">
                  <AnimalLink programId={programId} animal={row} />
                </th>
                {animals.slice(1).map((column, n) => {
                  const pair = n >= k ? pairOf(row.id, column.id) : undefined;
                  if (!pair) return <td key={column.id} className="blank" />;
                  return (
                    <td key={column.id} className={pair.highest === 0 ? 'cell open' : 'cell'}>
                      <div className="in">
                        <b>{pair.words}</b>
                        <PairFigures pair={pair} />
                      </div>
                    </td>
                  );
                })}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <ul className="rows only-narrow">
        {relatedness.pairs.map((pair) => (
          <li key={`${pair.a.id} ${pair.b.id}`}>
            <span>
              <Code code={codeOf(pair.a.id)} /> and <Code code={codeOf(pair.b.id)} />:{' '}
              <b>{pair.words}</b>
            </span>
            <PairFigures pair={pair} />
          </li>
        ))}
      </ul>
      <p className="small soft">
        For measure: full brother and sister 0.5, half 0.25, first cousins 0.125, when nothing
        further back is shared.
      </p>
    </>
  );
}

function PairFigures({ pair }: { readonly pair: RelatedPair }) {
  const { lowest, highest } = pair;
  return (
    <span className="small">
      <span className="figure">{inbreedingWords(pair.relatedness)}</span>{' '}
      {lowest !== highest && (
        <>
          from {inbreedingWords(lowest)} to {inbreedingWords(highest)}
        </>
      )}
      <span className="block">young would have F {inbreedingWords(pair.youngF)}</span>
    </span>
  );
}
