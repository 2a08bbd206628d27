import { newCommandId } from '../../lib/command-id.js';
import { useTellDone } from '../../lib/done-context.js';
import type { VariablesOf } from '../../lib/graphql.js';
import { RecordEntries } from '../../lib/record-entries.js';
import { useAct } from '../../lib/use-act.js';

type Entry = VariablesOf<typeof RecordEntries>['input']['entries'][number];
/** An entry without its id; `idAs` names it, where a later one speaks of what it makes. */
export type TellingEntry = Omit<Entry, 'id'> & { readonly id?: string };

/** Writes entries in order; answers what was refused, in words, or null. */
export function useTell(programId: string) {
  const { run, running } = useAct(RecordEntries);
  const tellDone = useTellDone();
  const tell = async (entries: readonly TellingEntry[], say: boolean): Promise<string | null> => {
    const named = entries.map((entry) => ({ ...entry, id: entry.id ?? newCommandId() }));
    const outcome = await run(() => ({ programId, input: { entries: named } }));
    if (!outcome.done) {
      return outcome.faults.map(({ message, remedy }) => `${message} ${remedy ?? ''}`).join(' ');
    }
    const { answers } = outcome.data.recordEntries;
    const refused = answers.filter(({ state }) => state === 'NEEDS_DECISION');
    if (refused.length > 0) {
      return refused.map(({ sentence, remedy }) => `${sentence} ${remedy ?? ''}`).join(' ');
    }
    const last = answers.at(-1);
    if (say && last) tellDone({ sentence: last.sentence, commandId: last.id });
    return null;
  };
  return { tell, running };
}

/** `2006` or `about 2006` as a rough date; empty where nothing was typed; null where it is no year. */
export function roughYear(typed: string): string | null {
  const text = typed.trim().replace(/^(about|around|~)\s*/i, '');
  if (text === '') return '';
  return /^(18|19|20|21)\d\d$/.test(text) ? text : null;
}
