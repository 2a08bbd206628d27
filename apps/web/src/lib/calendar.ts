/** Calendar days as `YYYY-MM-DD` and as whole days since 1970-01-01. */

const DAY_MS = 86_400_000;

/** Today where the reader is. */
export function todayText(): string {
  const now = new Date();
  return textOfDay(Date.UTC(now.getFullYear(), now.getMonth(), now.getDate()) / DAY_MS);
}

/** Days since 1970-01-01 of a day, or of the first day of a month or year; null where it is none. */
export function dayOfText(text: string): number | null {
  const [year = '', month = '01', day = '01'] = text.replace('~', '').split('-');
  const time = Date.parse(`${year}-${month}-${day}`);
  return Number.isNaN(time) ? null : time / DAY_MS;
}

export const textOfDay = (day: number): string => new Date(day * DAY_MS).toISOString().slice(0, 10);
