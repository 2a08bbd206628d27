import { type ReactNode, useCallback, useState } from 'react';
import { type DoneAct, DoneContext } from '../lib/done-context.js';
import { useUndo } from '../lib/use-undo.js';

/**
 * After each act: what was done, and Undo. It stays until closed or until the next act, so that
 * nobody has to be quick.
 */
export function DoneNotice(props: { readonly programId: string; readonly children: ReactNode }) {
  const [act, setAct] = useState<DoneAct | null>(null);
  const { undo, undoing } = useUndo(props.programId);
  const tell = useCallback((done: DoneAct) => setAct(done), []);
  const takeBack = async (commandId: string) => {
    const outcome = await undo(commandId);
    setAct({ sentence: outcome.words });
  };
  return (
    <DoneContext value={tell}>
      {props.children}
      <div role="status">
        {act && (
          <div className="done">
            <p>{act.sentence}</p>
            {act.commandId !== undefined && (
              <button
                type="button"
                disabled={undoing}
                onClick={() => act.commandId && takeBack(act.commandId)}
              >
                Undo
              </button>
            )}
            <button type="button" className="close" onClick={() => setAct(null)}>
              Close
            </button>
          </div>
        )}
      </div>
    </DoneContext>
  );
}
