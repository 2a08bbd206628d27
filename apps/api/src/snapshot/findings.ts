import type { Sex } from '@scutewright/commands';
import { type CandidateColumns, NONE, type Snapshot, type StayRow } from './snapshot.js';

export interface ParentCandidate {
  readonly position: number;
  readonly probability: number;
  readonly basis: string;
}

/** The candidates of an animal's clutch, most probable first; empty for a founder. */
export function candidatesOf(
  snapshot: Snapshot,
  columns: CandidateColumns,
  position: number,
): ParentCandidate[] {
  const clutch = snapshot.animals.clutch[position];
  if (clutch === NONE) return [];
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
  if (certainDams(snapshot).has(position)) return { sex: 'FEMALE', why: ['Has laid eggs', ...why] };
  return { sex: records.at(-1)?.sex ?? 'UNKNOWN', why };
}

const damsBySnapshot = new WeakMap<Snapshot, ReadonlySet<number>>();

function certainDams(snapshot: Snapshot): ReadonlySet<number> {
  let dams = damsBySnapshot.get(snapshot);
  if (!dams) {
    const { animal, probability } = snapshot.dams;
    dams = new Set(animal.filter((_, i) => probability[i] === 1));
    damsBySnapshot.set(snapshot, dams);
  }
  return dams;
}

/** The stays that have no end: who is where now. */
export function presentStays(snapshot: Snapshot): readonly StayRow[] {
  return snapshot.stays.filter(({ to }) => to === null);
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
