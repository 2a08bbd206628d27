import { dayText } from '@scutewright/basics';
import { forecastSize, growthRecord } from '@scutewright/housing';
import { maturityDays } from '../../snapshot/findings.js';
import { NO_DAY, NONE, type Snapshot, type StayRow } from '../../snapshot/snapshot.js';
import { Animal } from '../animals/animal.types.js';
import type { Pen, PenAnimal, SizeToCome } from './pens.types.js';

const YEAR = 365.25;
export const HORIZON_YEARS = 10;

/** Every pen with those in it. */
export function pensWithAnimals(snapshot: Snapshot, stays: readonly StayRow[], day: number): Pen[] {
  const clutchMates = matesByClutch(snapshot);
  const inPen = snapshot.pens.map((): PenAnimal[] => []);
  for (const { animal, pen } of stays)
    inPen[pen].push(penAnimal(snapshot, animal, day, clutchMates));
  return snapshot.pens.map(
    ({ id, name, areaM2, isQuarantine, features, capacity, corners }, at) => ({
      ...{ id, name, areaM2, isQuarantine, capacity },
      features: [...features],
      corners: corners.map(({ x, y }) => ({ x, y })),
      animals: inPen[at].sort((a, b) => a.animal.position - b.animal.position),
    }),
  );
}

function penAnimal(
  snapshot: Snapshot,
  animal: number,
  day: number,
  clutchMates: ReadonlyMap<number, readonly number[]>,
): PenAnimal {
  const { possible, certain } = maturityDays(snapshot, animal);
  const text = (of: number) => (Number.isFinite(of) ? dayText(Math.round(of)) : null);
  return {
    animal: new Animal(snapshot, animal),
    sclMm: Number.isNaN(snapshot.sclMm[animal]) ? null : snapshot.sclMm[animal],
    maturity:
      day >= certain
        ? 'mature'
        : day < possible
          ? `growing up, mature ${dayText(Math.round(possible)).slice(0, 4)} at the earliest`
          : 'perhaps mature',
    maturePossibly: text(possible),
    matureSurely: text(certain),
    sizes: sizesToCome(snapshot, animal, day, clutchMates),
  };
}

function matesByClutch({ animals }: Snapshot): ReadonlyMap<number, readonly number[]> {
  const mates = new Map<number, number[]>();
  for (const [animal, clutch] of animals.clutch.entries()) {
    if (clutch === NONE) continue;
    const own = mates.get(clutch) ?? [];
    if (own.length === 0) mates.set(clutch, own);
    own.push(animal);
  }
  return mates;
}

/** By the animal's own growth and that of its clutch mates; nothing where there is too little. */
function sizesToCome(
  snapshot: Snapshot,
  animal: number,
  day: number,
  clutchMates: ReadonlyMap<number, readonly number[]>,
): SizeToCome[] {
  const lengths = (of: number) =>
    (snapshot.season.measurements.get(of) ?? [])
      .filter(({ kind, day: on }) => kind === 'scl' && on !== NO_DAY)
      .map(({ day: on, value }) => ({ day: on, mm: value }));
  const own = lengths(animal);
  if (own.length < 3) return [];
  const mates = clutchMates.get(snapshot.animals.clutch[animal]) ?? [];
  const record = growthRecord(own, mates.filter((mate) => mate !== animal).map(lengths));
  if ('reason' in record) return [];
  const sizes: SizeToCome[] = [];
  for (let years = 0; years <= HORIZON_YEARS; years++) {
    const size = forecastSize(record, day + Math.round(years * YEAR));
    if ('reason' in size) break;
    sizes.push({ years, middle: size.middle, low: size.low, high: size.high });
  }
  return sizes;
}
