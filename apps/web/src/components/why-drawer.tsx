import { type ReactNode, useState } from 'react';
import './why-drawer.css';

/** Opens in place: what a figure rests on, what is assumed, what would change it most. */
export function WhyDrawer(props: {
  /** Of what, for those who hear the page: 'Why', and after it 'father'. */
  readonly of: string;
  readonly label?: string;
  /** A function is called when the drawer is first opened: what is dear to compute waits for that. */
  readonly children: ReactNode | (() => ReactNode);
}) {
  const { children } = props;
  const [wasOpened, setOpened] = useState(false);
  return (
    <details className="why" onToggle={() => setOpened(true)}>
      <summary>
        {props.label ?? 'Why'}
        <span className="vh">: {props.of}</span>
      </summary>
      <div className="in">
        {typeof children === 'function' ? wasOpened && children() : children}
      </div>
    </details>
  );
}

/** A part of the drawer under its own small name. */
export function WhyPart(props: { readonly name: string; readonly children: ReactNode }) {
  return (
    <div className="part">
      <p className="part-name">{props.name}</p>
      {props.children}
    </div>
  );
}

export interface Evidence {
  readonly key: string;
  readonly finding: ReactNode;
  /** Where it comes from, and when. */
  readonly source?: ReactNode;
  /** The probability it led to, from which one. */
  readonly moved?: ReactNode;
}

/** The records a figure rests on, one line each. */
export function EvidenceList({ lines }: { readonly lines: readonly Evidence[] }) {
  return (
    <ul className="evidence">
      {lines.map((line) => (
        <li key={line.key}>
          <span>{line.finding}</span>
          <span className="moved">{line.moved}</span>
          {line.source && <span className="src">{line.source}</span>}
        </li>
      ))}
    </ul>
  );
}
