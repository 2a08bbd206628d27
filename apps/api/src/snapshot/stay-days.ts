import { parsePartialDate } from '@scutewright/basics';

/**
 * The days of a stay since 1970-01-01, infinite where it is open: it may run from `first` up to `last`, and surely runs from
 * `sureFirst` up to `sureLast`, on neither of the two lasts any more.
 */
export interface StayDays {
  readonly first: number;
  readonly last: number;
  readonly sureFirst: number;
  readonly sureLast: number;
}

/** By its two partial dates; null: open. */
export function stayDays(from: string | null, to: string | null): StayDays {
  const [start, end] = [from, to].map((text) => (text === null ? null : parsePartialDate(text)));
  return openWhereNull(
    start?.earliest ?? null,
    start?.latest ?? null,
    end?.earliest ?? null,
    end?.latest ?? null,
  );
}

/** By the days that stand in its row: earliest and latest of its start, then of its end. */
export function openWhereNull(
  fromEarliest: number | null,
  fromLatest: number | null,
  toEarliest: number | null,
  toLatest: number | null,
): StayDays {
  return {
    first: fromEarliest ?? Number.NEGATIVE_INFINITY,
    sureFirst: fromLatest ?? Number.NEGATIVE_INFINITY,
    sureLast: toEarliest ?? Number.POSITIVE_INFINITY,
    last: toLatest ?? Number.POSITIVE_INFINITY,
  };
}

/** Whether a stay may hold on a day. */
export function mayHold({ first, last }: StayDays, day: number): boolean {
  return first <= day && day < last;
}

/** Whether two stays surely share a day: then they cannot be of one animal in two pens. */
export function surelyOverlap(one: StayDays, other: StayDays): boolean {
  return Math.max(one.sureFirst, other.sureFirst) < Math.min(one.sureLast, other.sureLast);
}
