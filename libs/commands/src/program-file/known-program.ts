import type { LocusInput } from '@scutewright/genetics';
import type { NamedParent, ProgramRow } from './program-row.js';

/** A clutch that has parents of its own, also when no animal of it is recorded. */
export interface KnownClutch {
  readonly code: string;
  readonly sires: readonly NamedParent[];
  readonly dams: readonly NamedParent[];
}

/** What the program holds before the import: its animals as an export would write them, and its definitions. */
export interface KnownProgram {
  readonly animals: readonly ProgramRow[];
  readonly clutches: readonly KnownClutch[];
  /** Names of the traits, as files write them. */
  readonly traits: readonly string[];
  readonly loci: readonly LocusInput[];
  readonly pens: readonly string[];
  readonly species: readonly string[];
}

export const EMPTY_PROGRAM: KnownProgram = {
  animals: [],
  clutches: [],
  traits: [],
  loci: [],
  pens: [],
  species: [],
};
