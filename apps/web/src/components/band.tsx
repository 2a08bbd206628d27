import { type ReactNode, useId } from 'react';
import './band.css';

/** A part of a page: a hairline, a margin that names it, a body that shows it. */
export function Band(props: {
  readonly title: string;
  /** One line under the name: how to read what the body shows. */
  readonly note?: ReactNode;
  readonly children: ReactNode;
}) {
  const id = useId();
  return (
    <section className="band" aria-labelledby={id}>
      <div className="mar">
        <h2 id={id}>{props.title}</h2>
        {props.note && <p>{props.note}</p>}
      </div>
      <div className="body">{props.children}</div>
    </section>
  );
}
