import {
  type ColumnMap,
  checkProgramFile,
  type FileFault,
  type ImportPlan,
  type ImportQuestion,
  type KnownProgram,
  readProgramFile,
} from '@scutewright/commands';

export interface ProgramFileInput {
  readonly bytes: Uint8Array;
  readonly known: KnownProgram;
  readonly map: Partial<ColumnMap> | undefined;
  /** Whole days since 1970-01-01. */
  readonly today: number;
}

export interface ProgramFileAnswer {
  readonly rowCount: number;
  readonly map: ColumnMap;
  readonly guesses: readonly string[];
  readonly faults: readonly FileFault[];
  readonly faultCount: number;
  readonly isBlocked: boolean;
  readonly plan: ImportPlan;
  readonly questions: readonly ImportQuestion[];
}

/** Reads a program file and compares it with itself and with what the program holds. */
export function programFileTask({ bytes, known, map, today }: ProgramFileInput): ProgramFileAnswer {
  const file = readProgramFile(bytes, { map });
  const { faults, counts, isBlocked, plan, questions } = checkProgramFile(file, known, { today });
  return {
    rowCount: file.rows.length,
    map: file.map,
    guesses: file.guesses,
    faults,
    faultCount: [...counts.values()].reduce((sum, count) => sum + count, 0),
    isBlocked,
    plan,
    questions,
  };
}
