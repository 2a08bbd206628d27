import { useState } from 'react';
import { FaultList } from './fault-list.js';
import type { Correction, FileFault } from './import-documents.js';

/** A longer value came cut: it cannot be named, so it is mended in the file. */
const MOST_VALUE = 200;
/** A row without a code cannot come in, so a code is not left out. */
const CODE_FAULTS = ['EMPTY_CODE', 'BAD_CODE', 'DUPLICATE_CODE'];

/** Faults with room to type what should stand there; all that was typed is read at once. */
export function MendFaults(props: {
  readonly faults: readonly FileFault[];
  readonly working: boolean;
  readonly onMend: (made: readonly Correction[]) => void;
}) {
  const [typed, setTyped] = useState<ReadonlyMap<string, Correction>>(new Map());
  const type = ({ line, column, value }: FileFault, to: string | null) => {
    const next = new Map(typed);
    if (to === null) next.delete(placeOf({ line, column }));
    else next.set(placeOf({ line, column }), { line, column, from: value, to });
    setTyped(next);
  };
  // A fault that is gone, or stands for something else by now, takes what was typed with it.
  const made = [...typed.values()].filter((each) =>
    props.faults.some((fault) => isMendable(fault) && isOf(each, fault)),
  );
  return (
    <>
      <FaultList
        faults={props.faults}
        mend={(fault) => {
          if (!isMendable(fault)) return null;
          const mine = made.find((each) => isOf(each, fault));
          return (
            <div className="mend">
              <label>
                <span>
                  Read it as
                  <span className="vh">
                    {' '}
                    (line {fault.line}, {fault.column})
                  </span>
                </span>
                <input
                  autoComplete="off"
                  spellCheck={false}
                  maxLength={2000}
                  value={mine?.to ?? ''}
                  onChange={(event) => type(fault, event.target.value || null)}
                />
              </label>
              {fault.nearest.map((code) => (
                <button
                  key={code}
                  type="button"
                  className="act line"
                  onClick={() => type(fault, code)}
                >
                  {code}
                </button>
              ))}
              {!CODE_FAULTS.includes(fault.code) && (
                <button
                  type="button"
                  className="act line"
                  aria-pressed={mine?.to === ''}
                  onClick={() => type(fault, mine?.to === '' ? null : '')}
                >
                  Leave it out
                </button>
              )}
            </div>
          );
        }}
      />
      {made.length > 0 && (
        <p>
          <button
            type="button"
            className="act"
            disabled={props.working}
            onClick={() => props.onMend(made)}
          >
            Read again with {made.length === 1 ? 'this change' : `these ${made.length} changes`}
          </button>
        </p>
      )}
    </>
  );
}

/** What is wrong with the whole file, a whole row or a heading is mended in the file, or under how it is read. */
function isMendable({ code, line, column, value }: FileFault): boolean {
  return line > 0 && column !== '' && code !== 'DUPLICATE_COLUMN' && value.length <= MOST_VALUE;
}

const placeOf = ({ line, column }: { readonly line: number; readonly column: string }): string =>
  `${line} ${column}`;

function isOf(correction: Correction, fault: FileFault): boolean {
  return placeOf(correction) === placeOf(fault) && correction.from === fault.value;
}
