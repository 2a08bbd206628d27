/**
 * A date as people know it: a day, a month or a year, perhaps 'about'. `earliest` and
 * `latest` are whole days since 1970-01-01 (UTC); equal for a day.
 * Text by EDTF level 1 (ISO 8601-2): `2011`, `2011-06`, `2011-06-03`, each with `~` for 'about'.
 */
export interface PartialDate {
  /** As written, normalised: `2011-06~`. */
  readonly text: string;
  readonly precision: 'year' | 'month' | 'day';
  readonly about: boolean;
  readonly earliest: number;
  readonly latest: number;
}

const DAY_MS = 86_400_000;
/** 'About' widens the range by this many days on each side. Chosen by us: no source. */
const ABOUT_DAYS = { year: 365, month: 31, day: 7 } as const;

/**
 * Reads a partial date; answers null on anything that is not one or does not exist
 * (31 February, month 13). Years 1800 to 2199.
 */
export function parsePartialDate(text: string): PartialDate | null {
  const match = /^(\d{4})(?:-(\d{2})(?:-(\d{2}))?)?(~?)$/.exec(text.trim());
  if (!match) return null;
  const year = Number(match[1]);
  if (year < 1800 || year > 2199) return null;
  const month = match[2] === undefined ? null : Number(match[2]);
  const day = match[3] === undefined ? null : Number(match[3]);
  if (month !== null && (month < 1 || month > 12)) return null;
  if (day !== null && (day < 1 || day > daysInMonth(year, month ?? 1))) return null;
  const precision = day !== null ? 'day' : month !== null ? 'month' : 'year';
  const about = match[4] === '~';
  const widen = about ? ABOUT_DAYS[precision] : 0;
  const lastMonth = month ?? 12;
  return {
    text: match[0],
    precision,
    about,
    earliest: dayNumber(year, month ?? 1, day ?? 1) - widen,
    latest: dayNumber(year, lastMonth, day ?? daysInMonth(year, lastMonth)) + widen,
  };
}

/** Days since 1970-01-01 of a calendar day (month 1 to 12). */
export function dayNumber(year: number, month: number, day: number): number {
  return Date.UTC(year, month - 1, day) / DAY_MS;
}

/** `2011-06-03` of a day number. */
export function dayText(day: number): string {
  return new Date(day * DAY_MS).toISOString().slice(0, 10);
}

function daysInMonth(year: number, month: number): number {
  return new Date(Date.UTC(year, month, 0)).getUTCDate();
}
