/** A partial date as typed; any part may be empty. */
export interface TypedDate {
  readonly year: string;
  readonly month: string;
  readonly day: string;
  readonly about: boolean;
}

export const EMPTY_DATE: TypedDate = { year: '', month: '', day: '', about: false };

/** `2011-06~` of what was typed, empty when nothing was. Not yet checked to be a date. */
export function typedDateText({ year, month, day, about }: TypedDate): string {
  const parts = [year, month, day].map((part) => part.trim());
  const end = parts.findLastIndex((part) => part !== '');
  if (end < 0) return '';
  const padded = parts.slice(0, end + 1).map((part, k) => part.padStart(k === 0 ? 4 : 2, '0'));
  return padded.join('-') + (about ? '~' : '');
}

/** The parts of `2011-06~`; of null, none. */
export function typedDate(text: string | null): TypedDate {
  if (!text) return EMPTY_DATE;
  const [year = '', month = '', day = ''] = text.replace('~', '').split('-');
  return { year, month, day, about: text.endsWith('~') };
}
