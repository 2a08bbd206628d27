import { Link } from 'react-router';
import { AnimalLink } from '../../components/animal-link.js';
import { Cautions } from '../../components/cautions.js';
import { addresses } from '../../lib/addresses.js';
import type { NamedAnimal } from '../../lib/answer-fragments.js';
import { inbreedingWords } from '../../lib/chance-words.js';
import type { Suggestion } from './pairing-documents.js';

/** `1.8 young`, `under 0.1 young`, `no young`. */
export function youngWords(value: number): string {
  if (value <= 0) return 'no young';
  return value < 0.1 ? 'under 0.1 young' : `${value.toFixed(1)} young`;
}

/** Mates by rank, each with the parts of its figure, a sentence, cautions, and the way to the odds. */
export function MateList(props: {
  readonly programId: string;
  readonly animal: NamedAnimal;
  readonly suggestions: readonly Suggestion[];
}) {
  const { programId, animal } = props;
  return (
    <ol className="mates">
      {props.suggestions.map((one, at) => {
        const isMale = one.mate.sex.sex === 'MALE';
        const [sire, dam] = isMale ? [one.mate, animal] : [animal, one.mate];
        return (
          <li key={one.mate.id}>
            <div className="who">
              <span className="rank">{at + 1}</span>
              <h3>
                <AnimalLink programId={programId} animal={one.mate} />
              </h3>
              <p className="sum">
                <b>{youngWords(one.value)}</b>
              </p>
            </div>
            <ul className="parts" aria-label="The parts of the figure">
              <li>
                <b>{Number(one.parts.eggs.toFixed(1))} eggs</b> a season
              </li>
              <Part words="fertile" share={one.parts.fertility} />
              <Part words="of those hatch" share={one.parts.hatch} />
              <Part
                words={`left by F ${inbreedingWords(one.F)}`}
                share={one.parts.inbreedingSurvival}
              />
              <Part words="of the sought kind" share={one.parts.target} />
            </ul>
            <p>{one.sentence}</p>
            <Cautions cautions={one.cautions} />
            <p>
              <Link to={addresses.odds(programId, sire.code, dam.code)}>
                What their eggs can be
                <span className="vh">
                  : {sire.code} with {dam.code}
                </span>
              </Link>
            </p>
          </li>
        );
      })}
    </ol>
  );
}

/** A part of the figure as so many of twenty, drawn as a bar. */
function Part(props: { readonly words: string; readonly share: number }) {
  const ofTwenty = props.share * 20;
  const words = ofTwenty > 0 && ofTwenty < 0.1 ? 'under 0.1' : Number(ofTwenty.toFixed(1));
  return (
    <li>
      <b>{words} of 20</b> {props.words}
      <span className="bar" aria-hidden="true">
        <span style={{ width: `${Math.min(100, props.share * 100)}%` }} />
      </span>
    </li>
  );
}
