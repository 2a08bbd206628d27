/** A partial date as the API gives it: `2011`, `2011-06`, `2011-06-03`, `~` for 'about'. */
export interface PartialDateText {
  readonly text: string;
}

export const MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
];

const WEEKDAYS = ['Sunday', 'Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday'];

/** `3 June 2011`, `June 2011`, `about 2011`. The month is a word: 3/6 would be read two ways. */
export function partialDateWords({ text }: PartialDateText): string {
  const [year, month, day] = text.replace('~', '').split('-');
  const words = [day && String(Number(day)), month && MONTHS[Number(month) - 1], year];
  return (text.endsWith('~') ? 'about ' : '') + words.filter(Boolean).join(' ');
}

/**
 * An animal's age today: `19 years`, `about 38 years`, `8 months`. 'About' where the date leaves
 * more than one answer open. Null before the hatching.
 */
export function ageWords(
  hatched: { readonly earliest: string; readonly latest: string },
  today: Date,
): string | null {
  const oldest = monthsBetween(hatched.earliest, today);
  const youngest = monthsBetween(hatched.latest, today);
  if (oldest < 0) return null;
  const about = (from: number, to: number) => (from === to ? '' : 'about ');
  const middle = (oldest + Math.max(youngest, 0)) / 2;
  if (oldest < 24) {
    const months = Math.round(middle);
    return `${about(oldest, youngest)}${months} ${months === 1 ? 'month' : 'months'}`;
  }
  const years = Math.floor(middle / 12);
  return `${about(Math.floor(oldest / 12), Math.floor(youngest / 12))}${years} ${years === 1 ? 'year' : 'years'}`;
}

/** Whole months from a calendar day to another, negative before it. */
function monthsBetween(day: string, to: Date): number {
  const [year = 0, month = 1, date = 1] = day.split('-').map(Number);
  const months = (to.getFullYear() - year) * 12 + to.getMonth() + 1 - month;
  return to.getDate() < date ? months - 1 : months;
}

/** `25 November 2026` of an instant, in the reader's time zone. */
export function dayWords(instant: string | Date): string {
  const day = new Date(instant);
  return `${day.getDate()} ${MONTHS[day.getMonth()]} ${day.getFullYear()}`;
}

/** `08:52` of an instant, in the reader's time zone. */
export function timeWords(instant: string): string {
  const time = new Date(instant);
  return [time.getHours(), time.getMinutes()].map((n) => String(n).padStart(2, '0')).join(':');
}

/** `Wednesday 25 November 2026`. */
export const weekdayWords = (day: Date): string => `${WEEKDAYS[day.getDay()]} ${dayWords(day)}`;
