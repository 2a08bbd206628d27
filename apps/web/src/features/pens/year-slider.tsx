import { useId } from 'react';
import { MOST_YEARS } from './yard-time.js';

/** Now to ten years on, with what presses in each year over its mark. */
export function YearSlider(props: {
  readonly years: number;
  /** Clashes by year, from now on. */
  readonly counts: readonly number[];
  /** The day by year. */
  readonly names: readonly string[];
  readonly when: string;
  readonly onChange: (years: number) => void;
}) {
  const id = useId();
  const { years, counts, onChange } = props;
  const step = (by: number) => onChange(Math.min(MOST_YEARS, Math.max(0, years + by)));
  return (
    <div className="years">
      <label htmlFor={id}>
        Showing <b>{props.when}</b>
      </label>
      <div className="slide">
        <Step
          words="One year back"
          isOff={years === 0}
          turn="M13 3L5 10L13 17"
          go={() => step(-1)}
        />
        <div>
          <input
            id={id}
            type="range"
            min="0"
            max={MOST_YEARS}
            value={years}
            aria-valuetext={`${props.when}, ${pressWords(counts[years] ?? 0)}`}
            onChange={(event) => onChange(Number(event.target.value))}
          />
          <div className="marks" aria-hidden="true">
            {props.names.map((name, k) => (
              <span key={name} className={k === years ? 'on' : undefined}>
                <i>{counts[k] || ' '}</i>
                {k === 0 ? 'now' : <em>{name}</em>}
              </span>
            ))}
          </div>
        </div>
        <Step
          words="One year on"
          isOff={years === MOST_YEARS}
          turn="M7 3L15 10L7 17"
          go={() => step(1)}
        />
      </div>
      <p className="small soft">Over each year: how many things press then, if nothing is moved.</p>
    </div>
  );
}

export const pressWords = (count: number) =>
  count === 0 ? 'nothing presses' : count === 1 ? '1 thing presses' : `${count} things press`;

function Step(props: {
  readonly words: string;
  readonly isOff: boolean;
  readonly turn: string;
  readonly go: () => void;
}) {
  return (
    <button
      type="button"
      className="step"
      aria-label={props.words}
      aria-disabled={props.isOff}
      onClick={props.go}
    >
      <svg viewBox="0 0 20 20" aria-hidden="true">
        <path d={props.turn} />
      </svg>
    </button>
  );
}
