import { AnimalLink } from '../../components/animal-link.js';
import { Band } from '../../components/band.js';
import { TakeAlong } from '../../components/take-along.js';
import { chanceWords } from '../../lib/chance-words.js';
import type { LineageAnswer } from './lineage-documents.js';

const GENERATIONS = ['young', 'grand-young', 'great-grand-young'];
const MOST_LISTED = 40;

/** What came of an animal: how many by generation, and its young with how sure each is. */
export function YoungBand(props: { readonly programId: string; readonly lineage: LineageAnswer }) {
  const { animal, young, descendants } = props.lineage;
  const [first = 0, ...later] = descendants;
  if (first === 0) return null;
  const counts = [first, ...later].map(
    (count, k) => `${count} ${GENERATIONS[k] ?? `${k + 1} generations on`}`,
  );
  const listed = young.slice(0, MOST_LISTED);
  return (
    <Band title="What came of it" note="Certain and possible young, each counted once.">
      <p className="lead">{counts.join(', ')}.</p>
      <ul className="young-list">
        {listed.map(({ animal: one, probability }) => (
          <li key={one.id}>
            <AnimalLink programId={props.programId} animal={one} />{' '}
            {probability < 1 && <span className="small">{chanceWords(probability)}</span>}
          </li>
        ))}
      </ul>
      {first > listed.length && (
        <p className="small">{first - listed.length} more stand in the figures to take along.</p>
      )}
      <TakeAlong
        file={`young-of-${animal.code}`}
        of={`young of ${animal.code}`}
        columns={['young', 'name', 'that it is a young of this animal']}
        rows={() => young.map(({ animal: one, probability }) => [one.code, one.name, probability])}
      />
    </Band>
  );
}
