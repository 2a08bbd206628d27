import { type Fault, FaultsError, type PartialDate } from '@scutewright/basics';
import type { ContactInput } from './candidate-sires.js';
import { type DayRanges, dayCount, daysFrom, intersection, union, without } from './day-ranges.js';
import {
  daysBetween,
  type MatureFrom,
  readDate,
  readMatureFrom,
  readStays,
  type Stay,
  type StayInput,
  yearsBefore,
} from './occupancy.js';

/** How access is turned into probabilities. Ours: common practice, no source; every figure can be set. */
export interface FatherRule {
  /** How long sperm may be stored; 3 years supported, 4 the cautious setting (sources at `candidateSires`). */
  readonly storageYears: number;
  /** A day of access this many years before the laying counts half as much as one at the laying. */
  readonly recencyHalfYears: number;
  /** What a day of access counts when it is only possible: dates are rough, or the male may not have been mature. */
  readonly possibleDay: number;
  /** A mating that was seen counts as so many days together. */
  readonly matingDays: number;
  /** The least share of a male that nobody recorded. */
  readonly unrecordedShare: number;
}

export const DEFAULT_FATHER_RULE: FatherRule = {
  storageYears: 4,
  recencyHalfYears: 1,
  possibleDay: 0.5,
  matingDays: 60,
  unrecordedShare: 0.05,
};

export interface FathersInput {
  readonly rule: FatherRule;
  readonly clutches: readonly {
    readonly id: string;
    /** Day, month or year of laying. */
    readonly laid: string;
    /** Possible dams; what is missing to 1 is a dam nobody recorded. */
    readonly dams: readonly { readonly id: string; readonly probability: number }[];
  }[];
  readonly animals: readonly {
    readonly id: string;
    /** Null: not known, so possibly a male. */
    readonly sex: 'm' | 'f' | null;
    readonly mature_from?: readonly [string, string] | null;
  }[];
  readonly stays: readonly StayInput[];
  /** Between pens; those between two animals are not read here. */
  readonly contacts?: readonly ContactInput[];
  /** Days since 1970-01-01. */
  readonly matings?: readonly {
    readonly male: string;
    readonly female: string;
    readonly day: number;
  }[];
}

export interface PossibleFather {
  readonly id: string;
  readonly probability: number;
  /** Days on which he had access to her, possibly and surely; matings seen; the last day he may have had (since 1970-01-01). */
  readonly possibleDays: number;
  readonly certainDays: number;
  readonly matingsSeen: number;
  readonly lastPossibleDay: number;
}

export interface PossibleFathers {
  readonly clutch: string;
  /** Most probable first. */
  readonly fathers: readonly PossibleFather[];
  /** The share of a male that nobody recorded. */
  readonly unrecorded: number;
}

const YEAR = 365.25;

/**
 * Who may be the father of each clutch and how probably, before any colour is looked at: every male with access by the day
 * rules of `candidateSires`. A male weighs the days on which he shared a pen with her, each counted less the longer ago it was
 * (half per `recencyHalfYears`), `possibleDay` where it is only possible; a mating seen adds `matingDays` at its day. A male
 * nobody recorded weighs as one more that was possibly with her on every day for which nothing says where she was, and keeps at
 * least `unrecordedShare`. With several possible dams the shares are mixed by their probabilities: who goes with which dam is
 * not kept. Days are measured continuously. Throws FaultsError (`BAD_DATE`, `BAD_STAY`). Cost: for each clutch one pass over
 * the stays in the pens the dam was in.
 */
export function possibleFathers(input: FathersInput): PossibleFathers[] {
  const faults: Fault[] = [];
  const yard = readYard(input, faults);
  const answers = input.clutches.map((clutch): PossibleFathers => {
    const laid = readDate(clutch.laid, `The laying of ${clutch.id}`, faults);
    const shares = new Map<string, PossibleFather>();
    let unrecorded = 1 - clutch.dams.reduce((sum, { probability }) => sum + probability, 0);
    for (const dam of clutch.dams) {
      const weighed = weighFathers(yard, dam.id, laid, input.rule);
      unrecorded += dam.probability * weighed.unrecorded;
      for (const father of weighed.fathers) {
        const known = shares.get(father.id);
        const probability = (known?.probability ?? 0) + dam.probability * father.probability;
        shares.set(father.id, { ...(known ?? father), probability });
      }
    }
    const fathers = [...shares.values()].sort((a, b) => b.probability - a.probability);
    return { clutch: clutch.id, fathers, unrecorded: Math.max(0, unrecorded) };
  });
  if (faults.length > 0) throw new FaultsError(faults);
  return answers;
}

/** The stays of males in a pen, with their first and last possible days in columns: one pass finds those that matter. */
interface PenBook {
  readonly stays: readonly Stay[];
  readonly from: Float64Array;
  readonly to: Float64Array;
}

interface FathersYard {
  readonly males: ReadonlyMap<string, { readonly isSure: boolean; readonly mature: MatureFrom }>;
  readonly mature: ReadonlyMap<string, MatureFrom>;
  readonly staysOf: ReadonlyMap<string, readonly Stay[]>;
  readonly pens: ReadonlyMap<string, PenBook>;
  /** By pen: pens that stood open to it, and when. */
  readonly open: ReadonlyMap<string, readonly { readonly pen: string; readonly days: DayRanges }[]>;
  readonly matings: ReadonlyMap<string, readonly { readonly male: string; readonly day: number }[]>;
}

function readYard(input: FathersInput, faults: Fault[]): FathersYard {
  const stays = readStays(input.stays, faults);
  const mature = new Map(
    input.animals.map(({ id, mature_from }) => [id, readMatureFrom(mature_from, id, faults)]),
  );
  const open = (input.contacts ?? []).flatMap(({ pens, from, to }) => {
    if (!pens) return [];
    const days = daysBetween(from, to, 'A contact', faults).possible;
    return [
      { at: pens[0], pen: pens[1], days },
      { at: pens[1], pen: pens[0], days },
    ];
  });
  const males = new Map(
    input.animals
      .filter(({ sex }) => sex !== 'f')
      .map(({ id, sex }) => [id, { isSure: sex === 'm', mature: mature.get(id)! }]),
  );
  const ofMales = stays.filter(({ animal }) => males.has(animal));
  return {
    mature,
    males,
    staysOf: groupBy(stays, ({ animal }) => animal),
    pens: new Map(
      [...groupBy(ofMales, ({ pen }) => pen)].map(([pen, own]) => [
        pen,
        {
          stays: own,
          from: Float64Array.from(
            own,
            ({ possible }) => possible[0]?.[0] ?? Number.POSITIVE_INFINITY,
          ),
          to: Float64Array.from(
            own,
            ({ possible }) => possible[0]?.[1] ?? Number.NEGATIVE_INFINITY,
          ),
        },
      ]),
    ),
    open: groupBy(open, ({ at }) => at),
    matings: groupBy(input.matings ?? [], ({ female }) => female),
  };
}

type Access = { readonly possible: DayRanges[]; readonly certain: DayRanges[] };

function weighFathers(
  yard: FathersYard,
  dam: string,
  laid: Pick<PartialDate, 'earliest' | 'latest'>,
  rule: FatherRule,
): Pick<PossibleFathers, 'fathers' | 'unrecorded'> {
  const before = (day: number): number => yearsBefore(day, rule.storageYears);
  const her = yard.mature.get(dam) ?? {
    possible: Number.NEGATIVE_INFINITY,
    certain: Number.POSITIVE_INFINITY,
  };
  const window = intersection(daysFrom(before(laid.earliest), laid.latest), since(her.possible));
  const sureWindow = intersection(daysFrom(before(laid.latest), laid.earliest), since(her.certain));
  const own = (yard.staysOf.get(dam) ?? []).filter(
    ({ possible }) => intersection(possible, window).length > 0,
  );
  const met = meetings(yard, dam, own, window);
  const end = laid.latest;
  const recentDays = (ranges: DayRanges): number =>
    ranges.reduce((sum, [from, to]) => sum + discounted(from, to, end, rule), 0);
  const start = before(laid.earliest);
  const matings = (yard.matings.get(dam) ?? []).filter(({ day }) => day <= end && day >= start);
  const weighed = [...met].flatMap(([id, access]) => {
    const male = yard.males.get(id)!;
    const possible = intersection(
      intersection(union(access.possible), window),
      since(male.mature.possible),
    );
    if (possible.length === 0) return [];
    const certain = male.isSure
      ? intersection(intersection(union(access.certain), sureWindow), since(male.mature.certain))
      : [];
    const sure = recentDays(certain);
    const seen = matings.filter((mating) => mating.male === id);
    const half = YEAR * rule.recencyHalfYears;
    const bySight = seen.reduce(
      (sum, { day }) => sum + rule.matingDays * 0.5 ** ((end - day) / half),
      0,
    );
    return {
      id,
      weight: sure + rule.possibleDay * (recentDays(possible) - sure) + bySight,
      possibleDays: dayCount(possible),
      certainDays: dayCount(certain),
      matingsSeen: seen.length,
      lastPossibleDay: possible.at(-1)![1] - 1,
    };
  });
  const unrecordedDays = without(window, union(own.map(({ possible }) => possible)));
  const stranger = rule.possibleDay * recentDays(unrecordedDays);
  const total = weighed.reduce((sum, { weight }) => sum + weight, stranger);
  if (total === 0) return { fathers: [], unrecorded: 1 };
  const named = 1 - rule.unrecordedShare;
  return {
    fathers: weighed.map(({ weight, ...father }) => ({
      ...father,
      probability: (named * weight) / total,
    })),
    unrecorded: rule.unrecordedShare + (named * stranger) / total,
  };
}

/** Days on which each male was in one of her pens, or in one that stood open to it. */
function meetings(
  yard: FathersYard,
  dam: string,
  own: readonly Stay[],
  window: DayRanges,
): Map<string, Access> {
  const met = new Map<string, Access>();
  const meet = (pen: string, hers: DayRanges, surely: DayRanges): void => {
    const book = yard.pens.get(pen);
    if (!book || hers.length === 0) return;
    const [first, last] = [hers[0][0], hers.at(-1)![1]];
    for (let i = 0; i < book.stays.length; i++) {
      if (book.from[i] >= last || book.to[i] <= first) continue;
      const his = book.stays[i];
      if (his.animal === dam) continue;
      const possible = intersection(his.possible, hers);
      if (possible.length === 0) continue;
      const access = met.get(his.animal) ?? { possible: [], certain: [] };
      met.set(his.animal, access);
      access.possible.push(possible);
      access.certain.push(intersection(his.certain, surely));
    }
  };
  for (const stay of own) {
    const possible = intersection(stay.possible, window);
    meet(stay.pen, possible, stay.certain);
    for (const { pen, days } of yard.open.get(stay.pen) ?? [])
      meet(pen, intersection(possible, days), []);
  }
  return met;
}

function since(day: number): DayRanges {
  return daysFrom(day, Number.POSITIVE_INFINITY);
}

/** Integral of 2^(-(end - d) / half) over [from, to), to <= end: days, each counted by its recency. */
function discounted(
  from: number,
  to: number,
  end: number,
  { recencyHalfYears }: FatherRule,
): number {
  const half = YEAR * recencyHalfYears;
  return (half / Math.LN2) * (0.5 ** ((end - to) / half) - 0.5 ** ((end - from) / half));
}

function groupBy<Row>(rows: readonly Row[], keyOf: (row: Row) => string): Map<string, Row[]> {
  const groups = new Map<string, Row[]>();
  for (const row of rows) {
    const group = groups.get(keyOf(row));
    if (group) group.push(row);
    else groups.set(keyOf(row), [row]);
  }
  return groups;
}
