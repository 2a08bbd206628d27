import type { ReactNode } from 'react';
import './caution.css';

/**
 * A warning where the decision is made: a bold lead, what to do, source and date. Never inside
 * a drawer. `harm` may hurt; `unknown` is what the records cannot say.
 */
export function Caution(props: {
  readonly kind: 'harm' | 'unknown';
  readonly lead: string;
  readonly children?: ReactNode;
  readonly source?: ReactNode;
}) {
  return (
    <div className={`caution ${props.kind}`} role="note">
      <svg viewBox="-16 -16 32 32" aria-hidden="true">
        <path className="plate" d="M0-14.5 12.56-7.25V7.25L0 14.5-12.56 7.25V-7.25Z" />
        {props.kind === 'harm' ? (
          <path className="mark" d="M0-8V2.5M0 5.6V9.2" />
        ) : (
          <path className="mark" d="M-6 5 5-6M-3 7.5 7.5-3M-8 0 0-8" />
        )}
      </svg>
      <div>
        <b>{props.lead}</b> {props.children}
        {props.source && <span className="src">{props.source}</span>}
      </div>
    </div>
  );
}
