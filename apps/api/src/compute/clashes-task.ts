import { clashingRecords, type ProgramInput, readProgram } from '@scutewright/inference';

export interface Clashes {
  /** Smallest sets of records, by id, that cannot all be true. */
  readonly sets: readonly (readonly string[])[];
  /** False where there may be more. */
  readonly complete: boolean;
}

/** Sets that are looked for at most: a person mends a few at a time. */
const MOST_SETS = 20;

/** Which records of a program cannot all be true, and nothing else: far cheaper than who carries what. */
export function clashesTask(input: ProgramInput): Clashes {
  const { program, records } = readProgram(input);
  const { sets, complete } = clashingRecords(program, MOST_SETS);
  return { sets: sets.map((set) => set.map((record) => records[record])), complete };
}
