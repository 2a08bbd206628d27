import type { ReactNode } from 'react';
import './empty-state.css';

/** Nothing here yet, or not attainable: why, and who or what would make it possible. */
export function EmptyState(props: { readonly title: string; readonly children: ReactNode }) {
  return (
    <div className="empty">
      <h2>{props.title}</h2>
      {props.children}
    </div>
  );
}
