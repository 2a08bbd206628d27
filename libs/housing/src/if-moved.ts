import { penConflicts } from './pen-conflicts.js';
import type { PenFlag, Yard } from './yard.js';

/** What would stand against an animal in a pen it could go to. */
export interface PenIfMoved {
  readonly pen: string;
  /** Flags of the pen that are not there without the animal. */
  readonly flags: readonly PenFlag[];
}

const WEIGHT = { danger: 0, warning: 1, note: 2 };

/**
 * Every other pen with what the rules would find there if the animal were moved on the first day looked at and stayed: the pens with the least
 * against them first (danger before warning before note, the later the better). Those in pens are taken to stay where they are.
 * Cost: the rules once for each pen, over those in it.
 */
export function ifMoved(yard: Yard, animal: string, pens: readonly string[]): PenIfMoved[] {
  const own = yard.animals.find(({ id }) => id === animal);
  if (!own) return [];
  const found = pens.map((pen): PenIfMoved => {
    const stays = yard.stays.filter((stay) => stay.pen === pen && stay.animal !== animal);
    const days = [[yard.from, Number.POSITIVE_INFINITY]] as const;
    const inPen = new Set(stays.map((stay) => stay.animal));
    const there = { ...yard, animals: yard.animals.filter(({ id }) => inPen.has(id)), stays };
    const before = new Set(penConflicts(there).map(key));
    const after = penConflicts({
      ...there,
      animals: [...there.animals, own],
      stays: [...stays, { animal, pen, possible: days, certain: days }],
    });
    return { pen, flags: after.filter((flag) => !before.has(key(flag))) };
  });
  return found.sort((a, b) => compare(burden(a), burden(b)) || (a.pen < b.pen ? -1 : 1));
}

/** A flag that only names one more animal is another flag: a pen that was crowded before is more so. */
const key = (flag: PenFlag) =>
  JSON.stringify([flag.rule, flag.animals, flag.possibleFrom, flag.overOn]);

function burden({ flags }: PenIfMoved): readonly (number | string)[] {
  const worst = Math.min(3, ...flags.map(({ severity }) => WEIGHT[severity]));
  const first = flags.map(({ possibleFrom }) => possibleFrom).sort()[0] ?? '9999';
  return [
    3 - worst,
    flags.filter(({ severity }) => severity === 'danger').length,
    flags.length,
    first,
  ];
}

/** Less is better, but for the day, which is better later. */
function compare(a: readonly (number | string)[], b: readonly (number | string)[]): number {
  for (let i = 0; i < 3; i++) if (a[i] !== b[i]) return Number(a[i]) - Number(b[i]);
  return a[3] < b[3] ? 1 : a[3] > b[3] ? -1 : 0;
}
