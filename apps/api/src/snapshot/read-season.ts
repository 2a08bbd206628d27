import { type SeasonSettings, seasonSettingsSchema } from '@scutewright/commands';
import { readLots } from './read-lots.js';
import { at, day, type Rows } from './read-snapshot.js';
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

export interface Places {
  readonly animals: ReadonlyMap<string, number>;
  readonly clutches: ReadonlyMap<string, number>;
  readonly pens: ReadonlyMap<string, number>;
  readonly traits: ReadonlyMap<string, number>;
  readonly loci: ReadonlyMap<string, number>;
}

/** What the program sets of its season, with the defaults for what it does not. */
export function seasonSettings(stored: unknown): SeasonSettings {
  return seasonSettingsSchema.parse(stored ?? {});
}

/** Reads what the seasons added: a fixed number of statements, however many records. */
export async function readSeason(rows: Rows, places: Places): Promise<SeasonRecords> {
  const [[settings]] = await rows(
    "SELECT settings -> 'season' FROM program WHERE id = current_program()",
  );
  const { lots, lotStays, promotedByClutch, hatchedInLots, hatchDaysInLots } = await readLots(
    rows,
    places,
  );
  const lotAt = new Map(lots.map(({ id }, i) => [id, i]));
  const events = (await rows(
    `SELECT id, kind, animal_id, clutch_id, pen_id, lot_id, locus_id, other_animal_id, value, date, ${day('date_latest')}, method
     FROM observation WHERE kind NOT IN ('sex', 'colour-check', 'declaration', 'seen', 'note', 'health', 'incident')
     ORDER BY date_latest NULLS FIRST, id`,
  )) as EventRow[];
  const of = (kind: string) => events.filter((row) => row[1] === kind);
  const { left, arrivals } = await readTransfers(rows, places);
  const possible = (await rows(
    'SELECT animal_id, clutch_id, probability FROM possible_clutch ORDER BY probability DESC, id',
  )) as [string, string, number][];
  return {
    settings: seasonSettings(settings),
    lots,
    lotStays,
    promotedByClutch,
    hatchedInLots,
    hatchDaysInLots,
    batches: await readBatches(rows, places, of('warmth')),
    eggLosses: eggLosses(of('eggs'), places),
    gone: goneBy([...left, ...endings(events, places)]),
    measurements: measurements(events, places),
    marks: grouped(of('mark'), (row) => ({
      at: at(places.animals, row[2]!),
      row: row[8] as { scheme: string; text: string; isLost: boolean },
    })),
    matings: of('mating').map((row) => ({
      male: at(places.animals, row[2]!),
      female: at(places.animals, row[7]!),
      day: row[10] ?? NO_DAY,
    })),
    breaches: of('breach').map((row) => {
      const { otherPenId, until } = row[8] as { otherPenId: string; until: string | null };
      const pens = [at(places.pens, row[4]!), at(places.pens, otherPenId)] as const;
      return { pens, from: row[9], to: until ?? row[9] };
    }),
    countedLooks: countedLooks(events, places, lotAt, lots),
    tests: of('test').map((row) => ({
      id: row[0],
      animal: at(places.animals, row[2]!),
      locus: at(places.loci, row[6]!),
      ...(row[8] as { alleles: string[]; errorRate: number }),
    })),
    possibleClutches: grouped(possible, ([animalId, clutchId, probability]) => ({
      at: at(places.animals, animalId),
      row: { clutch: at(places.clutches, clutchId), probability },
    })),
    derivedFathers: new Map(),
    arrivals,
    lastSeen: await readLastSeen(rows, places),
  };
}

type EventRow = [
  id: string,
  kind: string,
  animalId: string | null,
  clutchId: string | null,
  penId: string | null,
  lotId: string | null,
  locusId: string | null,
  otherAnimalId: string | null,
  value: unknown,
  date: string | null,
  day: number | null,
  method: string | null,
];

function grouped<Row, Value>(
  list: readonly Row[],
  read: (row: Row) => { at: number; row: Value },
): Map<number, Value[]> {
  const groups = new Map<number, Value[]>();
  for (const each of list) {
    const { at: key, row } = read(each);
    const group = groups.get(key);
    if (group) group.push(row);
    else groups.set(key, [row]);
  }
  return groups;
}

async function readBatches(
  rows: Rows,
  { clutches }: Places,
  warmth: readonly EventRow[],
): Promise<BatchRow[]> {
  const batches = (await rows(
    'SELECT id, clutch_id, label, eggs, set_on FROM egg_batch ORDER BY clutch_id, set_on_earliest NULLS FIRST, label',
  )) as [string, string, string, number, string | null][];
  return batches.map(([id, clutchId, label, eggs, setOn]) => ({
    id,
    clutch: at(clutches, clutchId),
    label,
    eggs,
    setOn,
    warmth: warmth
      .filter((row) => row[3] === clutchId && (row[8] as { label: string }).label === label)
      .map((row) => ({
        day: row[10] ?? NO_DAY,
        celsius: (row[8] as { celsius: number }).celsius,
      })),
  }));
}

function eggLosses(events: readonly EventRow[], { clutches }: Places): Map<number, EggLosses> {
  const sums = new Map<number, EggLosses>();
  for (const row of events) {
    const clutch = at(clutches, row[3]!);
    const value = row[8] as Partial<EggLosses>;
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

function endings(events: readonly EventRow[], { animals }: Places): Ending[] {
  return events.flatMap((row): Ending[] => {
    const [, kind, animalId, , , , , , value, date, onDay] = row;
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
function goneBy(endings: readonly Ending[]): Map<number, Gone> {
  const gone = new Map<number, Gone>();
  for (const [animal, end] of [...endings].sort((a, b) => a[2] - b[2])) {
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

async function readTransfers(rows: Rows, { animals }: Places) {
  const transfers = (await rows(
    `SELECT animal_id, way, date, ${day('date_earliest')}, ${day('date_latest')} FROM transfer
     WHERE animal_id IS NOT NULL ORDER BY date_latest NULLS FIRST, id`,
  )) as [string, string, string | null, number | null, number | null][];
  const arrivals = new Map<number, { earliest: number; latest: number }>();
  const left = transfers.map(([animalId, way, date, earliest, latest]): Ending => {
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

const SIZES = { scl: 'mm', plastron: 'mm', curved: 'mm', mass: 'g' } as const;

function measurements(events: readonly EventRow[], { animals }: Places) {
  const sizes = events.filter((row) => row[1] in SIZES && row[2] !== null);
  return grouped(sizes, (row) => {
    const kind = row[1] as MeasurementRow['kind'];
    return {
      at: at(animals, row[2]!),
      row: {
        kind,
        value: (row[8] as Record<string, number>)[SIZES[kind]],
        date: row[9],
        day: row[10] ?? NO_DAY,
        method: row[11],
      },
    };
  });
}

function countedLooks(
  events: readonly EventRow[],
  { clutches, traits }: Places,
  lotAt: ReadonlyMap<string, number>,
  lots: SeasonRecords['lots'],
): CountedLook[] {
  return events.flatMap((row): CountedLook[] => {
    const [id, kind, , clutchId, , lotId, , , value] = row;
    const counted = value as {
      looked?: number;
      counts?: { traitId: string; count: number }[];
      embryosSeen?: { traitId: string; count: number }[];
    };
    const isEmbryo = kind === 'eggs' && (counted.embryosSeen?.length ?? 0) > 0;
    if (kind !== 'colour-count' && !isEmbryo) return [];
    const seen = (counted.embryosSeen ?? counted.counts ?? []).map(
      ({ traitId, count }) => [at(traits, traitId), count] as const,
    );
    const of = clutchId
      ? [at(clutches, clutchId)]
      : lotId
        ? [...lots[at(lotAt, lotId)].clutches.keys()]
        : [];
    const looked = counted.looked ?? seen.reduce((sum, [, count]) => sum + count, 0);
    return [{ id, clutches: of, looked, seen, isEmbryo }];
  });
}

async function readLastSeen(rows: Rows, { animals }: Places): Promise<Int32Array> {
  const last = (await rows(
    `SELECT animal_id, max(on_day) - date '1970-01-01' FROM (
       SELECT animal_id, date_latest AS on_day FROM observation WHERE animal_id IS NOT NULL AND kind NOT IN ('note', 'declaration', 'test', 'death')
       UNION ALL SELECT animal_id, from_latest FROM stay WHERE animal_id IS NOT NULL
     ) AS seen WHERE on_day IS NOT NULL GROUP BY animal_id`,
  )) as [string, number][];
  const column = sharedInt32(new Int32Array(animals.size).fill(NO_DAY));
  for (const [animalId, onDay] of last) column[at(animals, animalId)] = onDay;
  return column;
}
