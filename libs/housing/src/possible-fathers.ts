import { invariant, parsePartialDate } from '@scutewright/basics';
import { type CandidateSires, type ContactInput, candidateSires } from './candidate-sires.js';
import type { DayRanges } from './day-ranges.js';
import type { StayInput } from './occupancy.js';

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
  /** Days on which he had access to a possible dam, possibly and surely; matings seen; the last day he may have. */
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
 * Who may be the father of each clutch and how probably, before any colour is looked at: every male with access between the
 * laying less the storage time and the laying. A male weighs the days on which he shared a pen with her, each counted less the
 * longer ago it was (half per `recencyHalfYears`), `possibleDay` where it is only possible; a mating seen adds `matingDays`
 * at its day. A male nobody recorded weighs as one more that was possibly with her on every day for which nothing says where
 * she was, and keeps at least `unrecordedShare`. With several possible dams the shares are mixed by their probabilities: who
 * goes with which dam is not kept. Days are measured continuously. Cost: stays of the dam x stays in the same pens.
 */
export function possibleFathers(input: FathersInput): PossibleFathers[] {
  const animals = new Map(input.animals.map((animal) => [animal.id, animal]));
  const staysOf = groupBy(input.stays, ({ animal }) => animal);
  const staysIn = groupBy(input.stays, ({ pen }) => pen);
  const contacts = input.contacts ?? [];
  const penContacts = groupBy(
    contacts.flatMap(({ pens }) => (pens ? [pens, [pens[1], pens[0]] as const] : [])),
    ([pen]) => pen,
  );
  const matingsOf = groupBy(input.matings ?? [], ({ female }) => female);
  return input.clutches.map((clutch) => {
    const shares = new Map<string, PossibleFather>();
    let unrecorded = 1 - clutch.dams.reduce((sum, { probability }) => sum + probability, 0);
    for (const dam of clutch.dams) {
      const near = neighbours(dam.id, staysOf, staysIn, penContacts);
      const found = candidateSires({
        window_years: input.rule.storageYears,
        dam: dam.id,
        laid: clutch.laid,
        animals: [...near].map((id) => animals.get(id)!),
        stays: [...near].flatMap((id) => staysOf.get(id) ?? []),
        contacts: contacts.filter(({ pens }) => pens),
      });
      const weighed = weigh(found, clutch.laid, matingsOf.get(dam.id) ?? [], input.rule);
      unrecorded += dam.probability * weighed.unrecorded;
      for (const father of weighed.fathers) {
        const known = shares.get(father.id);
        const probability = (known?.probability ?? 0) + dam.probability * father.probability;
        shares.set(father.id, { ...(known ?? father), probability });
      }
    }
    return {
      clutch: clutch.id,
      fathers: [...shares.values()].sort((a, b) => b.probability - a.probability),
      unrecorded: Math.max(0, unrecorded),
    };
  });
}

function weigh(
  found: CandidateSires,
  laid: string,
  matings: readonly { readonly male: string; readonly day: number }[],
  rule: FatherRule,
): Pick<PossibleFathers, 'fathers' | 'unrecorded'> {
  const end = lastDayOf(laid);
  const start = end - rule.storageYears * YEAR - YEAR;
  const recency = (day: number): number =>
    0.5 ** (Math.max(0, end - day) / (YEAR * rule.recencyHalfYears));
  const daysOf = (ranges: DayRanges): number =>
    ranges.reduce(
      (sum, [from, to]) => sum + recentDays(Math.max(from, start), Math.min(to, end), end, rule),
      0,
    );
  const weighed = found.access.map((access) => {
    const seen = matings.filter(
      ({ male, day }) => male === access.id && day <= end && day >= start,
    );
    const certain = daysOf(access.certain);
    const possible = daysOf(access.possible) - certain;
    const matingWeight = seen.reduce((sum, { day }) => sum + rule.matingDays * recency(day), 0);
    return {
      access,
      seen: seen.length,
      weight: certain + rule.possibleDay * possible + matingWeight,
    };
  });
  const stranger = rule.possibleDay * daysOf(found.unrecordedDays);
  const total = weighed.reduce((sum, { weight }) => sum + weight, stranger);
  if (total === 0) return { fathers: [], unrecorded: 1 };
  const named = 1 - rule.unrecordedShare;
  const fathers = weighed
    .filter(({ weight }) => weight > 0)
    .map(({ access, seen, weight }) => ({
      id: access.id,
      probability: (named * weight) / total,
      possibleDays: access.possibleDays,
      certainDays: access.certainDays,
      matingsSeen: seen,
      lastPossibleDay: access.lastPossibleDay,
    }));
  return { fathers, unrecorded: rule.unrecordedShare + (named * stranger) / total };
}

/** Integral of 2^(-(end - d) / (half a year's days)) over [from, to), to <= end: days, each counted by its recency. */
function recentDays(
  from: number,
  to: number,
  end: number,
  { recencyHalfYears }: FatherRule,
): number {
  if (from >= to) return 0;
  const half = YEAR * recencyHalfYears;
  return (half / Math.LN2) * (0.5 ** ((end - to) / half) - 0.5 ** ((end - from) / half));
}

/** The dam and everybody who was ever in one of her pens, or in one that was open to it. */
function neighbours(
  dam: string,
  staysOf: ReadonlyMap<string, readonly StayInput[]>,
  staysIn: ReadonlyMap<string, readonly StayInput[]>,
  penContacts: ReadonlyMap<string, readonly (readonly [string, string])[]>,
): Set<string> {
  const near = new Set([dam]);
  for (const { pen } of staysOf.get(dam) ?? []) {
    for (const open of [pen, ...(penContacts.get(pen) ?? []).map(([, other]) => other)]) {
      for (const { animal } of staysIn.get(open) ?? []) near.add(animal);
    }
  }
  return near;
}

function lastDayOf(laid: string): number {
  const date = parsePartialDate(laid);
  invariant(date !== null, `candidateSires refuses the laying date '${laid}'`);
  return date.latest;
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
