import type { CSSProperties } from 'react';
import './completeness-bars.css';

const NAMES = ['parents', 'grandparents', 'great-grandparents'];

/** How much of each generation of forebears is recorded, nearest first; the rest is hatched. */
export function CompletenessBars({ shares }: { readonly shares: readonly number[] }) {
  return (
    <table className="completeness">
      <caption className="vh">Part of each generation that is recorded</caption>
      <thead className="vh">
        <tr>
          <th scope="col">Generation</th>
          <th scope="col">Drawn</th>
          <th scope="col">Recorded</th>
        </tr>
      </thead>
      <tbody>
        {shares.map((share, generation) => (
          // A generation is its place in the list: the list never changes order.
          <tr key={NAMES[generation] ?? generation}>
            <th scope="row">{NAMES[generation] ?? `${generation + 1} generations back`}</th>
            <td>
              <span
                className="hatched-bar"
                style={{ '--share': `${share * 100}%` } as CSSProperties}
              />
            </td>
            <td className="num">{recordedWords(share)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** `none`, `60 in 100`, `all`; neither end by rounding. */
function recordedWords(share: number): string {
  if (share <= 0) return 'none';
  if (share >= 1) return 'all';
  return `${Math.min(99, Math.max(1, Math.round(share * 100)))} in 100`;
}
