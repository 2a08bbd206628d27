import type { ReactNode } from 'react';
import { Scute, type ScuteProps } from './scute.js';
import './standing.css';

/** One finding: what we hold to be so, how sure, and below it the why. */
export function Standing(props: {
  readonly name: string;
  readonly is: ReactNode;
  /** How sure, in words; the glyph beside it draws the same. */
  readonly sure: string;
  readonly sureNote?: ReactNode;
  readonly glyph: ScuteProps;
  readonly children?: ReactNode;
}) {
  return (
    <div className="standing">
      <Scute {...props.glyph} />
      <div>
        <h3>{props.name}</h3>
        <p className="is">{props.is}</p>
      </div>
      <p className="sure">
        {props.sure}
        {props.sureNote && <span>{props.sureNote}</span>}
      </p>
      <div className="under">{props.children}</div>
    </div>
  );
}
