import { writeGenotype } from './check-genotypes.js';
import { sameParents, writeParents } from './clutch-parents.js';
import {
  type DeclaredGenotype,
  type Field,
  type FileRow,
  NOT,
  type ProgramRow,
} from './program-row.js';

/** One field of an animal that the import would change, as text of a program file. */
export interface FieldChange {
  readonly field: Field;
  /** Empty where nothing was recorded. */
  readonly before: string;
  readonly after: string;
}

export interface ChangedAnimal {
  readonly row: FileRow;
  readonly changes: readonly FieldChange[];
  /** Fields that the file names and that stand in the program already. */
  readonly same: readonly Field[];
}

/** What an import would write. A cell that the file leaves empty is never a change. */
export interface ImportPlan {
  readonly created: readonly FileRow[];
  readonly changed: readonly ChangedAnimal[];
  /** Codes of animals in which the file changes nothing. */
  readonly leftAlone: readonly string[];
  /** Per field: new animals that bring it, animals in which it changes, animals in which it stands already. */
  readonly fields: Readonly<Record<Field, FieldCount>>;
}

export interface FieldCount {
  readonly created: number;
  readonly changed: number;
  readonly leftAlone: number;
}

/** How one field is written into a program file, and whether two animals agree in it. */
interface FieldText {
  readonly write: (row: ProgramRow) => string;
  /** Left out where equal text is what agreeing means. */
  readonly agrees?: (file: ProgramRow, before: ProgramRow) => boolean;
}

/** The fields in the order of the file. */
export const FIELD_TEXTS: Readonly<Record<Field, FieldText>> = {
  code: { write: (row) => row.code },
  name: { write: (row) => row.name ?? '' },
  species: { write: (row) => row.species ?? '' },
  sex: { write: (row) => row.sex ?? '' },
  hatched: { write: (row) => row.hatched?.text ?? '' },
  sire: {
    write: (row) => writeParents(row.sires),
    agrees: (file, before) => sameParents(file.sires, before.sires),
  },
  dam: {
    write: (row) => writeParents(row.dams),
    agrees: (file, before) => sameParents(file.dams, before.dams),
  },
  clutch: { write: (row) => row.clutch ?? '' },
  traits: {
    write: (row) =>
      row.traits === null
        ? ''
        : [...row.traits, ...row.absent.map((name) => NOT + name)].join(';') || 'none',
    // 'none' in a file that came in before says nothing of a trait that was defined since.
    agrees: (file, before) =>
      sameNames(file.traits ?? [], before.traits) &&
      (file.absent.length === 0 || sameNames(file.absent, before.absent)),
  },
  genotype: {
    write: (row) => writeGenotype(row.genotype),
    agrees: (file, before) =>
      file.genotype.every((declared) => isDeclared(declared, before.genotype)),
  },
  pen: { write: (row) => row.pen ?? '' },
  scl_mm: { write: (row) => String(row.sclMm ?? '') },
  mass_g: { write: (row) => String(row.massG ?? '') },
  notes: { write: (row) => row.notes ?? '' },
};
const WRITERS = Object.entries(FIELD_TEXTS) as [Field, FieldText][];

/** Sorts the rows into animals to be made, to be changed and to be left alone; of several with one code the first. */
export function planImport(
  rows: readonly FileRow[],
  before: ReadonlyMap<string, ProgramRow>,
): ImportPlan {
  const created: FileRow[] = [];
  const changed: ChangedAnimal[] = [];
  const leftAlone: string[] = [];
  const counts = Object.fromEntries(
    WRITERS.map(([field]) => [field, { created: 0, changed: 0, leftAlone: 0 }]),
  ) as Record<Field, { created: number; changed: number; leftAlone: number }>;
  const seen = new Set<string>();
  for (const row of rows) {
    if (seen.has(row.code)) continue;
    seen.add(row.code);
    const old = before.get(row.code);
    const changes: FieldChange[] = [];
    const same: Field[] = [];
    for (const [field, { write, agrees }] of WRITERS) {
      const after = write(row);
      if (after === '') continue;
      if (!old) {
        counts[field].created++;
        continue;
      }
      const recorded = write(old);
      if (after === recorded || agrees?.(row, old)) {
        counts[field].leftAlone++;
        same.push(field);
      } else {
        counts[field].changed++;
        changes.push({ field, before: recorded, after });
      }
    }
    if (!old) created.push(row);
    else if (changes.length > 0) changed.push({ row, changes, same });
    else leftAlone.push(row.code);
  }
  return { created, changed, leftAlone, fields: counts };
}

function sameNames(a: readonly string[], b: readonly string[] | null): boolean {
  return b !== null && a.length === b.length && a.every((name) => b.includes(name));
}

/** Which of two alleles is named first says nothing. */
function isDeclared(wanted: DeclaredGenotype, list: readonly DeclaredGenotype[]): boolean {
  const found = list.find(({ locus }) => locus === wanted.locus);
  if (!found || found.alleles.length !== wanted.alleles.length) return false;
  return found.alleles.toSorted().join('/') === wanted.alleles.toSorted().join('/');
}
