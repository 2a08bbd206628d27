import { type PartialDate, parsePartialDate } from '@scutewright/basics';
import { CellFault } from './file-fault.js';

/** In which order day, month and year stand where all are numbers. */
export type DateOrder = 'YEAR_FIRST' | 'DAY_FIRST' | 'MONTH_FIRST';

const YEAR_FIRST = /^(\d{4})(?:([-./])(\d{1,2})(?:\2(\d{1,2}))?)?$/;
const YEAR_LAST = /^(\d{1,2})([-./ ])(?:(\d{1,2})\2)?(\d{4}|\d{2})$/;
const NAMED_MONTH = /^(?:(\d{1,2})[. -]+)?(\p{L}{3,})\.?[ -]+(\d{4})$/u;
const MONTHS = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];
/** Other spellings of months, by their first three or four letters without accents. */
const OTHER_MONTHS = new Map([
  ...Object.entries({ mae: 3, mrz: 3, fev: 2, fevr: 2, avr: 4, mai: 5, mei: 5, maa: 3, juin: 6 }),
  ...Object.entries({ juil: 7, aou: 8, okt: 10, dez: 12, ene: 1, abr: 4, ago: 8, dic: 12 }),
  ...Object.entries({ gen: 1, mag: 5, giu: 6, lug: 7, set: 9, ott: 10 }),
]);
const MOST_LENGTH = 60;
const HOW = 'Write YYYY, YYYY-MM or YYYY-MM-DD, with ~ behind it for about';

/**
 * A year, month or day as people write it: 2011, 2011-06, 2011-06-03, by `order` also 3.6.2011 or 6/2011, with a
 * named month '3 June 2011', each with ~ behind it, or ~, 'about' or 'ca.' before it. Nothing that can be read in
 * two ways is read. `twoDigitYearsFrom`: the first year that two digits stand for, or null to refuse them.
 */
export function readDate(
  written: string,
  order: DateOrder,
  twoDigitYearsFrom: number | null,
): PartialDate | CellFault {
  if (written.length > MOST_LENGTH) {
    return new CellFault('BAD_DATE', 'This is not a date that can be read.', `${HOW}.`);
  }
  const trimmed = written.trim().replace(/[T ]00:00(?::00(?:\.0+)?)?Z?$/, '');
  const about = /^(?:~|about |abt\.? |approx\.? |ca?\.? ?(?=\d)|circa |um )|~$/i.test(trimmed);
  const text = trimmed
    .replace(/^(?:~|about |abt\.? |approx\.? |ca?\.? ?(?=\d)|circa |um )\s*/i, '')
    .replace(/\s*~$/, '');
  const named = NAMED_MONTH.exec(text);
  if (named) {
    const month = monthNumber(named[2]);
    if (month !== null) return toDate(written, named[3], String(month), named[1], about);
  }
  const first = YEAR_FIRST.exec(text);
  if (first && (first[4] !== undefined || first[3] === undefined || first[2] === '-')) {
    return toDate(written, first[1], first[3], first[4], about);
  }
  const last = YEAR_LAST.exec(text);
  if (last) return readYearLast(written, last, order, twoDigitYearsFrom, about);
  if (/^\d{5}(?:$|[-./])|[-./ ]\d{5}$/.test(text)) {
    return new CellFault(
      'FIVE_DIGIT_YEAR',
      `'${written}' has a year of five digits.`,
      `${HOW}; a bare five-digit number may be a spreadsheet's day count: show that column as dates first.`,
    );
  }
  return new CellFault('BAD_DATE', `'${written}' is not a date that can be read.`, `${HOW}.`);
}

function readYearLast(
  written: string,
  match: RegExpExecArray,
  order: DateOrder,
  twoDigitYearsFrom: number | null,
  about: boolean,
): PartialDate | CellFault {
  const [, a, , b, yearText] = match;
  if (yearText.length === 2 && (b === undefined || twoDigitYearsFrom === null)) {
    return new CellFault(
      'TWO_DIGIT_YEAR',
      `'${written}' does not say which century.`,
      "Write the year with four digits, or say under 'How it is read' how two digits are read.",
    );
  }
  const year = yearText.length === 4 ? yearText : fullYear(Number(yearText), twoDigitYearsFrom!);
  if (b === undefined) {
    if (order === 'YEAR_FIRST') return wrongOrder(written);
    return toDate(written, year, a, undefined, about);
  }
  if (order === 'YEAR_FIRST') {
    const dayFirst = toDate(written, year, b, a, about);
    if (!(dayFirst instanceof CellFault)) return wrongOrder(written);
    const monthFirst = toDate(written, year, a, b, about);
    return monthFirst instanceof CellFault ? monthFirst : wrongOrder(written);
  }
  return order === 'DAY_FIRST'
    ? toDate(written, year, b, a, about)
    : toDate(written, year, a, b, about);
}

function toDate(
  written: string,
  year: string,
  month: string | undefined,
  day: string | undefined,
  about: boolean,
): PartialDate | CellFault {
  const parts = [year];
  if (month !== undefined) parts.push(month.padStart(2, '0'));
  if (day !== undefined) parts.push(day.padStart(2, '0'));
  const date = parsePartialDate(`${parts.join('-')}${about ? '~' : ''}`);
  if (date) return date;
  const number = Number(year);
  if (number < 1800 || number > 2199) {
    return new CellFault(
      'YEAR_OUT_OF_RANGE',
      `'${written}' is not in the years 1800 to 2199.`,
      'Correct the year.',
    );
  }
  return new CellFault(
    'NO_SUCH_DATE',
    `There is no such date as '${written}'.`,
    `${HOW}, or say under 'How it is read' that days come first.`,
  );
}

function wrongOrder(written: string): CellFault {
  return new CellFault(
    'DATE_ORDER',
    `'${written}' does not begin with the year.`,
    `${HOW}, or say under 'How it is read' that days or months come first.`,
  );
}

function fullYear(digits: number, from: number): string {
  const century = Math.floor(from / 100) * 100;
  return String(century + digits < from ? century + 100 + digits : century + digits);
}

function monthNumber(word: string): number | null {
  const plain = word.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase();
  const other = OTHER_MONTHS.get(plain.slice(0, 4)) ?? OTHER_MONTHS.get(plain.slice(0, 3));
  if (other !== undefined) return other;
  const position = MONTHS.indexOf(plain.slice(0, 3));
  return position >= 0 ? position + 1 : null;
}

/**
 * The order that most of these dates are written in, and whether some date proves it (a day over 12). Where day
 * and month cannot be told apart, day first is proposed.
 */
export function guessDateOrder(dates: Iterable<string>): { order: DateOrder; isProven: boolean } {
  let yearFirst = 0;
  let yearLast = 0;
  let firstOver12 = 0;
  let secondOver12 = 0;
  for (const date of dates) {
    const text = date.trim();
    if (YEAR_FIRST.test(text)) {
      // A bare year says nothing of the order of the others.
      if (text.length > 4) yearFirst++;
      continue;
    }
    const last = YEAR_LAST.exec(text);
    if (!last) continue;
    yearLast++;
    if (last[3] === undefined) continue;
    if (Number(last[1]) > 12) firstOver12++;
    if (Number(last[3]) > 12) secondOver12++;
  }
  if (yearLast <= yearFirst) return { order: 'YEAR_FIRST', isProven: true };
  return secondOver12 > firstOver12
    ? { order: 'MONTH_FIRST', isProven: true }
    : { order: 'DAY_FIRST', isProven: firstOver12 > 0 };
}
