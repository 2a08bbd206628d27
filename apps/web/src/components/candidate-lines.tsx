import type { CSSProperties, ReactNode } from 'react';
import { chanceWords } from '../lib/chance-words.js';
import './candidate-lines.css';

export interface CandidateLine {
  readonly key: string;
  readonly who: ReactNode;
  /** 0 to 1; the lines of one list sum to 1. */
  readonly probability: number;
  /** One that stands for somebody nobody recorded: drawn dashed. */
  readonly unrecorded?: boolean;
}

/** Possible parents, each a line whose length and weight are its probability. */
export function CandidateLines({ lines }: { readonly lines: readonly CandidateLine[] }) {
  return (
    <ul className="candidates">
      {lines.map(({ key, who, probability, unrecorded }) => (
        <li key={key}>
          <span>{who}</span>
          <span className="track" aria-hidden="true">
            <span
              className={unrecorded ? 'line unrecorded' : 'line'}
              style={
                {
                  '--share': `${probability * 100}%`,
                  '--weight': `${4 + Math.round(12 * probability)}px`,
                } as CSSProperties
              }
            />
          </span>
          <span className="chance">{chanceWords(probability)}</span>
        </li>
      ))}
    </ul>
  );
}
