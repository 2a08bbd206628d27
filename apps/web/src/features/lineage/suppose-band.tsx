import { useSearchParams } from 'react-router';
import { AnimalFinder } from '../../components/animal-finder.js';
import { Band } from '../../components/band.js';
import { WhatIf } from '../../components/what-if.js';
import { chanceWords } from '../../lib/chance-words.js';
import type { LineageAnswer } from './lineage-documents.js';

const NOBODY = 'nobody';
/** Room for a father beside those named, and clutch mates that may have another than he. */
const OTHER = 'other';
/** Fathers offered by a button; any other is found by name. */
const MOST_OFFERED = 6;

/** 'Suppose M4 is the father': what would follow, beside what is now. The address says what is supposed. */
export function SupposeBand(props: {
  readonly programId: string;
  readonly lineage: LineageAnswer;
}) {
  const { animal, fathers } = props.lineage;
  const [params, setParams] = useSearchParams();
  const supposed = params.get('suppose');
  const suppose = (father: string | null) =>
    setParams(
      (now) => {
        if (father === null) now.delete('suppose');
        else now.set('suppose', father);
        return now;
      },
      { replace: true, preventScrollReset: true },
    );
  const offered = fathers.slice(0, MOST_OFFERED);
  return (
    <Band
      title="What if"
      note="Suppose another father. Nothing is written; what would change stands beside what is now."
    >
      {offered.length > 0 && (
        <ul className="suppose-list">
          {offered.map((father) => {
            const value = father.animal?.id ?? NOBODY;
            return (
              <li key={value}>
                <button
                  type="button"
                  className="act line"
                  aria-pressed={supposed === value}
                  onClick={() => suppose(supposed === value ? null : value)}
                >
                  {father.animal ? father.animal.code : 'A male nobody recorded'}{' '}
                  <span className="soft">{chanceWords(father.after)}</span>
                </button>
              </li>
            );
          })}
        </ul>
      )}
      <p>
        <button
          type="button"
          className="act line"
          aria-pressed={supposed === OTHER}
          onClick={() => suppose(supposed === OTHER ? null : OTHER)}
        >
          Another than its clutch mates
        </button>
      </p>
      <div className="onecol">
        <AnimalFinder
          id="suppose-father"
          programId={props.programId}
          label={`Suppose this is the father of ${animal.code}`}
          placeholder="Code or name of a male"
          isOut={(one) => one.sex.sex === 'FEMALE' || one.id === animal.id}
          onPick={(one) => suppose(one.id)}
        />
      </div>
      {supposed && (
        <WhatIf
          key={supposed}
          supposition={
            supposed === OTHER
              ? { kind: 'OTHER_FATHER', animalId: animal.id }
              : {
                  kind: 'FATHER',
                  animalId: animal.id,
                  fatherId: supposed === NOBODY ? null : supposed,
                }
          }
          act="Write it so"
          onClose={() => suppose(null)}
        />
      )}
    </Band>
  );
}
