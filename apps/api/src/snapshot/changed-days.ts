import { maturityDays, sexOf } from './findings.js';
import type { SeasonRecords, Snapshot, StayRow } from './snapshot.js';

/**
 * The first day on which who was where, who may be a mature male or who mated differs between two snapshots of a program, both as
 * they were read; -Infinity where that is any day, Infinity where nothing differs. What is reckoned from the days before it
 * alone stays as it was.
 */
export function firstDayChanged(before: Snapshot, after: Snapshot): number {
  const settings = ({ season }: Snapshot) => JSON.stringify(season.settings);
  const areRulesSame =
    before.speciesSettings === after.speciesSettings &&
    settings(before) === settings(after) &&
    changedKeys(before, after, 'breaches', breachKey).length === 0;
  if (!areRulesSame) return Number.NEGATIVE_INFINITY;
  const days = [...animalDays(before, after), ...stayDays(before, after)];
  for (const key of changedKeys(before, after, 'matings', matingKey))
    days.push(Number(key.split(' ')[0]));
  return days.reduce((first, day) => Math.min(first, day), Number.POSITIVE_INFINITY);
}

/** From when on an animal of both counts otherwise: nobody is a parent before it may be mature. */
function* animalDays(before: Snapshot, after: Snapshot): Generator<number> {
  const [was, is] = [before.animals, after.animals];
  if (was === is && before.sexRecords === after.sexRecords && before.dams === after.dams) return;
  for (let now = 0; now < is.count; now++) {
    const then = was.positionById.get(is.ids[now]);
    if (then === undefined) continue;
    if (was.species[then] !== is.species[now]) yield Number.NEGATIVE_INFINITY;
    const isSame =
      sexOf(before, then) === sexOf(after, now) &&
      was.hatchedEarliest[then] === is.hatchedEarliest[now] &&
      was.hatchedLatest[then] === is.hatchedLatest[now];
    if (isSame) continue;
    yield maturityDays(before, then).possible;
    yield maturityDays(after, now).possible;
  }
}

/** Both lists are in the order of first day and id, so one walk along them finds what came and went. */
function* stayDays(before: Snapshot, after: Snapshot): Generator<number> {
  if (before.stays === after.stays) return;
  const left = before.stays;
  let next = 0;
  for (const stay of after.stays) {
    while (next < left.length && comesBefore(left[next], stay)) yield left[next++].days.first;
    const was = left[next]?.id === stay.id ? left[next++] : null;
    const isSame =
      was?.from === stay.from &&
      before.animals.ids[was.animal] === after.animals.ids[stay.animal] &&
      before.pens[was.pen].id === after.pens[stay.pen].id;
    if (!isSame) {
      yield stay.days.first;
    } else if (was.to !== stay.to) {
      yield was.days.sureLast;
      yield stay.days.sureLast;
    }
  }
  for (const { days } of left.slice(next)) yield days.first;
}

function comesBefore(one: StayRow, other: StayRow): boolean {
  if (one.days.first !== other.days.first) return one.days.first < other.days.first;
  return one.id < other.id;
}

function matingKey({ animals }: Snapshot, mating: SeasonRecords['matings'][number]): string {
  return `${mating.day} ${animals.ids[mating.male]} ${animals.ids[mating.female]}`;
}

function breachKey({ pens }: Snapshot, breach: SeasonRecords['breaches'][number]): string {
  const [one, other] = breach.pens;
  return `${pens[one].id} ${pens[other].id} ${breach.from} ${breach.to}`;
}

/** Keys of records that do not stand as often in one snapshot as in the other. */
function changedKeys<Name extends 'matings' | 'breaches'>(
  before: Snapshot,
  after: Snapshot,
  name: Name,
  key: (snapshot: Snapshot, row: SeasonRecords[Name][number]) => string,
): string[] {
  if (before.season[name] === after.season[name]) return [];
  const more = new Map<string, number>();
  const count = (snapshot: Snapshot, by: number) => {
    for (const row of snapshot.season[name]) {
      const known = key(snapshot, row);
      more.set(known, (more.get(known) ?? 0) + by);
    }
  };
  count(after, 1);
  count(before, -1);
  return [...more].flatMap(([known, times]) => (times === 0 ? [] : [known]));
}
