import { Link } from 'react-router';
import { Band } from '../../components/band.js';
import { Said } from '../../components/said.js';
import { addresses } from '../../lib/addresses.js';
import { useRead } from '../../lib/use-read.js';
import { BestPairsQuery, FirstAnswersQuery, type ToldAnimal } from './start-documents.js';

/** What the books can answer already, each with the page that says why. */
export function FirstAnswers(props: {
  readonly programId: string;
  readonly animals: readonly ToldAnimal[];
  readonly hasTrait: boolean;
}) {
  const { programId, animals } = props;
  const pens = useRead(FirstAnswersQuery, { programId });
  const pairs = useRead(BestPairsQuery, { programId }, !props.hasTrait);
  const young = animals.filter(({ sire }) => sire.candidates.length > 0).at(-1);
  return (
    <Band title="First answers" note="They fill in as you tell more.">
      <ul className="rows answers">
        {pens.data && (
          <li>
            <div>
              <Link to={addresses.pens(programId)}>Pens</Link>
              <p>
                <Said text={pens.data.penConflicts.sentence} />
              </p>
            </div>
          </li>
        )}
        {props.hasTrait &&
          pairs.data?.seasonPairings.pairs.map(({ pair }) => (
            <li key={pair.sire.code + pair.dam.code}>
              <div>
                <Link to={addresses.odds(programId, pair.sire.code, pair.dam.code)}>
                  {pair.sire.code} with {pair.dam.code}
                </Link>
                <p>
                  <Said text={pair.sentence} />
                </p>
              </div>
            </li>
          ))}
        {props.hasTrait && pairs.faults[0] && (
          <li>
            <div>
              <b>Pairs</b>
              <p>{pairs.faults[0].message}</p>
            </div>
          </li>
        )}
        {!props.hasTrait && (
          <li>
            <div>
              <b>Pairs</b>
              <p>Tell which look you are after, and the two best pairs stand here.</p>
            </div>
          </li>
        )}
        {young ? (
          <li>
            <div>
              <Link to={addresses.lineage(programId, young.id)}>Where {young.code} comes from</Link>
              <p>{fatherWords(young)}</p>
            </div>
          </li>
        ) : (
          <li>
            <div>
              <b>Where a young one comes from</b>
              <p>
                Tell a young one and its mother's years with males, and its possible fathers stand
                here.
              </p>
            </div>
          </li>
        )}
      </ul>
      <h3>What to write down from now on</h3>
      <ol className="from-now">
        <li>Which male goes in with which female, and the day he comes out.</li>
        <li>Whose box it is, on the box and here, the day she lays.</li>
        <li>
          Every hatchling looked at, at once and again at about three months: plain ones count most.
        </li>
        <li>A weight and a shell length a year, each animal.</li>
      </ol>
      <p className="acts">
        <Link className="act" to={addresses.today(programId)}>
          Open Today
        </Link>{' '}
        <Link className="act quiet" to={`${addresses.paper(programId)}?sheet=season`}>
          Print a sheet to fill in
        </Link>
      </p>
    </Band>
  );
}

function fatherWords({ code, sire }: ToldAnimal): string {
  const count = sire.candidates.length;
  const names = sire.candidates.map(({ animal }) => animal.code).join(', ');
  const males =
    count === 1
      ? `${names} is its only possible father in the books`
      : `${code} is by one of ${count} males: ${names}`;
  const rest = sire.unrecorded;
  return `${males}${rest > 0 ? `, or (about ${Math.max(1, Math.round(rest * 100))} in 100) by a male nobody recorded` : ''}. No DNA test is known for most tortoise colours; more looks at young move it.`;
}
