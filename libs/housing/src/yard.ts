import { dayText } from '@scutewright/basics';
import { type DayRanges, daysFrom, intersection, union } from './day-ranges.js';
import type { AreaRule } from './floor-area.js';
import type { MatureFrom, Stay } from './occupancy.js';

/** An animal as far as pens are concerned. Days count from 1970-01-01. */
export interface YardAnimal {
  readonly id: string;
  readonly species: string;
  /** Null: not known, so possibly either. */
  readonly sex: 'm' | 'f' | null;
  readonly mature: MatureFrom;
  /** Latest straight carapace length; null where never measured. */
  readonly sclMm: number | null;
  /** When it came from elsewhere: first and last day possible; null: hatched here or long settled. */
  readonly arrived: { readonly earliest: number; readonly latest: number } | null;
}

export interface YardPen {
  readonly id: string;
  /** Null where not recorded: then no rule of space can be checked. */
  readonly areaM2: number | null;
  /** Animals that the breeder means it for; null where not set. */
  readonly capacity: number | null;
}

/** What the breeder set, with the defaults of `DEFAULT_PEN_SETTINGS`. */
export interface PenSettings {
  /** Females wanted for each mature male in a pen with females. */
  readonly femalesPerMale: number;
  /** F of young from which an accidental pairing is flagged, and from which it is a warning. */
  readonly noteF: number;
  readonly warnF: number;
  /** Flag when the longest shell is more than this many times the shortest. */
  readonly sizeRatio: number;
  readonly quarantineDays: number;
  readonly areaRules: readonly AreaRule[];
  /** Matings meant to be the only ones of the female: other males beside her blur the paternity. */
  readonly planned: readonly { readonly male: string; readonly female: string }[];
}

export const DEFAULT_PEN_SETTINGS: PenSettings = {
  femalesPerMale: 3,
  noteF: 1 / 16,
  warnF: 1 / 8,
  sizeRatio: 2,
  quarantineDays: 30,
  areaRules: [],
  planned: [],
};

export interface Yard {
  readonly animals: readonly YardAnimal[];
  readonly pens: readonly YardPen[];
  readonly stays: readonly Stay[];
  /** First day looked at, and the first no longer looked at. */
  readonly from: number;
  readonly horizon: number;
  /** Kinship of two animals = F of their young; null where nothing is recorded behind one of them. */
  kinship(a: string, b: string): number | null;
  readonly settings: PenSettings;
}

/** One thing that a rule found: from when it may be, from when it surely is, until when, and what to do. */
export interface PenFlag {
  readonly rule: string;
  readonly pen: string;
  readonly animals: readonly string[];
  readonly severity: 'danger' | 'warning' | 'note';
  /** Texts YYYY-MM-DD; null: not certain within the horizon; not over within it. */
  readonly possibleFrom: string;
  readonly certainFrom: string | null;
  readonly overOn: string | null;
  /** One sentence, and what to do in another. */
  readonly message: string;
  readonly remedy: string;
  /** Published source, or 'common practice, no source'. Local codes, permits and a veterinarian prevail. */
  readonly source: string;
}

export interface PenRule {
  readonly id: string;
  /** A few words for a list of the rules, and in a sentence what it goes by. */
  readonly title: string;
  setting(settings: PenSettings): string;
  readonly source: string;
  /** Every flag of the yard by this rule. */
  check(yard: Yard): PenFlag[];
}

/** Days on which something may be, and on which it surely is. */
export interface When {
  readonly possible: DayRanges;
  readonly certain: DayRanges;
}

/** Two animals that share a pen on some day looked at. */
export interface Meeting extends When {
  readonly pen: string;
  readonly a: YardAnimal;
  readonly b: YardAnimal;
}

/** Every pair that may share a pen within the days looked at. Cost: pairs of stays in one pen. */
export function meetings(yard: Yard): Meeting[] {
  const animals = new Map(yard.animals.map((animal) => [animal.id, animal]));
  const looked = daysFrom(yard.from, yard.horizon);
  const found = new Map<string, Meeting>();
  for (const stays of byPen(yard).values()) {
    for (const [i, one] of stays.entries()) {
      for (const other of stays.slice(i + 1)) {
        if (one.animal === other.animal) continue;
        const possible = intersection(intersection(one.possible, other.possible), looked);
        if (possible.length === 0) continue;
        const certain = intersection(intersection(one.certain, other.certain), looked);
        const [first, second] = [one.animal, other.animal].sort();
        const key = JSON.stringify([one.pen, first, second]);
        const known = found.get(key);
        found.set(key, {
          pen: one.pen,
          a: animals.get(first)!,
          b: animals.get(second)!,
          possible: known ? union([known.possible, possible]) : possible,
          certain: known ? union([known.certain, certain]) : certain,
        });
      }
    }
  }
  return [...found.values()];
}

export function byPen(yard: Yard): ReadonlyMap<string, readonly Stay[]> {
  const pens = new Map<string, Stay[]>();
  for (const stay of yard.stays) {
    const list = pens.get(stay.pen) ?? [];
    list.push(stay);
    pens.set(stay.pen, list);
  }
  return pens;
}

/** An animal that may be, and one that surely is, in a pen on a day. */
export interface Occupants {
  readonly possible: readonly YardAnimal[];
  readonly certain: readonly YardAnimal[];
}

/**
 * When a condition on who is in a pen holds: checked between the days on which anybody comes, goes or may or must be
 * mature. The condition answers whether it may hold and whether it surely does.
 */
export function whenOccupants(
  yard: Yard,
  stays: readonly Stay[],
  condition: (
    occupants: Occupants,
    day: number,
  ) => { readonly possible: boolean; readonly certain: boolean },
): When {
  const animals = new Map(yard.animals.map((animal) => [animal.id, animal]));
  const breaks = new Set([yard.from]);
  for (const stay of stays) {
    const { mature } = animals.get(stay.animal)!;
    const days = [...stay.possible.flat(), ...stay.certain.flat(), mature.possible, mature.certain];
    for (const day of days) if (day > yard.from && day < yard.horizon) breaks.add(day);
  }
  const starts = [...breaks].sort((a, b) => a - b);
  const possible: DayRanges[] = [];
  const certain: DayRanges[] = [];
  for (const [i, day] of starts.entries()) {
    const inPen = (of: (stay: Stay) => DayRanges): YardAnimal[] => {
      const here = stays.filter((stay) => of(stay).some(([from, to]) => from <= day && day < to));
      return [...new Set(here.map((stay) => stay.animal))].map((id) => animals.get(id)!);
    };
    const occupants = {
      possible: inPen((stay) => stay.possible),
      certain: inPen((stay) => stay.certain),
    };
    const holds = condition(occupants, day);
    const days = daysFrom(day, starts[i + 1] ?? yard.horizon);
    if (holds.possible || holds.certain) possible.push(days);
    if (holds.certain) certain.push(days);
  }
  return { possible: union(possible), certain: union(certain) };
}

/** Days from which two may both be mature, and from which they surely are. */
export function bothMature(when: When, a: YardAnimal, b: YardAnimal): When {
  const end = Number.POSITIVE_INFINITY;
  return {
    possible: intersection(
      when.possible,
      daysFrom(Math.max(a.mature.possible, b.mature.possible), end),
    ),
    certain: intersection(
      when.certain,
      daysFrom(Math.max(a.mature.certain, b.mature.certain), end),
    ),
  };
}

/** The flag of a rule, or none when it never may hold within the days looked at. */
export function flag(
  yard: Yard,
  rule: Pick<PenRule, 'id' | 'source'>,
  when: When,
  about: Pick<PenFlag, 'pen' | 'animals' | 'severity' | 'message' | 'remedy'>,
): PenFlag[] {
  if (when.possible.length === 0) return [];
  const end = when.possible.at(-1)![1];
  return [
    {
      rule: rule.id,
      ...about,
      possibleFrom: dayText(when.possible[0][0]),
      certainFrom: when.certain.length > 0 ? dayText(when.certain[0][0]) : null,
      overOn: end < yard.horizon ? dayText(end) : null,
      source: rule.source,
    },
  ];
}
