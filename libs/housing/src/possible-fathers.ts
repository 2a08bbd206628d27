import { type Fault, FaultsError, type PartialDate } from '@scutewright/basics';
import type { ContactInput } from './candidate-sires.js';
import { type DayRanges, daysFrom, intersection, union, without } from './day-ranges.js';
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
    readonly dams: readonly {
      readonly id: string;
      readonly probability: number;
      /** Where her species, or the yard in her time, has another figure than the rule. */
      readonly storageYears?: number;
      readonly unrecordedShare?: number;
    }[];
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
    const shares = new Map<string, WeighedFather>();
    let unrecorded = 1 - clutch.dams.reduce((sum, { probability }) => sum + probability, 0);
    for (const dam of clutch.dams) {
      const weighed = weighFathers(yard, dam.id, laid, {
        ...input.rule,
        ...(dam.storageYears !== undefined && { storageYears: dam.storageYears }),
        ...(dam.unrecordedShare !== undefined && { unrecordedShare: dam.unrecordedShare }),
      });
      unrecorded += dam.probability * weighed.unrecorded;
      for (const father of weighed.fathers) {
        const known = shares.get(father.id);
        if (known) known.probability += dam.probability * father.probability;
        else {
          father.probability *= dam.probability;
          shares.set(father.id, father);
        }
      }
    }
    const fathers = [...shares.values()].sort((one, two) => two.probability - one.probability);
    return { clutch: clutch.id, fathers, unrecorded: Math.max(0, unrecorded) };
  });
  if (faults.length > 0) throw new FaultsError(faults);
  return answers;
}

/**
 * The stays of males in a pen as columns: whose (position among the males), the first and last day it possibly and surely
 * ran. An empty stretch begins at infinity.
 */
interface PenBook {
  readonly male: Int32Array;
  readonly from: Float64Array;
  readonly to: Float64Array;
  readonly sureFrom: Float64Array;
  readonly sureTo: Float64Array;
}

interface Male {
  readonly id: string;
  readonly isSure: boolean;
  readonly mature: MatureFrom;
}

interface FathersYard {
  readonly males: readonly Male[];
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
  const males = input.animals
    .filter(({ sex }) => sex !== 'f')
    .map(({ id, sex }): Male => ({ id, isSure: sex === 'm', mature: mature.get(id)! }));
  const position = new Map(males.map(({ id }, at) => [id, at]));
  const ofMales = stays.filter(({ animal }) => position.has(animal));
  const column = (own: readonly Stay[], which: 'possible' | 'certain', end: 0 | 1) =>
    Float64Array.from(own, (stay) => stay[which][0]?.[end] ?? (end === 0 ? Infinity : -Infinity));
  return {
    mature,
    males,
    staysOf: groupBy(stays, ({ animal }) => animal),
    pens: new Map(
      [...groupBy(ofMales, ({ pen }) => pen)].map(([pen, own]) => [
        pen,
        {
          male: Int32Array.from(own, ({ animal }) => position.get(animal)!),
          from: column(own, 'possible', 0),
          to: column(own, 'possible', 1),
          sureFrom: column(own, 'certain', 0),
          sureTo: column(own, 'certain', 1),
        },
      ]),
    ),
    open: groupBy(open, ({ at }) => at),
    matings: groupBy(input.matings ?? [], ({ female }) => female),
  };
}

/** One that is still being weighed: hundreds of thousands of them are made, so none is copied. */
type WeighedFather = { -readonly [Key in keyof PossibleFather]: PossibleFather[Key] };

/** Stretches of days as from, to, from, to ...: flat, because a program has hundreds of thousands of them. */
type Stretches = number[];
const NONE: Stretches = [];

function weighFathers(
  yard: FathersYard,
  dam: string,
  laid: Pick<PartialDate, 'earliest' | 'latest'>,
  rule: FatherRule,
): { readonly fathers: readonly WeighedFather[]; readonly unrecorded: number } {
  const before = (day: number): number => yearsBefore(day, rule.storageYears);
  const her = yard.mature.get(dam) ?? {
    possible: Number.NEGATIVE_INFINITY,
    certain: Number.POSITIVE_INFINITY,
  };
  const start = before(laid.earliest);
  const end = laid.latest;
  const window = daysFrom(Math.max(start, her.possible), end);
  const sure = [Math.max(before(laid.latest), her.certain), laid.earliest] as const;
  const own = (yard.staysOf.get(dam) ?? []).filter(
    ({ possible }) => intersection(possible, window).length > 0,
  );
  const { possible, certain } = meetings(yard, dam, own, window, sure);
  const matings = (yard.matings.get(dam) ?? []).filter(({ day }) => day <= end && day >= start);
  const half = YEAR * rule.recencyHalfYears;
  const fathers: WeighedFather[] = [];
  let total = 0;
  for (const [at, days] of possible) {
    const { id } = yard.males[at];
    const sureDays = certain.get(at) ?? NONE;
    const recent = recentDays(days, end, half);
    const surely = recentDays(sureDays, end, half);
    let weight = surely + rule.possibleDay * (recent - surely);
    let matingsSeen = 0;
    for (const { male, day } of matings) {
      if (male !== id) continue;
      matingsSeen++;
      weight += rule.matingDays * 0.5 ** ((end - day) / half);
    }
    total += weight;
    fathers.push({
      id,
      // Its weight, until all are known.
      probability: weight,
      possibleDays: lengthOf(days),
      certainDays: lengthOf(sureDays),
      matingsSeen,
      lastPossibleDay: days[days.length - 1] - 1,
    });
  }
  const unrecordedDays = without(window, union(own.map((stay) => stay.possible)));
  const stranger = rule.possibleDay * recentDays(unrecordedDays.flat(), end, half);
  total += stranger;
  if (total === 0) return { fathers: [], unrecorded: 1 };
  const named = 1 - rule.unrecordedShare;
  for (const father of fathers) father.probability *= named / total;
  return { fathers, unrecorded: rule.unrecordedShare + (named * stranger) / total };
}

/**
 * Days on which each male was in one of her pens, or in one that stood open to it, once he may be mature; by his position.
 * `sure`: the days that count for certain.
 */
function meetings(
  yard: FathersYard,
  dam: string,
  own: readonly Stay[],
  window: DayRanges,
  sure: readonly [number, number],
): { possible: Map<number, Stretches>; certain: Map<number, Stretches> } {
  const possible = new Map<number, Stretches>();
  const certain = new Map<number, Stretches>();
  const meet = (pen: string, hers: DayRanges, surely: DayRanges): void => {
    const book = yard.pens.get(pen);
    if (!book) return;
    for (const [first, last] of hers) {
      for (let i = 0; i < book.male.length; i++) {
        if (book.from[i] >= last || book.to[i] <= first) continue;
        const at = book.male[i];
        const { id, isSure, mature } = yard.males[at];
        if (id === dam) continue;
        add(
          possible,
          at,
          Math.max(book.from[i], first, mature.possible),
          Math.min(book.to[i], last),
        );
        if (!isSure || surely.length === 0) continue;
        add(
          certain,
          at,
          Math.max(book.sureFrom[i], surely[0][0], sure[0], mature.certain),
          Math.min(book.sureTo[i], surely[0][1], sure[1]),
        );
      }
    }
  };
  for (const stay of own) {
    const hers = intersection(stay.possible, window);
    meet(stay.pen, hers, stay.certain);
    for (const { pen, days } of yard.open.get(stay.pen) ?? [])
      meet(pen, intersection(hers, days), []);
  }
  for (const by of [possible, certain])
    for (const [at, days] of by) if (days.length > 2) by.set(at, joined(days));
  return { possible, certain };
}

function add(to: Map<number, Stretches>, at: number, first: number, last: number): void {
  if (first >= last) return;
  const known = to.get(at);
  if (known) known.push(first, last);
  else to.set(at, [first, last]);
}

/** The same days, ascending and apart. */
function joined(days: Stretches): Stretches {
  const ranges = Array.from({ length: days.length / 2 }, (_, i) =>
    daysFrom(days[2 * i], days[2 * i + 1]),
  );
  return union(ranges).flat();
}

function lengthOf(days: Stretches): number {
  let sum = 0;
  for (let i = 0; i < days.length; i += 2) sum += days[i + 1] - days[i];
  return sum;
}

/** Integral of 2^(-(end - d) / half) over the days, none of them after `end`: days, each counted by its recency. */
function recentDays(days: Stretches, end: number, half: number): number {
  let sum = 0;
  for (let i = 0; i < days.length; i += 2)
    sum += 0.5 ** ((end - days[i + 1]) / half) - 0.5 ** ((end - days[i]) / half);
  return (half / Math.LN2) * sum;
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
