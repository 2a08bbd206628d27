import { dotsOfFifty } from '../lib/dots-of-fifty.js';
import './clutch-plot.css';

/** Height of the tallest column, and of a dot where there is room. */
const TALLEST = 340;
const DOT = 19.5;
/** Units of the drawing for a rem: it grows with the type of the theme. */
const ROOT = 17;

/**
 * Fifty clutches like this one, each a dot over the number of sought young in it.
 * `exactly[k]` is the probability of k.
 */
export function ClutchPlot(props: {
  readonly exactly: readonly number[];
  /** What is counted: `pale young in a clutch of 12`. */
  readonly what: string;
}) {
  const dots = dotsOfFifty(props.exactly);
  const last = dots.findLastIndex((n) => n > 0);
  const shown = dots.slice(0, last + 1).map((n, count) => ({ n, count }));
  const highest = Math.max(...shown.map(({ n }) => n));
  const step = Math.min(DOT, TALLEST / highest);
  const columnWidth = Math.max(24, Math.min(52, 380 / shown.length));
  const width = Math.max(200, columnWidth * shown.length + 24);
  const ground = highest * step + 34;
  const said = shown
    .map(({ n, count }) => (n > 0 ? `${n} with ${count}` : ''))
    .filter(Boolean)
    .join(', ');
  return (
    <figure className="clutch-plot">
      <svg
        viewBox={`0 0 ${width} ${ground + 56}`}
        style={{ maxWidth: `${width / ROOT}rem` }}
        role="img"
        aria-label={`Of 50 clutches: ${said} ${props.what}`}
      >
        {shown.map(({ n, count }) => {
          const x = 12 + columnWidth * (count + 0.5);
          return (
            <g key={count} className={count === 0 ? 'none' : undefined}>
              {Array.from({ length: n }, (_, k) => k).map((k) => (
                <circle key={k} cx={x} cy={ground - 12 - k * step} r={step * 0.42} />
              ))}
              {n > 0 && (
                <text className="soft" x={x} y={ground - 8 - n * step} textAnchor="middle">
                  {n}
                </text>
              )}
              <text className="count" x={x} y={ground + 20} textAnchor="middle">
                {count}
              </text>
            </g>
          );
        })}
        <path className="ground" d={`M0 ${ground}H${width}`} />
        <text className="soft" x={width / 2} y={ground + 46} textAnchor="middle">
          {props.what}
        </text>
      </svg>
      <figcaption>Each dot is one of 50 clutches like this one.</figcaption>
    </figure>
  );
}
