import { type ReactNode, useEffect } from 'react';
import './opening.css';

export interface OpeningProps {
  /** Plain text for the browser's tab, and the page's heading unless `heading` is given. */
  readonly title: string;
  readonly heading?: ReactNode;
  /** A way back, above the heading. */
  readonly trail?: ReactNode;
  /** The answer in one plain sentence, set large. */
  readonly sentence?: ReactNode;
  /** A drawing beside the opening on wide screens. */
  readonly children?: ReactNode;
  readonly acts?: ReactNode;
}

/** How every page begins: a quiet title, then one sentence that is the answer, then what to do. */
export function Opening({ title, heading, trail, sentence, children, acts }: OpeningProps) {
  useEffect(() => {
    document.title = `${title} - Scutewright`;
  }, [title]);
  return (
    <div className="opening">
      {trail && <p className="trail">{trail}</p>}
      <h1>{heading ?? title}</h1>
      {sentence && <p className="sentence">{sentence}</p>}
      {children}
      {acts && <div className="acts">{acts}</div>}
    </div>
  );
}
