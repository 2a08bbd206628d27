import type { ReactNode } from 'react';
import { dayWords, timeWords } from '../lib/date-words.js';
import './command-list.css';

/** One act of one person, as the history tells it. */
export interface CommandLine {
  readonly id: string;
  readonly sentence: string;
  /** Instant, ISO 8601. */
  readonly at: string;
  readonly by: string;
  readonly undone: boolean;
}

/** Acts, newest first: what, who, when; an undone one is struck through and says so. */
export function CommandList<Line extends CommandLine>(props: {
  readonly commands: readonly Line[];
  /** Stands under and beside a line: what changed, and Undo. */
  readonly more?: (command: Line) => ReactNode;
  /** The day is named above the list already. */
  readonly timeOnly?: boolean;
}) {
  return (
    <ol className="commands">
      {props.commands.map((command) => (
        <li key={command.id}>
          <p>
            {command.undone ? (
              <>
                <s>{command.sentence}</s> <b className="undone">undone</b>
              </>
            ) : (
              command.sentence
            )}
            <span className="src">
              {command.by}, {!props.timeOnly && `${dayWords(command.at)}, `}
              {timeWords(command.at)}
            </span>
          </p>
          {props.more?.(command)}
        </li>
      ))}
    </ol>
  );
}
