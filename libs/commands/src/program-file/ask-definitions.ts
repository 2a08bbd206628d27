import { nearest } from '@scutewright/basics';
import type { LocusInput } from '@scutewright/genetics';
import type { FoundLocus } from './check-genotypes.js';
import type { FileFaults } from './file-fault.js';
import { guessInheritance, type TraitProposal } from './guess-inheritance.js';
import type { KnownProgram } from './known-program.js';
import type { FileRow } from './program-row.js';

interface Named {
  readonly name: string;
  /** Rows of the file that name it. */
  readonly animals: number;
  readonly firstLine: number;
  /** Known names that it may be a slip for, best first. */
  readonly nearest: readonly string[];
}

/** Something the file names and the program does not know: asked before it is made. */
export type ImportQuestion =
  | (Named & { readonly kind: 'TRAIT'; readonly proposal: TraitProposal })
  | (Named & { readonly kind: 'LOCUS'; readonly proposal: LocusInput })
  | (Named & { readonly kind: 'PEN' })
  | (Named & { readonly kind: 'SPECIES' })
  | {
      /** New animals without a species; the proposal is the commonest of the file, else the program's only one. */
      readonly kind: 'NO_SPECIES';
      readonly animals: number;
      readonly firstLine: number;
      readonly proposal: string | null;
    };

/** Names of one kind that are asked about at most; more are a fault: the column holds something else. */
export const MOST_QUESTIONS = 500;

/** All that has to be asked about `rows`, loci first, since traits rest on them. Adds `TOO_MANY_NAMES`. */
export function askDefinitions(
  rows: readonly FileRow[],
  known: KnownProgram,
  found: ReadonlyMap<string, FoundLocus>,
  faults: FileFaults,
): ImportQuestion[] {
  const questions: ImportQuestion[] = [];
  const locusNames = known.loci.map((locus) => locus.id);
  const loci = fewEnough([...found], 'loci', faults);
  for (const [name, { locus, animals, firstLine }] of loci) {
    const near = nearest(name, locusNames);
    questions.push({ kind: 'LOCUS', name, animals, firstLine, nearest: near, proposal: locus });
  }
  const traits = unknownNames(
    rows,
    (row) =>
      row.absent.length > 0 ? [...(row.traits ?? []), ...row.absent] : (row.traits ?? NOTHING),
    known.traits,
    'traits',
    faults,
  );
  const proposals = guessInheritance(
    traits.map((trait) => trait.name),
    rows,
    [...known.loci, ...loci.map(([, { locus }]) => locus)],
  );
  for (const trait of traits) {
    questions.push({ kind: 'TRAIT', ...trait, proposal: proposals.get(trait.name)! });
  }
  const pens = unknownNames(
    rows,
    (row) => (row.pen === null ? NOTHING : [row.pen]),
    known.pens,
    'pens',
    faults,
  );
  for (const pen of pens) questions.push({ kind: 'PEN', ...pen });
  const species = unknownNames(
    rows,
    (row) => (row.species === null ? NOTHING : [row.species]),
    known.species,
    'species',
    faults,
  );
  for (const each of species) questions.push({ kind: 'SPECIES', ...each });
  const missing = askSpecies(rows, known);
  if (missing) questions.push(missing);
  return questions;
}
const NOTHING: readonly string[] = [];

function unknownNames(
  rows: readonly FileRow[],
  namesOf: (row: FileRow) => readonly string[],
  known: readonly string[],
  what: string,
  faults: FileFaults,
): Named[] {
  const names = new Set(known);
  const found = new Map<string, { animals: number; firstLine: number }>();
  for (const row of rows) {
    for (const name of namesOf(row)) {
      if (names.has(name)) continue;
      const entry = found.get(name);
      if (entry) entry.animals++;
      else found.set(name, { animals: 1, firstLine: row.line });
    }
  }
  return fewEnough([...found], what, faults).map(([name, { animals, firstLine }]) => ({
    name,
    animals,
    firstLine,
    nearest: nearest(name, known),
  }));
}

function fewEnough<Item>(items: Item[], what: string, faults: FileFaults): Item[] {
  if (items.length <= MOST_QUESTIONS) return items;
  faults.addWhole(
    'TOO_MANY_NAMES',
    `The file names ${items.length} ${what} that the program does not know.`,
    `At most ${MOST_QUESTIONS} can be made with one file: is the right column mapped?`,
  );
  return items.slice(0, MOST_QUESTIONS);
}

function askSpecies(rows: readonly FileRow[], known: KnownProgram): ImportQuestion | null {
  const codes = new Set(known.animals.map((animal) => animal.code));
  const without = rows.filter((row) => row.species === null && !codes.has(row.code));
  if (without.length === 0) return null;
  const counts = new Map<string, number>();
  for (const { species } of rows) {
    if (species !== null) counts.set(species, (counts.get(species) ?? 0) + 1);
  }
  const common = [...counts].sort((a, b) => b[1] - a[1])[0]?.[0];
  const kept = new Set(known.animals.flatMap((animal) => animal.species ?? []));
  const only = kept.size === 1 ? [...kept][0] : null;
  return {
    kind: 'NO_SPECIES',
    animals: without.length,
    firstLine: without[0].line,
    proposal: common ?? only,
  };
}
