import type { Sex } from '@scutewright/commands';
import { penOf, sexOf } from '../../snapshot/findings.js';
import { NO_DAY, type Snapshot } from '../../snapshot/snapshot.js';
import type { AnimalOrder } from './animal.types.js';

export interface AnimalFilter {
  readonly search?: string | null;
  readonly sex?: Sex | null;
  readonly species?: string | null;
  readonly orderBy: AnimalOrder;
}

// 'HG-9' before 'HG-10', as people count.
const collator = new Intl.Collator('en', { numeric: true, sensitivity: 'base' });

/** Positions of the animals that fit, in order. `search` is part of a code, name, mark or the name of the pen, case aside. */
export function searchAnimals(snapshot: Snapshot, filter: AnimalFilter): number[] {
  const { animals } = snapshot;
  const wanted = filter.search?.trim().toLowerCase();
  const found: number[] = [];
  for (let i = 0; i < animals.count; i++) {
    if (filter.species && animals.species[i] !== filter.species) continue;
    if (
      wanted &&
      !animals.codes[i].toLowerCase().includes(wanted) &&
      !animals.names[i]?.toLowerCase().includes(wanted) &&
      !hasMark(snapshot, i, wanted) &&
      !isInPen(snapshot, i, wanted)
    ) {
      continue;
    }
    if (filter.sex && sexOf(snapshot, i) !== filter.sex) continue;
    found.push(i);
  }
  const byCode = (a: number, b: number) => collator.compare(animals.codes[a], animals.codes[b]);
  if (filter.orderBy === 'HATCHED') {
    const day = (i: number) =>
      animals.hatchedEarliest[i] === NO_DAY ? Infinity : animals.hatchedEarliest[i];
    return found.sort((a, b) => day(a) - day(b) || byCode(a, b));
  }
  if (filter.orderBy === 'LATEST') {
    // An unknown date is the smallest number, so these come last.
    const day = (i: number) => animals.hatchedEarliest[i];
    return found.sort((a, b) => day(b) - day(a) || byCode(a, b));
  }
  if (filter.orderBy === 'SEX') {
    const rank: Record<Sex, number> = { MALE: 0, FEMALE: 1, UNKNOWN: 2 };
    const sex = (i: number) => rank[sexOf(snapshot, i)];
    return found.sort((a, b) => sex(a) - sex(b) || byCode(a, b));
  }
  return found.sort(byCode);
}

function hasMark({ season }: Snapshot, animal: number, wanted: string): boolean {
  const marks = season.marks.get(animal);
  return marks?.some(({ text }) => text.toLowerCase().includes(wanted)) ?? false;
}

function isInPen(snapshot: Snapshot, animal: number, wanted: string): boolean {
  const pen = penOf(snapshot, animal);
  return pen !== null && snapshot.pens[pen].name.toLowerCase().includes(wanted);
}

/** The highest numbered code of the commonest pattern, plus one: HB-012 gives HB-013. */
export function nextCode(snapshot: Snapshot): string {
  const patterns = new Map<string, { count: number; highest: number; width: number }>();
  for (const code of snapshot.animals.codes) {
    const match = /^(.*?)(\d+)$/.exec(code);
    if (!match) continue;
    const known = patterns.get(match[1]) ?? { count: 0, highest: 0, width: 0 };
    known.count++;
    known.highest = Math.max(known.highest, Number(match[2]));
    known.width = Math.max(known.width, match[2].length);
    patterns.set(match[1], known);
  }
  const [best] = [...patterns].sort(([, a], [, b]) => b.count - a.count);
  if (!best) return 'A-001';
  const [prefix, { highest, width }] = best;
  return `${prefix}${String(highest + 1).padStart(width, '0')}`;
}
