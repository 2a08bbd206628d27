import { MOST_ROWS } from './program-row.js';

/** One thing in a file that its owner should know of, with its place. */
export interface FileFault {
  /** Stable upper-case word, for example `UNKNOWN_PARENT`. */
  readonly code: string;
  /** A fatal fault must be mended before anything is written; any other only has to be seen. */
  readonly isFatal: boolean;
  /** Line of the file, from 1; 0 where the fault is about the whole file. */
  readonly line: number;
  /** The heading as it stands in the file; empty where no single column is meant. */
  readonly column: string;
  /** What stands there, cut after 200 characters. */
  readonly value: string;
  readonly message: string;
  readonly remedy: string;
  /** What may have been meant in place of the value, best first; left out where nothing is near. */
  readonly nearest?: readonly string[];
}

/** Faults of one code that are listed at most; all are counted. */
export const MOST_LISTED = 1_000;
const MOST_VALUE = 200;
/** Faulty cells that are kept in mind; in a file with more, what follows from the others is reported too. */
const MOST_CELLS = 200_000;

/** Collects faults, one per cell: once a cell is faulty, what follows from it is not reported again. */
export class FileFaults {
  readonly list: FileFault[] = [];
  /** How many there are of each code, also those beyond `MOST_LISTED`. */
  readonly counts = new Map<string, number>();
  readonly #cells = new Set<string>();
  #fatal = 0;

  /** Starts with those of `earlier`, which stays as it is. */
  constructor(earlier?: FileFaults) {
    if (!earlier) return;
    for (const fault of earlier.list) this.list.push(fault);
    for (const [code, count] of earlier.counts) this.counts.set(code, count);
    for (const cell of earlier.#cells) this.#cells.add(cell);
    this.#fatal = earlier.#fatal;
  }

  get hasFatal(): boolean {
    return this.#fatal > 0;
  }

  add(fault: FileFault): void {
    if (fault.column !== '') {
      const cell = cellKey(fault.line, fault.column);
      if (this.#cells.has(cell)) return;
      if (this.#cells.size < MOST_CELLS) this.#cells.add(cell);
    }
    const count = (this.counts.get(fault.code) ?? 0) + 1;
    this.counts.set(fault.code, count);
    if (fault.isFatal) this.#fatal++;
    if (count > MOST_LISTED) return;
    this.list.push(
      fault.value.length > MOST_VALUE
        ? { ...fault, value: `${fault.value.slice(0, MOST_VALUE)}…` }
        : fault,
    );
  }

  /** Whether so many of this code are listed that more are only counted: their words may be spared. */
  isFull(code: string): boolean {
    return (this.counts.get(code) ?? 0) >= MOST_LISTED;
  }

  /** A fatal fault of the file as a whole. */
  addWhole(code: string, message: string, remedy: string): void {
    this.add({ code, isFatal: true, line: 0, column: '', value: '', message, remedy });
  }

  isFaulty(line: number, column: string): boolean {
    return this.#cells.has(cellKey(line, column));
  }
}

function cellKey(line: number, column: string): string {
  return `${line}\u0000${column}`;
}

/** What is wrong inside one cell; the reader of the row adds the place. */
export class CellFault {
  constructor(
    readonly code: string,
    readonly message: string,
    readonly remedy: string,
  ) {}
}

export const TOO_MANY_ROWS = [
  'TOO_MANY_ROWS',
  `The file has more than ${MOST_ROWS} rows.`,
  'Split it into several files and read the oldest animals first.',
] as const;
