import { type SeasonSettings, seasonSettingsSchema } from '@scutewright/commands';
import type { KeptParts } from './kept-parts.js';
import { lotsOf } from './lots-of-rows.js';
import { at, type Positions, positionsOf } from './positions.js';
import type { ProgramRows } from './program-rows.js';
import {
  type BatchRow,
  type CountedLook,
  type EggLosses,
  type Gone,
  type MeasurementRow,
  NO_DAY,
  type SeasonRecords,
  sharedInt32,
} from './snapshot.js';

interface Places {
  readonly animals: Positions;
  readonly clutches: Positions;
  readonly pens: Positions;
}

/** What the program sets of its season, with the defaults for what it does not. */
export function seasonSettings(stored: unknown): SeasonSettings {
  return seasonSettingsSchema.parse(stored ?? {});
}

/** The settings by their text, which is the same where nothing was set. */
function settingsOf(text: string): SeasonSettings {
  return seasonSettings(JSON.parse(text));
}

/** What the seasons added, part by part, as `snapshotOfRows`. */
export function seasonOfRows(
  rows: ProgramRows,
  parts: KeptParts,
  { animals, clutches, pens }: Places,
): SeasonRecords {
  const lots = parts.of(
    lotsOf,
    rows.lots,
    rows.lotSums,
    rows.lotStays,
    rows.promoted,
    clutches,
    pens,
  );
  const { left, arrivals } = parts.of(transfersOf, rows.transfers, animals);
  const happenings = parts.of(byKind, rows.happenings);
  return {
    settings: parts.of(settingsOf, JSON.stringify(rows.program.seasonSettings)),
    ...lots,
    batches: parts.of(batchesOf, rows.batches, happenings, clutches),
    eggLosses: parts.of(eggLossesOf, happenings, clutches),
    gone: parts.of(goneOf, left, rows.happenings, animals),
    measurements: parts.of(measurementsOf, rows.sizes, animals),
    marks: parts.of(marksOf, happenings, animals),
    matings: parts.of(matingsOf, happenings, animals),
    breaches: parts.of(breachesOf, happenings, pens),
    countedLooks: parts.of(countedLooksOf, rows.happenings, clutches, rows.traits, lots.lots),
    tests: parts.of(testsOf, happenings, animals, rows.loci),
    possibleClutches: parts.of(possibleClutchesOf, rows.possibleClutches, animals, clutches),
    derivedFathers: new Map(),
    arrivals,
    lastSeen: parts.of(
      lastSeenOf,
      rows.sexes,
      rows.looks,
      rows.sizes,
      rows.sightings,
      rows.happenings,
      rows.stays,
      animals,
    ),
  };
}

/** In the order of their columns: id, day, kind, animal, clutch, pen, lot, locus, other animal, value, date, method. */
type Happening = ProgramRows['happenings'][number];
type ByKind = ReadonlyMap<string, readonly Happening[]>;

function byKind(rows: ProgramRows['happenings']): ByKind {
  return grouped(rows, (row) => ({ at: row[2], row }));
}

function marksOf(happenings: ByKind, animals: Positions): SeasonRecords['marks'] {
  return grouped(happenings.get('mark') ?? [], (row) => ({
    at: at(animals, row[3]!),
    row: row[9] as { scheme: string; text: string; isLost: boolean },
  }));
}

function matingsOf(happenings: ByKind, animals: Positions): SeasonRecords['matings'] {
  return (happenings.get('mating') ?? []).map((row) => ({
    male: at(animals, row[3]!),
    female: at(animals, row[8]!),
    day: row[1] ?? NO_DAY,
  }));
}

function breachesOf(happenings: ByKind, pens: Positions): SeasonRecords['breaches'] {
  return (happenings.get('breach') ?? []).map((row) => {
    const { otherPenId, until } = row[9] as { otherPenId: string; until: string | null };
    const both = [at(pens, row[5]!), at(pens, otherPenId)] as const;
    return { pens: both, from: row[10], to: until ?? row[10] };
  });
}

function testsOf(
  happenings: ByKind,
  animals: Positions,
  loci: ProgramRows['loci'],
): SeasonRecords['tests'] {
  const locusAt = positionsOf(loci);
  return (happenings.get('test') ?? []).map((row) => ({
    id: row[0],
    animal: at(animals, row[3]!),
    locus: at(locusAt, row[7]!),
    ...(row[9] as { alleles: string[]; errorRate: number }),
  }));
}

function possibleClutchesOf(
  rows: ProgramRows['possibleClutches'],
  animals: Positions,
  clutches: Positions,
): SeasonRecords['possibleClutches'] {
  return grouped(rows, ([animalId, clutchId, probability]) => ({
    at: at(animals, animalId),
    row: { clutch: at(clutches, clutchId), probability },
  }));
}

function grouped<Key, Row, Value>(
  list: readonly Row[],
  read: (row: Row) => { at: Key; row: Value },
): Map<Key, Value[]> {
  const groups = new Map<Key, Value[]>();
  for (const each of list) {
    const { at: key, row } = read(each);
    const group = groups.get(key);
    if (group) group.push(row);
    else groups.set(key, [row]);
  }
  return groups;
}

function batchesOf(
  rows: ProgramRows['batches'],
  happenings: ByKind,
  clutches: Positions,
): BatchRow[] {
  const warmth = grouped(happenings.get('warmth') ?? [], (row) => {
    const { label, celsius } = row[9] as { label: string; celsius: number };
    return { at: `${row[4]} ${label}`, row: { day: row[1] ?? NO_DAY, celsius } };
  });
  return rows.map(([id, clutchId, label, eggs, setOn]) => ({
    id,
    clutch: at(clutches, clutchId),
    label,
    eggs,
    setOn,
    warmth: warmth.get(`${clutchId} ${label}`) ?? [],
  }));
}

function eggLossesOf(happenings: ByKind, clutches: Positions): Map<number, EggLosses> {
  const sums = new Map<number, EggLosses>();
  for (const row of happenings.get('eggs') ?? []) {
    const clutch = at(clutches, row[4]!);
    const value = row[9] as Partial<EggLosses>;
    const sum = sums.get(clutch) ?? { infertile: 0, diedEarly: 0, diedLate: 0, lost: 0 };
    sums.set(clutch, {
      infertile: sum.infertile + (value.infertile ?? 0),
      diedEarly: sum.diedEarly + (value.diedEarly ?? 0),
      diedLate: sum.diedLate + (value.diedLate ?? 0),
      lost: sum.lost + (value.lost ?? 0),
    });
  }
  return sums;
}

type Ending = readonly [animal: number, end: Gone | null, day: number];

function endingsOf(rows: ProgramRows['happenings'], animals: Positions): Ending[] {
  return rows.flatMap((row): Ending[] => {
    const [, onDay, kind, animalId, , , , , , value, date] = row;
    if (animalId === null || !['death', 'escape', 'return'].includes(kind)) return [];
    const when = onDay ?? NO_DAY;
    if (kind === 'return') return [[at(animals, animalId), null, when]];
    const { cause } = value as { cause?: string };
    const words =
      kind === 'escape'
        ? 'escaped'
        : `died${cause && cause !== 'UNKNOWN' ? ` (${cause.toLowerCase().replace('_', ' ')})` : ''}`;
    const how = kind === 'escape' ? 'escaped' : 'died';
    return [[at(animals, animalId), { how, words, date, day: when }, when]];
  });
}

/** The last thing that ended an animal's being here, unless it came back afterwards. Death is the end. */
function goneOf(
  left: readonly Ending[],
  rows: ProgramRows['happenings'],
  animals: Positions,
): Map<number, Gone> {
  const gone = new Map<number, Gone>();
  const endings = [...left, ...endingsOf(rows, animals)];
  for (const [animal, end] of endings.sort((a, b) => a[2] - b[2])) {
    if (gone.get(animal)?.how === 'died') continue;
    if (end) gone.set(animal, end);
    else gone.delete(animal);
  }
  return gone;
}

const WAYS_IN: Record<string, boolean> = {
  BOUGHT: true,
  RECEIVED: true,
  CAME_BACK: true,
  BORROWED: true,
};
const WAY_WORDS: Record<string, string> = {
  SOLD: 'sold',
  GIVEN_AWAY: 'given away',
  LENT: 'lent out',
  SENT_BACK: 'sent back',
};

function transfersOf(
  rows: ProgramRows['transfers'],
  animals: Positions,
): { left: readonly Ending[]; arrivals: SeasonRecords['arrivals'] } {
  const arrivals = new Map<number, { earliest: number; latest: number }>();
  const left = rows.map(([animalId, way, date, earliest, latest]): Ending => {
    const animal = at(animals, animalId);
    const when = latest ?? NO_DAY;
    if (!WAYS_IN[way]) {
      return [animal, { how: 'left', words: WAY_WORDS[way], date, day: when }, when];
    }
    if (earliest !== null) arrivals.set(animal, { earliest, latest: when });
    return [animal, null, when];
  });
  return { left, arrivals };
}

function measurementsOf(
  rows: ProgramRows['sizes'],
  animals: Positions,
): SeasonRecords['measurements'] {
  return grouped(rows, ([, onDay, kind, animalId, value, date, method]) => ({
    at: at(animals, animalId),
    row: { kind: kind as MeasurementRow['kind'], value, date, day: onDay ?? NO_DAY, method },
  }));
}

function countedLooksOf(
  rows: ProgramRows['happenings'],
  clutches: Positions,
  traits: ProgramRows['traits'],
  lots: SeasonRecords['lots'],
): CountedLook[] {
  const traitAt = positionsOf(traits);
  const clutchesOfLot = new Map(lots.map((lot) => [lot.id, [...lot.clutches.keys()]]));
  return rows.flatMap((row): CountedLook[] => {
    const [id, , kind, , clutchId, , lotId, , , value] = row;
    const counted = value as {
      looked?: number;
      counts?: { traitId: string; count: number }[];
      embryosSeen?: { traitId: string; count: number }[];
    };
    const isEmbryo = kind === 'eggs' && (counted.embryosSeen?.length ?? 0) > 0;
    if (kind !== 'colour-count' && !isEmbryo) return [];
    const seen = (counted.embryosSeen ?? counted.counts ?? []).map(
      ({ traitId, count }) => [at(traitAt, traitId), count] as const,
    );
    const of = clutchId ? [at(clutches, clutchId)] : (lotId && clutchesOfLot.get(lotId)) || [];
    const looked = counted.looked ?? seen.reduce((sum, [, count]) => sum + count, 0);
    return [{ id, clutches: of, looked, seen, isEmbryo }];
  });
}

const NOT_SEEN: ReadonlySet<string> = new Set(['declaration', 'test', 'death']);

/** The last day on which anybody had each animal before them: neither what was told of it nor its death counts. */
function lastSeenOf(
  sexes: ProgramRows['sexes'],
  looks: ProgramRows['looks'],
  sizes: ProgramRows['sizes'],
  sightings: ProgramRows['sightings'],
  happenings: ProgramRows['happenings'],
  stays: ProgramRows['stays'],
  animals: Positions,
): Int32Array {
  const last = sharedInt32(new Int32Array(animals.size).fill(NO_DAY));
  const see = (animalId: string, day: number | null) => {
    const animal = at(animals, animalId);
    if (day !== null && day > last[animal]) last[animal] = day;
  };
  for (const row of sexes) see(row[2], row[6]);
  for (const row of looks) if (!NOT_SEEN.has(row[2])) see(row[3], row[7]);
  for (const row of sizes) see(row[3], row[1]);
  for (const row of sightings) see(row[2], row[1]);
  for (const row of happenings) if (row[3] !== null && !NOT_SEEN.has(row[2])) see(row[3], row[1]);
  for (const row of stays) see(row[2], row[6]);
  return last;
}
