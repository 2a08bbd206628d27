import { evenShares } from '@scutewright/basics';
import type { KnownProgram } from './known-program.js';
import type { FileRow, NamedParent } from './program-row.js';

/** The parents that a clutch has on one side, and which animal or record says so. */
export interface ClutchParents {
  readonly parents: readonly NamedParent[];
  /** For messages: `'HB-012'` or 'the clutch as recorded'. */
  readonly from: string;
}

export type Side = 'sire' | 'dam';
export const SIDES: readonly Side[] = ['sire', 'dam'];

export function parentsOf(
  animal: { readonly sires: readonly NamedParent[]; readonly dams: readonly NamedParent[] },
  side: Side,
): readonly NamedParent[] {
  return side === 'sire' ? animal.sires : animal.dams;
}

/** Rows of the file by their clutch; those without one are left out. */
export function rowsByClutch(rows: readonly FileRow[]): ReadonlyMap<string, readonly FileRow[]> {
  const clutches = new Map<string, FileRow[]>();
  for (const row of rows) {
    if (row.clutch === null) continue;
    const mates = clutches.get(row.clutch);
    if (mates) mates.push(row);
    else clutches.set(row.clutch, [row]);
  }
  return clutches;
}

/**
 * The parents of each clutch of the file: those that the program holds by a mate outside the file, else those that
 * most mates in the file name (among equals the first's), else those of the clutch as recorded. `inFile`: codes of
 * the file; `isSound` tells rows whose cell can be relied on.
 */
export function clutchParents(
  clutches: ReadonlyMap<string, readonly FileRow[]>,
  side: Side,
  known: KnownProgram,
  inFile: ReadonlyMap<string, unknown>,
  isSound: (row: FileRow, side: Side) => boolean,
): ReadonlyMap<string, ClutchParents> {
  const agreed = new Map<string, ClutchParents>();
  for (const animal of known.animals) {
    const { clutch, code } = animal;
    const parents = parentsOf(animal, side);
    if (clutch === null || parents.length === 0 || inFile.has(code) || !clutches.has(clutch))
      continue;
    agreed.set(clutch, { parents, from: `'${code}'` });
  }
  for (const [clutch, mates] of clutches) {
    if (agreed.has(clutch)) continue;
    const named = mostNamed(mates, side, isSound);
    if (named) agreed.set(clutch, named);
  }
  for (const clutch of known.clutches) {
    const parents = parentsOf(clutch, side);
    if (parents.length === 0 || agreed.has(clutch.code) || !clutches.has(clutch.code)) continue;
    agreed.set(clutch.code, { parents, from: 'the clutch as recorded' });
  }
  return agreed;
}

function mostNamed(
  mates: readonly FileRow[],
  side: Side,
  isSound: (row: FileRow, side: Side) => boolean,
): ClutchParents | null {
  const votes: { parents: readonly NamedParent[]; count: number; code: string }[] = [];
  for (const row of mates) {
    const parents = parentsOf(row, side);
    if (parents.length === 0 || !isSound(row, side)) continue;
    const vote = votes.find((each) => sameParents(each.parents, parents));
    if (vote) vote.count++;
    else if (votes.length < MOST_OPINIONS) votes.push({ parents, count: 1, code: row.code });
  }
  let best = votes[0];
  for (const vote of votes) if (vote.count > best.count) best = vote;
  return best ? { parents: best.parents, from: `'${best.code}'` } : null;
}
/** Different parents of one clutch that are counted: with more, the column is no clutch at all. */
const MOST_OPINIONS = 20;

/**
 * Whether two lists name the same animals with the same probabilities, in any order. Names without a probability share
 * what is left evenly, so `A` and `A:1` are the same.
 */
export function sameParents(a: readonly NamedParent[], b: readonly NamedParent[]): boolean {
  if (a === b) return true;
  if (a.length !== b.length) return false;
  const [inA, inB] = [a, b].map((list) => evenShares(list.map((each) => each.probability)));
  return a.every(({ code }, i) =>
    b.some(
      (other, j) =>
        other.code === code && Math.abs((inA?.[i] ?? 0) - (inB?.[j] ?? 0)) < SAME_WITHIN,
    ),
  );
}
const SAME_WITHIN = 1e-9;

/** `A:0.6|B`, as a program file has it. */
export function writeParents(parents: readonly NamedParent[]): string {
  return parents
    .map(({ code, probability }) => (probability === null ? code : `${code}:${probability}`))
    .join('|');
}
