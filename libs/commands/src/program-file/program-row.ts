import type { PartialDate } from '@scutewright/basics';

/** The columns of a program file, in the order in which they are written. Only `code` is needed. */
export const FIELDS = [
  'code',
  'name',
  'species',
  'sex',
  'hatched',
  'sire',
  'dam',
  'clutch',
  'traits',
  'genotype',
  'pen',
  'scl_mm',
  'mass_g',
  'notes',
] as const;
export type Field = (typeof FIELDS)[number];

/** One possible parent as a file names it. */
export interface NamedParent {
  readonly code: string;
  /** Over 0 up to 1; null where the file gives none: such candidates share what is left evenly. */
  readonly probability: number | null;
}

/** What somebody declared of an animal at one locus: two alleles, or one where it has only one copy. */
export interface DeclaredGenotype {
  readonly locus: string;
  readonly alleles: readonly string[];
}

/** One animal as a program file tells it. Null and the empty list stand for an empty cell: nothing said. */
export interface ProgramRow {
  readonly code: string;
  readonly name: string | null;
  readonly species: string | null;
  readonly sex: 'm' | 'f' | null;
  readonly hatched: PartialDate | null;
  /** What the probabilities lack to 1 is a male nobody recorded. */
  readonly sires: readonly NamedParent[];
  readonly dams: readonly NamedParent[];
  /** Animals of one clutch come from one laying and share its parents, also uncertain ones. */
  readonly clutch: string | null;
  /** Traits seen; null: not looked at; empty: looked at and shows none of those in `absent`. */
  readonly traits: readonly string[] | null;
  /** Traits looked for and not seen. Empty: where none is seen, every trait was looked for; else only the seen ones. */
  readonly absent: readonly string[];
  readonly genotype: readonly DeclaredGenotype[];
  readonly pen: string | null;
  /** Straight carapace length in millimetres. */
  readonly sclMm: number | null;
  /** Mass in grams. */
  readonly massG: number | null;
  readonly notes: string | null;
}

/** Stands before a trait that was looked for and not seen: no trait's own name begins with it. */
export const NOT = 'not ';

/** Traits that a look did not find, by name: of `all` there are where it found none and names none. */
export function absentTraits(
  { traits, absent }: Pick<ProgramRow, 'traits' | 'absent'>,
  all: Iterable<string>,
): readonly string[] {
  return traits?.length === 0 && absent.length === 0 ? [...all] : absent;
}

/** A row with the line of the file on which it starts (the first line is 1). */
export interface FileRow extends ProgramRow {
  readonly line: number;
}

/** A file of more rows is refused with the remedy to split it. */
export const MOST_ROWS = 500_000;
