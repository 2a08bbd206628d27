import { dayNumber, type Fault, type PartialDate, parsePartialDate } from '@scutewright/basics';
import { type DayRanges, daysFrom, union } from './day-ranges.js';

/** An animal in a pen. Dates are YYYY, YYYY-MM or YYYY-MM-DD; null: open start, still there. */
export interface StayInput {
  readonly animal: string;
  readonly pen: string;
  readonly from: string | null;
  readonly to: string | null;
}

/**
 * A stay runs from its first day up to, not including, its last: on the day of a move the animal counts in the new
 * pen. A partial date stands for any day in it, so some days are only possible, others certain.
 */
export interface Stay {
  readonly animal: string;
  readonly pen: string;
  readonly possible: DayRanges;
  readonly certain: DayRanges;
}

/** Since when an animal is mature: possibly from the first day, certainly from the second on. */
export interface MatureFrom {
  readonly possible: number;
  readonly certain: number;
}

const ALWAYS = Number.NEGATIVE_INFINITY;
const NEVER = Number.POSITIVE_INFINITY;

/** Reads a partial date; on a fault (`BAD_DATE`) adds it and answers the whole of time. */
export function readDate(
  text: string,
  what: string,
  faults: Fault[],
): Pick<PartialDate, 'earliest' | 'latest'> {
  const date = parsePartialDate(text);
  if (date) return date;
  faults.push({
    code: 'BAD_DATE',
    message: `${what} has the date '${text}', which does not exist.`,
    remedy: 'Write 2011, 2011-06 or 2011-06-03.',
    ids: [],
  });
  return { earliest: ALWAYS, latest: NEVER };
}

/** Days that lie possibly, and days that lie certainly, between two partial dates. */
export function daysBetween(
  from: string | null,
  to: string | null,
  what: string,
  faults: Fault[],
): { readonly possible: DayRanges; readonly certain: DayRanges } {
  const start = from === null ? { earliest: ALWAYS, latest: ALWAYS } : readDate(from, what, faults);
  const end = to === null ? { earliest: NEVER, latest: NEVER } : readDate(to, what, faults);
  if (end.latest < start.earliest) {
    faults.push({
      code: 'BAD_STAY',
      message: `${what} ends on ${to}, before it starts on ${from}.`,
      remedy: 'Correct one of the two dates.',
      ids: [],
    });
  }
  return {
    possible: daysFrom(start.earliest, end.latest),
    certain: daysFrom(start.latest, end.earliest),
  };
}

export function readStays(inputs: readonly StayInput[], faults: Fault[]): Stay[] {
  return inputs.map(({ animal, pen, from, to }) => ({
    animal,
    pen,
    ...daysBetween(from, to, `The stay of ${animal} in ${pen}`, faults),
  }));
}

/**
 * `2012`: some day of that year. `['2026-04', '2028-09']`: between the two. Null: not known, so possibly always and never
 * certainly.
 */
export function readMatureFrom(
  input: string | readonly [string, string] | null | undefined,
  animal: string,
  faults: Fault[],
): MatureFrom {
  if (input === null || input === undefined) return { possible: ALWAYS, certain: NEVER };
  const [first, last] = typeof input === 'string' ? [input, input] : input;
  const what = `The maturity of ${animal}`;
  return {
    possible: readDate(first, what, faults).earliest,
    certain: readDate(last, what, faults).latest,
  };
}

/** Days on which two animals share a pen. */
export function together(
  stays: readonly Stay[],
  a: string,
  b: string,
): { readonly possible: DayRanges; readonly certain: DayRanges } {
  const possible: DayRanges[] = [];
  const certain: DayRanges[] = [];
  const others = stays.filter((stay) => stay.animal === b);
  for (const own of stays) {
    if (own.animal !== a) continue;
    for (const other of others) {
      if (own.pen !== other.pen) continue;
      possible.push(shared(own.possible, other.possible));
      certain.push(shared(own.certain, other.certain));
    }
  }
  return { possible: union(possible), certain: union(certain) };
}

function shared(a: DayRanges, b: DayRanges): DayRanges {
  if (a.length === 0 || b.length === 0) return [];
  return daysFrom(Math.max(a[0][0], b[0][0]), Math.min(a[0][1], b[0][1]));
}

/** The day `years` before a day; 29 February goes to 28 February. A broken year is taken as days of 365.25 a year. */
export function yearsBefore(day: number, years: number): number {
  const whole = Math.floor(years);
  const date = new Date(day * 86_400_000);
  const [year, month] = [date.getUTCFullYear() - whole, date.getUTCMonth() + 1];
  const lastOfMonth = dayNumber(year, month + 1, 1) - dayNumber(year, month, 1);
  const moved = dayNumber(year, month, Math.min(date.getUTCDate(), lastOfMonth));
  return moved - Math.round((years - whole) * 365.25);
}
