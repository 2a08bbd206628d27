import type { ProgramRow } from '@scutewright/commands';

/** Ids by the name that a file uses. */
export interface Ids {
  readonly animals: Map<string, string>;
  readonly clutches: Map<string, string>;
  readonly clutchOf: Map<string, string>;
  readonly traits: Map<string, string>;
  readonly loci: Map<string, string>;
  readonly pens: Map<string, string>;
}

/** A row to be written, of a new animal or of one that is there. */
export interface Entry {
  readonly row: ProgramRow;
  readonly id: string;
  readonly isNew: boolean;
  /** What changes of an animal that is there; null for a new one, of which everything is written. */
  readonly fields: ReadonlySet<string> | null;
}

export function brings(entry: Entry, field: string): boolean {
  return entry.fields === null || entry.fields.has(field);
}
