import type { CSSProperties } from 'react';
import './skeleton.css';

/** Hatched bars that keep the height of what is being fetched. */
export function Skeleton({ lines, what }: { readonly lines: number; readonly what: string }) {
  return (
    <div className="skeleton" role="status" style={{ '--lines': lines } as CSSProperties}>
      <span className="vh">Fetching {what}</span>
    </div>
  );
}
