import { type Fault, nearest } from '@scutewright/basics';
import { FEMALE, MALE } from './pedigree.js';
import type { ParentEntry, ReadRow } from './read-row.js';

/** Unknown parents for which near ids are looked up: each look-up goes through all ids. */
const MOST_HINTS = 20;

/** Adds the faults between an animal and the parents it names, certain or candidates. */
export function checkParents(
  rows: readonly ReadRow[],
  positions: ReadonlyMap<string, number>,
  faults: Fault[],
): void {
  const certainSires = new Map<number, string>();
  const certainDams = new Map<number, string>();
  const unknown = new Map<string, string[]>();
  const wrongSex = new Map<number, string[]>();
  for (const row of rows) {
    for (const side of ['sire', 'dam'] as const) {
      for (const { id } of row[side]) {
        const parent = positions.get(id);
        if (parent === undefined) push(unknown, id, row.id);
        else if (id === row.id) faults.push(ownParent(id, side));
        else {
          if (row[side].length === 1)
            (side === 'sire' ? certainSires : certainDams).set(parent, row.id);
          if (rows[parent].sex === (side === 'sire' ? FEMALE : MALE))
            push(wrongSex, parent, row.id);
          if (isYounger(rows[parent], row)) faults.push(olderThanParent(row, rows[parent], side));
        }
      }
    }
  }
  let hints = 0;
  for (const [id, children] of unknown) {
    const near = hints++ < MOST_HINTS ? nearest(id, positions.keys()) : [];
    const hint =
      near.length > 0 ? ` Did you mean ${near.map((each) => `'${each}'`).join(', ')}?` : '';
    faults.push({
      code: 'UNKNOWN_PARENT',
      message: `'${id}', named as a parent of ${list(children)}, has no row of its own.`,
      remedy: `Add a row for it or correct the id.${hint}`,
      ids: [id, ...children],
    });
  }
  for (const [parent, children] of wrongSex) {
    const { id, sex } = rows[parent];
    faults.push({
      code: 'WRONG_SEX',
      message: `'${id}' is recorded as ${sex === MALE ? 'male and named as dam' : 'female and named as sire'} of ${list(children)}.`,
      remedy: `Correct the sex of '${id}' or the parent of its young.`,
      ids: [id, ...children],
    });
  }
  for (const [parent, child] of certainSires) {
    const other = certainDams.get(parent);
    if (other === undefined || wrongSex.has(parent)) continue;
    const { id } = rows[parent];
    faults.push({
      code: 'SIRE_AND_DAM',
      message: `'${id}' is named as sire of '${child}' and as dam of '${other}'.`,
      remedy: 'Correct one of the two.',
      ids: [...new Set([id, child, other])],
    });
  }
}

/** Rows that came from one laying; an animal without clutch is a laying of its own. */
export interface Laying {
  readonly clutch: string | null;
  readonly young: readonly number[];
}

/** Groups rows by clutch and adds a fault for each mate whose parents differ from the first one's. */
export function layings(rows: readonly ReadRow[], faults: Fault[]): Laying[] {
  const found: { clutch: string | null; young: number[] }[] = [];
  const byClutch = new Map<string, number[]>();
  rows.forEach(({ id, clutch, sire, dam }, i) => {
    const mates = clutch === null ? undefined : byClutch.get(clutch);
    if (!mates) {
      const young = [i];
      found.push({ clutch, young });
      if (clutch !== null) byClutch.set(clutch, young);
      return;
    }
    mates.push(i);
    const first = rows[mates[0]];
    if (sameParent(first.sire, sire) && sameParent(first.dam, dam)) return;
    faults.push({
      code: 'CLUTCH_PARENTS_DIFFER',
      message: `'${first.id}' and '${id}' of clutch '${clutch}' have different parents.`,
      remedy: 'Give all young of a clutch the same parents, or put them into different clutches.',
      ids: [first.id, id],
    });
  });
  return found;
}

function sameParent(a: readonly ParentEntry[], b: readonly ParentEntry[]): boolean {
  return (
    a.length === b.length &&
    a.every(({ id, probability }) =>
      b.some((other) => other.id === id && Math.abs(other.probability - probability) < 1e-9),
    )
  );
}

/** True only where the dates leave no other reading. */
function isYounger(parent: ReadRow, young: ReadRow): boolean {
  if (!parent.hatched || !young.hatched) return false;
  return young.hatched.latest <= parent.hatched.earliest;
}

function ownParent(id: string, side: 'sire' | 'dam'): Fault {
  return {
    code: 'OWN_PARENT',
    message: `'${id}' is named as its own ${side}.`,
    remedy: `Correct the ${side} of '${id}'.`,
    ids: [id],
  };
}

function olderThanParent(young: ReadRow, parent: ReadRow, side: 'sire' | 'dam'): Fault {
  return {
    code: 'OLDER_THAN_PARENT',
    message: `'${young.id}' (hatched ${young.hatched?.text}) is not younger than its ${side} '${parent.id}' (hatched ${parent.hatched?.text}).`,
    remedy: 'Correct one of the dates or the parent.',
    ids: [young.id, parent.id],
  };
}

function list(ids: readonly string[]): string {
  const shown = ids.slice(0, 5).map((id) => `'${id}'`);
  return ids.length > 5 ? `${shown.join(', ')} and ${ids.length - 5} more` : shown.join(', ');
}

function push<Key>(map: Map<Key, string[]>, key: Key, value: string): void {
  const values = map.get(key);
  if (values) values.push(value);
  else map.set(key, [value]);
}
