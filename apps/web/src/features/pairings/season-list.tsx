import { AnimalLink } from '../../components/animal-link.js';
import { Cautions } from '../../components/cautions.js';
import type { WeighedPair } from './pairing-documents.js';
import { PairActs, PairParts, youngWords } from './weighed-pair.js';

/** The best male of each female, best first, with the next best for her and why he is second. */
export function SeasonList(props: {
  readonly programId: string;
  readonly pairs: readonly { readonly pair: WeighedPair; readonly next: WeighedPair | null }[];
}) {
  const { programId, pairs } = props;
  return (
    <ol className="mates">
      {pairs.map(({ pair, next }, at) => (
        <li key={pair.dam.id}>
          <div className="who">
            <span className="rank">{at + 1}</span>
            <h3>
              <AnimalLink programId={programId} animal={pair.sire} />{' '}
              <span className="soft">with</span>{' '}
              <AnimalLink programId={programId} animal={pair.dam} />
            </h3>
            <p className="sum">
              <b>{youngWords(pair.value)}</b>
            </p>
          </div>
          <PairParts pair={pair} />
          <p>
            <b>{at === 0 ? 'Why first:' : 'Why not before:'}</b> {pair.reason}
          </p>
          {next && (
            <p>
              <b>Why not {next.sire.code} for her:</b> {youngWords(next.value)}. {next.reason}
            </p>
          )}
          <Cautions cautions={pair.cautions} />
          <PairActs programId={programId} pair={pair} beside={next} />
        </li>
      ))}
    </ol>
  );
}
