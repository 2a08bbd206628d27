import { AnimalLink } from '../../components/animal-link.js';
import { Cautions } from '../../components/cautions.js';
import type { NamedAnimal } from '../../lib/answer-fragments.js';
import type { WeighedPair } from './pairing-documents.js';
import { PairActs, PairParts, youngWords } from './weighed-pair.js';

/** Mates by rank, each with the parts of its figure, why it stands there, cautions, and the way to the odds. */
export function MateList(props: {
  readonly programId: string;
  readonly animal: NamedAnimal;
  readonly pairs: readonly WeighedPair[];
}) {
  const { programId, animal, pairs } = props;
  return (
    <ol className="mates">
      {pairs.map((pair, at) => {
        const mate = pair.sire.id === animal.id ? pair.dam : pair.sire;
        return (
          <li key={mate.id}>
            <div className="who">
              <span className="rank">{at + 1}</span>
              <h3>
                <AnimalLink programId={programId} animal={mate} />
              </h3>
              <p className="sum">
                <b>{youngWords(pair.value)}</b>
              </p>
            </div>
            <PairParts pair={pair} />
            <p>
              <b>{at === 0 ? 'Why first:' : 'Why not before:'}</b> {pair.reason}
            </p>
            <Cautions cautions={pair.cautions} />
            <PairActs
              programId={programId}
              pair={pair}
              beside={at === 0 ? null : (pairs[0] ?? null)}
            />
          </li>
        );
      })}
    </ol>
  );
}
