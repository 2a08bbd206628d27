import { type Fault, FaultsError } from '@scutewright/basics';
import { type DayRanges, dayCount, daysFrom, intersection, union, without } from './day-ranges.js';
import {
  daysBetween,
  readDate,
  readMatureFrom,
  readStays,
  type Stay,
  type StayInput,
  together,
  yearsBefore,
} from './occupancy.js';

/** Two pens (or two animals) between which animals could meet for a while: a gate left open, a fence down. */
export interface ContactInput {
  readonly pens?: readonly [string, string];
  readonly animals?: readonly [string, string];
  readonly from: string | null;
  readonly to: string | null;
}

export interface SireTimelineInput {
  /** How long sperm may be stored, in years; 4 is the cautious setting. */
  readonly window_years: number;
  readonly dam: string;
  /** Day, month or year of laying. */
  readonly laid: string;
  readonly animals: readonly {
    readonly id: string;
    /** Null: not known, so possibly a male. */
    readonly sex: 'm' | 'f' | null;
    readonly mature_from?: string | readonly [string, string] | null;
  }[];
  readonly stays: readonly StayInput[];
  readonly contacts?: readonly ContactInput[];
  /** Males of nobody's that were in a pen, or (without a pen) anywhere in the yard. */
  readonly strangers?: readonly {
    readonly pen?: string | null;
    readonly from: string | null;
    readonly to: string | null;
  }[];
}

export interface CandidateSires {
  /** Ids of animals that may have sired the clutch, in the order of `animals`. */
  readonly possible: readonly string[];
  /** Those of them that beyond doubt had access; access, not paternity. */
  readonly certainAccess: readonly string[];
  /** Those of them that could only have met her by a contact between pens. */
  readonly onlyViaContact: readonly string[];
  /** Whether a male that is not among the animals may have had access. */
  readonly unknownMale: boolean;
  /** For each of `possible`: days of possible and of certain access, and the last possible day (since 1970-01-01). */
  readonly access: readonly {
    readonly id: string;
    readonly possibleDays: number;
    readonly certainDays: number;
    readonly lastPossibleDay: number;
    /** The days themselves. */
    readonly possible: DayRanges;
    readonly certain: DayRanges;
  }[];
  /** Days on which the dam could have met a male, but nothing says where she was. */
  readonly unrecordedDays: DayRanges;
}

/**
 * Which males can have sired a clutch, from who was where and for how long sperm is stored. Access counts on days d with
 * laid - window <= d < laid, both possibly mature; it is certain when they were together beyond doubt on such a day, both certainly mature
 * and the sex known. A stranger in her pen, or days of hers in the window without a recorded stay, leave a male nobody recorded.
 * Sperm storage: 3 years supported (Pearse, Janzen & Avise 2001, Heredity, doi 10.1046/j.1365-2540.2001.00841.x), 4 cautious
 * (Ewing 1943, from memory). The day rules are ours: common practice, no source. Given `{timelines}` it answers each.
 * Throws FaultsError: `BAD_DATE`, `BAD_STAY`, `UNKNOWN_ANIMAL`, `BAD_WINDOW`. Cost: stays of the males x stays of the dam.
 */
export function candidateSires(input: SireTimelineInput): CandidateSires;
export function candidateSires(input: { readonly timelines: readonly SireTimelineInput[] }): {
  readonly timelines: readonly CandidateSires[];
};
export function candidateSires(
  input: SireTimelineInput | { readonly timelines: readonly SireTimelineInput[] },
): CandidateSires | { readonly timelines: readonly CandidateSires[] } {
  if ('timelines' in input) return { timelines: input.timelines.map(ofOneClutch) };
  return ofOneClutch(input);
}

function ofOneClutch(input: SireTimelineInput): CandidateSires {
  const faults: Fault[] = [];
  const stays = readStays(input.stays, faults);
  const mature = new Map(
    input.animals.map(({ id, mature_from }) => [id, readMatureFrom(mature_from, id, faults)]),
  );
  const laid = readDate(input.laid, 'The laying', faults);
  checkAnimals(input, faults);
  const dam = mature.get(input.dam);
  if (faults.length > 0 || !dam) throw new FaultsError(faults);

  const before = (day: number): number => yearsBefore(day, input.window_years);
  const window = intersection(
    daysFrom(before(laid.earliest), laid.latest),
    daysFrom(dam.possible, Number.POSITIVE_INFINITY),
  );
  const certainWindow = intersection(
    daysFrom(before(laid.latest), laid.earliest),
    daysFrom(dam.certain, Number.POSITIVE_INFINITY),
  );

  const found = input.animals.flatMap(({ id, sex }) => {
    if (id === input.dam || sex === 'f') return [];
    const { possible: from, certain } = mature.get(id)!;
    const grown = intersection(window, daysFrom(from, Number.POSITIVE_INFINITY));
    const met = together(stays, input.dam, id);
    const direct = intersection(met.possible, grown);
    const contact = intersection(contactDays(input, stays, id, faults), grown);
    const all = union([direct, contact]);
    if (all.length === 0) return [];
    const surely = intersection(
      intersection(met.certain, certainWindow),
      daysFrom(certain, Number.POSITIVE_INFINITY),
    );
    return {
      id,
      certain: sex === 'm' && surely.length > 0,
      onlyContact: direct.length === 0,
      access: {
        id,
        possibleDays: dayCount(all),
        certainDays: sex === 'm' ? dayCount(surely) : 0,
        lastPossibleDay: all.at(-1)![1] - 1,
        possible: all,
        certain: sex === 'm' ? surely : [],
      },
    };
  });
  const stranger = strangerDays(input, stays, faults);
  if (faults.length > 0) throw new FaultsError(faults);
  const recorded = union(
    stays.filter((stay) => stay.animal === input.dam).map((stay) => stay.possible),
  );
  const unrecordedDays = without(window, recorded);
  return {
    possible: found.map(({ id }) => id),
    certainAccess: found.filter(({ certain }) => certain).map(({ id }) => id),
    onlyViaContact: found.filter(({ onlyContact }) => onlyContact).map(({ id }) => id),
    unknownMale: intersection(stranger, window).length > 0 || unrecordedDays.length > 0,
    access: found.map(({ access }) => access),
    unrecordedDays,
  };
}

function contactDays(
  input: SireTimelineInput,
  stays: readonly Stay[],
  male: string,
  faults: Fault[],
): DayRanges {
  const found = (input.contacts ?? []).flatMap((contact) => {
    const { possible } = daysBetween(contact.from, contact.to, 'A contact', faults);
    if (contact.animals) {
      const isTheirs = contact.animals.includes(male) && contact.animals.includes(input.dam);
      return isTheirs ? [possible] : [];
    }
    const [one, other] = contact.pens ?? [];
    return [
      [one, other],
      [other, one],
    ].map(([his, hers]) =>
      intersection(
        intersection(daysIn(stays, male, his), daysIn(stays, input.dam, hers)),
        possible,
      ),
    );
  });
  return union(found);
}

function daysIn(stays: readonly Stay[], animal: string, pen: string | undefined): DayRanges {
  const own = stays.filter((stay) => stay.animal === animal && stay.pen === pen);
  return union(own.map((stay) => stay.possible));
}

function strangerDays(
  input: SireTimelineInput,
  stays: readonly Stay[],
  faults: Fault[],
): DayRanges {
  const found = (input.strangers ?? []).map(({ pen, from, to }) => {
    const { possible } = daysBetween(from, to, 'A stranger', faults);
    return pen ? intersection(possible, daysIn(stays, input.dam, pen)) : possible;
  });
  return union(found);
}

function checkAnimals(input: SireTimelineInput, faults: Fault[]): void {
  const known = new Set(input.animals.map(({ id }) => id));
  const named = [input.dam, ...input.stays.map(({ animal }) => animal)];
  for (const id of new Set(named)) {
    if (known.has(id)) continue;
    faults.push({
      code: 'UNKNOWN_ANIMAL',
      message: `'${id}' is in the stays or is the dam, but not among the animals.`,
      remedy: 'Name every animal with its sex.',
      ids: [id],
    });
  }
  if (!(input.window_years >= 0 && input.window_years <= 100)) {
    faults.push({
      code: 'BAD_WINDOW',
      message: `Sperm cannot be stored for ${input.window_years} years.`,
      remedy: 'Give years from 0 to 100; 4 is the cautious setting.',
      ids: [],
    });
  }
}
