import type { PenAnimal, PenFlag } from './pen-documents.js';

export const MOST_YEARS = 10;

/** The day some years after one, both `YYYY-MM-DD`; 29 February goes to the 28th where there is none. */
export function dayAfter(day: string, years: number): string {
  const year = Number(day.slice(0, 4)) + years;
  const isLeap = year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
  return `${year}${day.slice(4).replace('-02-29', isLeap ? '-02-29' : '-02-28')}`;
}

/** Whether a flag stands on a day: possible since, and not over yet. */
export function standsOn({ possibleFrom, overOn }: PenFlag, day: string): boolean {
  return possibleFrom <= day && (overOn === null || day < overOn);
}

/** Grown, perhaps grown or young on a day. */
export function growthOn(
  { maturePossibly, matureSurely }: PenAnimal,
  day: string,
): 'grown' | 'perhaps' | 'young' {
  if (matureSurely !== null && matureSurely <= day) return 'grown';
  return maturePossibly === null || maturePossibly <= day ? 'perhaps' : 'young';
}

export interface Length {
  readonly mm: number;
  /** What it may be then, where its growth was measured often enough to say. */
  readonly range: readonly [number, number] | null;
}

/** The shell length some years on: carried on from its own growth, else as last measured; null where never measured. */
export function lengthIn({ sizes, sclMm }: PenAnimal, years: number): Length | null {
  const size = sizes.find((each) => each.years === years);
  if (size && years > 0) return { mm: size.middle, range: [size.low, size.high] };
  return sclMm === null ? null : { mm: sclMm, range: null };
}
