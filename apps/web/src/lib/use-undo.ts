import { graphql } from './graphql.js';
import { useAct } from './use-act.js';

const Undo = graphql(`
  mutation Undo($programId: ID!, $input: UndoInput!) {
    undo(programId: $programId, input: $input) {
      command {
        id
        sentence
      }
      program {
        id
        revision
        animalCount
      }
    }
  }
`);

/** Takes an act back, or says in words which later change stands in the way. */
export function useUndo(programId: string) {
  const { run, running } = useAct(Undo);
  const undo = async (undoes: string): Promise<{ done: boolean; words: string }> => {
    const outcome = await run((commandId) => ({ programId, input: { commandId, undoes } }));
    if (outcome.done) return { done: true, words: outcome.data.undo.command.sentence };
    const words = outcome.faults.map(({ message, remedy }) => `${message} ${remedy ?? ''}`);
    return { done: false, words: words.join(' ').trim() };
  };
  return { undo, undoing: running };
}
