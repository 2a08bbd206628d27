import { type ReactNode, useContext, useEffect } from 'react';
import { ProgramContext } from '../lib/program-context.js';
import './opening.css';
import { PrintedPage } from './printed-page.js';

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
  const program = useContext(ProgramContext);
  return (
    <div className="opening">
      {program && <PrintedPage program={program.name} title={title} isDemo={program.isDemo} />}
      {trail && <p className="trail">{trail}</p>}
      <h1>{heading ?? title}</h1>
      {sentence && <p className="sentence">{sentence}</p>}
      {children}
      {acts && <div className="acts">{acts}</div>}
    </div>
  );
}
