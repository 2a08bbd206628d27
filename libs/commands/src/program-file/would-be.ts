import type { PartialDate } from '@scutewright/basics';
import { type ClutchParents, parentsOf, type Side } from './clutch-parents.js';
import type { KnownProgram } from './known-program.js';
import type { FileRow, NamedParent, ProgramRow } from './program-row.js';

/** One animal as it would be after the import. */
export interface WouldBe {
  readonly code: string;
  /** Null for an animal that the file does not name. */
  readonly row: FileRow | null;
  readonly sex: 'm' | 'f' | null;
  readonly hatched: PartialDate | null;
  readonly sires: readonly NamedParent[];
  readonly dams: readonly NamedParent[];
  /** Whether its parents come with the file: named in its row, or by a clutch mate. */
  readonly isFromFile: Readonly<Record<Side, boolean>>;
}

/**
 * The animals of the file laid over those of the program, by code. A cell that the file leaves empty takes nothing
 * away; empty parents are those of the clutch. The first of several rows with one code counts.
 */
export function wouldBe(
  rows: readonly FileRow[],
  known: KnownProgram,
  clutches: Readonly<Record<Side, ReadonlyMap<string, ClutchParents>>>,
): ReadonlyMap<string, WouldBe> {
  const before = new Map(known.animals.map((animal) => [animal.code, animal]));
  const animals = new Map<string, WouldBe>();
  for (const row of rows) {
    if (animals.has(row.code)) continue;
    const old = before.get(row.code);
    const sire = parents(row, old, 'sire', clutches.sire);
    const dam = parents(row, old, 'dam', clutches.dam);
    animals.set(row.code, {
      code: row.code,
      row,
      sex: row.sex ?? old?.sex ?? null,
      hatched: row.hatched ?? old?.hatched ?? null,
      sires: sire.parents,
      dams: dam.parents,
      isFromFile: { sire: sire.isFromFile, dam: dam.isFromFile },
    });
  }
  for (const old of known.animals) {
    if (animals.has(old.code)) continue;
    animals.set(old.code, {
      code: old.code,
      row: null,
      sex: old.sex,
      hatched: old.hatched,
      sires: old.sires,
      dams: old.dams,
      isFromFile: { sire: false, dam: false },
    });
  }
  return animals;
}

function parents(
  row: FileRow,
  old: ProgramRow | undefined,
  side: Side,
  clutches: ReadonlyMap<string, ClutchParents>,
): { parents: readonly NamedParent[]; isFromFile: boolean } {
  const named = parentsOf(row, side);
  if (named.length > 0) return { parents: named, isFromFile: true };
  const ofClutch = row.clutch === null ? undefined : clutches.get(row.clutch);
  if (ofClutch) return { parents: ofClutch.parents, isFromFile: true };
  return { parents: old ? parentsOf(old, side) : [], isFromFile: false };
}
