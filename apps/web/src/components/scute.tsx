import './scute.css';

/** A hexagon standing on its point, radius `r`, clockwise from the top. */
function hexagon(r: number): string {
  const corner = (k: number) =>
    `${(r * Math.sin((k * Math.PI) / 3)).toFixed(2)} ${(-r * Math.cos((k * Math.PI) / 3)).toFixed(2)}`;
  return `M${[0, 1, 2, 3, 4, 5].map(corner).join('L')}Z`;
}

export interface ScuteProps {
  /** Probability, 0 to 1, as the part of the ring that is filled; null: no evidence at all. */
  readonly share: number | null;
  /** Full: shows it, or settled. Half: one certain copy. Bar: not carried. */
  readonly core?: 'full' | 'half' | 'bar';
  /** Ochre for genes, moss for parents, sex and progress. */
  readonly tone?: 'trait' | 'settled';
}

/**
 * The glyph of a probability: the ring runs clockwise from the top, one side is one sixth.
 * Always with words beside it, so it is hidden from screen readers.
 */
export function Scute({ share, core, tone = 'trait' }: ScuteProps) {
  return (
    <svg className={`scute ${tone}`} viewBox="-16 -16 32 32" aria-hidden="true">
      {share === null ? (
        <>
          <path className="un" d={hexagon(13.4)} />
          <path className="un hatching" d="M-7 5L5 -7M-4 8L8 -4M-8.5 -1L-1 -8.5M1 8.5L8.5 1" />
        </>
      ) : (
        <>
          <path className="ol" d={hexagon(15)} />
          <path className="tr" d={hexagon(8.4)} />
          {share > 0 && (
            <path
              className="ar"
              pathLength="600"
              strokeDasharray={share < 1 ? `${Math.round(600 * share)} 600` : undefined}
              d={hexagon(11.7)}
            />
          )}
          {core === 'full' && <path className="co" d={hexagon(7.4)} />}
          {core === 'half' && <path className="co" d="M0 -6.4L0 6.4L-5.54 3.2L-5.54 -3.2Z" />}
          {core === 'bar' && <path className="ol" d="M-4.6 0H4.6" />}
        </>
      )}
    </svg>
  );
}
