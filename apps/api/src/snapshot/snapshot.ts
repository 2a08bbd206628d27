import type { Origin, Sex } from '@scutewright/commands';

/** No day known, in the day columns. */
export const NO_DAY = -2147483648;
/** No such row, in the position columns. */
export const NONE = -1;

/**
 * The records of one program at one revision, as columns. Rows are in the order of their
 * codes; positions 0..n-1 stand for animals and clutches everywhere behind the API's
 * border. Numbers lie on shared memory, so that worker threads read them without a copy.
 * Never changed: a later revision gets a snapshot of its own.
 */
export interface Snapshot {
  readonly programId: string;
  readonly programName: string;
  readonly isDemo: boolean;
  readonly revision: number;
  readonly animals: AnimalColumns;
  readonly clutches: ClutchColumns;
  readonly sires: CandidateColumns;
  readonly dams: CandidateColumns;
  /** Sex records, by animal position, oldest first. */
  readonly sexRecords: ReadonlyMap<number, readonly SexRecord[]>;
}

export interface AnimalColumns {
  readonly count: number;
  readonly ids: readonly string[];
  readonly codes: readonly string[];
  readonly names: readonly (string | null)[];
  readonly species: readonly string[];
  readonly origins: readonly Origin[];
  readonly hatched: readonly (string | null)[];
  /** Days since 1970-01-01; NO_DAY where nothing is known. */
  readonly hatchedEarliest: Int32Array;
  readonly hatchedLatest: Int32Array;
  /** Position of the clutch it hatched from; NONE for a founder. */
  readonly clutch: Int32Array;
  readonly positionById: ReadonlyMap<string, number>;
  readonly positionByCode: ReadonlyMap<string, number>;
}

export interface ClutchColumns {
  readonly count: number;
  readonly ids: readonly string[];
  readonly codes: readonly (string | null)[];
  readonly laid: readonly (string | null)[];
  readonly paternities: readonly ('ONE_SIRE' | 'EACH_OWN_SIRE' | 'MIXED' | 'TWO_SIRES')[];
  /** NaN where the paternity has no rate. */
  readonly rates: Float64Array;
}

/** Candidates of clutch c stand at `from[c] .. from[c + 1] - 1`, most probable first. */
export interface CandidateColumns {
  readonly from: Int32Array;
  readonly animal: Int32Array;
  readonly probability: Float64Array;
  readonly basis: readonly string[];
}

export interface SexRecord {
  readonly id: string;
  readonly sex: Sex;
  readonly date: string | null;
  readonly method: string | null;
}

export function sharedInt32(values: ArrayLike<number>): Int32Array {
  const column = new Int32Array(new SharedArrayBuffer(values.length * 4));
  column.set(values);
  return column;
}

export function sharedFloat64(values: ArrayLike<number>): Float64Array {
  const column = new Float64Array(new SharedArrayBuffer(values.length * 8));
  column.set(values);
  return column;
}
