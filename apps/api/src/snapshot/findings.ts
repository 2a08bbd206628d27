import type { Sex } from '@scutewright/commands';
import { PerSnapshot } from './per-snapshot.js';
import { type CandidateColumns, NO_DAY, NONE, type Snapshot, type StayRow } from './snapshot.js';
import { mayHold } from './stay-days.js';
import { today } from './today.js';

export interface ParentCandidate {
  readonly position: number;
  readonly probability: number;
  readonly basis: string;
}

/** Whether nothing is recorded of an animal's parents: it is of no clutch, not even of one of several. */
export function isFounder({ animals, season }: Snapshot, position: number): boolean {
  return animals.clutch[position] === NONE && !season.possibleClutches.has(position);
}

/** The animals of which nobody can tell the clutch, each with those that it may be of. */
export function foundAnimals({ animals, season }: Snapshot) {
  // A clutch supposed to be certain counts before the possible ones.
  return [...season.possibleClutches].filter(([animal]) => animals.clutch[animal] === NONE);
}

/** The clutches that an animal may be of, most probable first; empty for a founder. */
export function clutchesOf(
  { animals, season }: Snapshot,
  position: number,
): readonly { readonly clutch: number; readonly probability: number }[] {
  const clutch = animals.clutch[position];
  return clutch === NONE
    ? (season.possibleClutches.get(position) ?? [])
    : [{ clutch, probability: 1 }];
}

/** The candidates of an animal's clutch, or of all clutches that it may be of, most probable first; empty for a founder. */
export function candidatesOf(
  snapshot: Snapshot,
  columns: CandidateColumns,
  position: number,
): ParentCandidate[] {
  const clutches = clutchesOf(snapshot, position);
  if (clutches.length === 1 && clutches[0].probability === 1) {
    return candidatesOfClutch(columns, clutches[0].clutch);
  }
  const found = new Map<number, ParentCandidate>();
  for (const { clutch, probability } of clutches) {
    for (const candidate of candidatesOfClutch(columns, clutch)) {
      const sum =
        (found.get(candidate.position)?.probability ?? 0) + probability * candidate.probability;
      found.set(candidate.position, { ...candidate, probability: sum > 1 - 1e-9 ? 1 : sum });
    }
  }
  return [...found.values()].sort((a, b) => b.probability - a.probability);
}

/** The candidates of a clutch, most probable first. */
export function candidatesOfClutch(columns: CandidateColumns, clutch: number): ParentCandidate[] {
  const found: ParentCandidate[] = [];
  for (let i = columns.from[clutch]; i < columns.from[clutch + 1]; i++) {
    found.push({
      position: columns.animal[i],
      probability: columns.probability[i],
      basis: columns.basis[i],
    });
  }
  return found;
}

/**
 * The sex that the records add up to. An animal that is the certain mother of a clutch is
 * female whatever was written before; else the latest record counts.
 */
export function sexFinding(snapshot: Snapshot, position: number): { sex: Sex; why: string[] } {
  const records = snapshot.sexRecords.get(position) ?? [];
  const why = records.map((record) => {
    const when = record.date ? `, ${record.date}` : '';
    return `Recorded as ${record.sex.toLowerCase()}${record.method ? ` (${record.method})` : ''}${when}`;
  });
  if (certainDams(snapshot).has(position)) why.unshift('Has laid eggs');
  return { sex: sexOf(snapshot, position), why };
}

/** The same without the reasons. */
export function sexOf(snapshot: Snapshot, position: number): Sex {
  if (certainDams(snapshot).has(position)) return 'FEMALE';
  return snapshot.sexRecords.get(position)?.at(-1)?.sex ?? 'UNKNOWN';
}

const damsOf = new PerSnapshot<ReadonlySet<number>>();

function certainDams(snapshot: Snapshot): ReadonlySet<number> {
  return damsOf.of(snapshot, () => {
    const { animal, probability } = snapshot.dams;
    return new Set(animal.filter((_, i) => probability[i] === 1));
  });
}

/**
 * Who is where on a day (since 1970-01-01), each animal once: of the stays that may hold that day the one that began last.
 * Animals that had died, left or escaped by then are nowhere.
 */
export function staysOn(snapshot: Snapshot, day: number): readonly StayRow[] {
  const found = new Map<number, StayRow>();
  for (const stay of snapshot.stays) {
    const gone = snapshot.season.gone.get(stay.animal);
    if (gone && gone.day <= day) continue;
    if (mayHold(stay.days, day)) found.set(stay.animal, stay);
  }
  return [...found.values()];
}

const present = new PerSnapshot<readonly StayRow[]>();

/** Who is where today. */
export function presentStays(snapshot: Snapshot): readonly StayRow[] {
  const day = today();
  return present.of(snapshot, () => staysOn(snapshot, day), day);
}

const pensToday = new PerSnapshot<ReadonlyMap<number, number>>();

/** The pen that an animal is in today, by position; null where it is in none. */
export function penOf(snapshot: Snapshot, animal: number): number | null {
  const pens = pensToday.of(
    snapshot,
    () => new Map(presentStays(snapshot).map((stay) => [stay.animal, stay.pen])),
    today(),
  );
  return pens.get(animal) ?? null;
}

const YEAR = 365.25;

/**
 * Days (since 1970-01-01) from which an animal may be, and surely is, mature, by its age alone: what the program sets of its species,
 * else its `matureYears`
 * (default 5 and 12: common practice, no source). Infinite where the hatching is not known.
 */
export function maturityDays(
  { animals, season, speciesSettings }: Snapshot,
  animal: number,
): { possible: number; certain: number } {
  const own = speciesSettings.get(animals.species[animal])?.MATURE_YEARS?.numbers;
  const [from, to] = own ?? season.settings.matureYears;
  const earliest = animals.hatchedEarliest[animal];
  const latest = animals.hatchedLatest[animal];
  return {
    possible: earliest === NO_DAY ? Number.NEGATIVE_INFINITY : earliest + from * YEAR,
    certain: latest === NO_DAY ? Number.POSITIVE_INFINITY : latest + to * YEAR,
  };
}

/** How many years a female may store sperm: what the program sets of her species, else of its season. */
export function storageYears({ animals, season, speciesSettings }: Snapshot, dam: number): number {
  const own = speciesSettings.get(animals.species[dam])?.STORAGE_YEARS?.numbers;
  return own?.[0] ?? season.settings.storageYears;
}

/** Positions of the animals that are in a pen now. */
export function housedAnimals(snapshot: Snapshot): ReadonlySet<number> {
  return new Set(presentStays(snapshot).map(({ animal }) => animal));
}

/** What the candidates lack to 1: the probability that the parent is an animal nobody recorded. */
export function unrecordedShare(candidates: readonly { readonly probability: number }[]): number {
  const named = candidates.reduce((sum, { probability }) => sum + probability, 0);
  // Sums such as 0.1 + 0.2 + 0.7 miss 1 by a rounding step.
  return named > 1 - 1e-9 ? 0 : 1 - named;
}
