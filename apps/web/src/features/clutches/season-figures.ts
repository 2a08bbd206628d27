import { dayOfText, textOfDay } from '../../lib/calendar.js';
import { partialDateWords } from '../../lib/date-words.js';
import type { ClutchSheet } from './clutch-documents.js';

/** When young of a clutch may hatch, over all its boxes; null where nothing is published or nothing is set. */
export function windowOf({ batches }: ClutchSheet): { from: string; to: string } | null {
  const windows = batches.flatMap(({ hatchWindow }) => (hatchWindow ? [hatchWindow] : []));
  if (windows.length === 0) return null;
  return {
    from: windows.map(({ from }) => from).toSorted()[0] ?? '',
    to:
      windows
        .map(({ to }) => to)
        .toSorted()
        .at(-1) ?? '',
  };
}

/** `5 to 20 August 2026`, `28 August to 4 September 2026`. */
export function spanWords({ from, to }: { readonly from: string; readonly to: string }): string {
  const end = partialDateWords({ text: to });
  const [year, month, day] = from.split('-');
  if (from === to) return end;
  if (to.startsWith(`${year}-${month}`)) return `${Number(day)} to ${end}`;
  const start = partialDateWords({ text: from });
  return `${to.startsWith(`${year}-`) ? start.replace(` ${year}`, '') : start} to ${end}`;
}

export const motherWords = ({ dam }: ClutchSheet): string => {
  const codes = dam.candidates.map(({ animal }) => animal.code);
  if (codes.length === 0) return 'mother not known';
  return codes.length <= 2 ? codes.join(' or ') : `one of ${codes.length}`;
};

/** What stands at the end of a clutch's line: `5 hatched`, `due 5 to 20 August 2026`, `not set, on purpose`. */
export function outcomeWords(sheet: ClutchSheet, today: string): string {
  const { hatched, open, eggs, notSet, broken } = sheet;
  if (eggs !== null && eggs > 0 && eggs === notSet + broken) return 'not set, on purpose';
  const window = windowOf(sheet);
  if (sheet.stage === 'DONE') return hatched > 0 ? `${hatched} hatched` : 'none hatched';
  if (sheet.stage === 'LAID') return 'not yet set';
  const left = open === null ? 'eggs not counted' : `${open} open`;
  const done = hatched > 0 ? `${hatched} hatched, ${left}` : left;
  if (!window) return `${done}; no hatching time is published for it`;
  return window.to < today
    ? `${done}; window over since ${partialDateWords({ text: window.to })}`
    : `${done}; due ${spanWords(window)}`;
}

/** The season in two sentences: what came of it, and what is still to come; the second empty where nothing is. */
export function seasonSentences(
  sheets: readonly ClutchSheet[],
  today: string,
): { counts: string; toCome: string } {
  const sum = (of: (sheet: ClutchSheet) => number) =>
    sheets.reduce((total, sheet) => total + of(sheet), 0);
  const clutches = sheets.length === 1 ? '1 clutch' : `${sheets.length} clutches`;
  const hatched = sum((sheet) => sheet.hatched);
  const waiting = sheets.filter(({ stage }) => stage === 'INCUBATING');
  const open = waiting.reduce((total, sheet) => total + (sheet.open ?? 0), 0);
  const last = waiting
    .flatMap((sheet) => windowOf(sheet)?.to ?? [])
    .toSorted()
    .at(-1);
  const due =
    last && last >= today ? `; the last window ends on ${partialDateWords({ text: last })}` : '';
  const eggs = sum((sheet) => sheet.eggs ?? 0);
  const counted = sheets.some((sheet) => sheet.eggs !== null);
  return {
    counts: `${clutches}${counted ? ` of ${eggs} eggs` : ', eggs not counted'}; ${hatched} young have hatched.`,
    toCome:
      open > 0 ? `${open === 1 ? 'One egg is' : `${open} eggs are`} still in the box${due}.` : '',
  };
}

/** First and last day that the season's clutches span, with some room. */
export function seasonSpan(sheets: readonly ClutchSheet[]): { first: number; last: number } | null {
  const days = sheets.flatMap((sheet) => {
    const laid = sheet.laid ? dayOfText(sheet.laid) : null;
    const to = [windowOf(sheet)?.to ?? '', sheet.hatchedTo ?? ''].toSorted().at(-1);
    const end = to ? dayOfText(to) : null;
    return [laid, end].filter((day) => day !== null);
  });
  if (days.length === 0) return null;
  const first = monthStart(Math.min(...days) - 6);
  return { first, last: Math.max(Math.max(...days) + 12, first + 120) };
}

export function monthStart(day: number): number {
  return dayOfText(`${textOfDay(day).slice(0, 7)}-01`) ?? day;
}

/** First days of the months between two days. */
export function monthsIn(first: number, last: number): { day: number; name: string }[] {
  const names = [
    'Jan',
    'Feb',
    'March',
    'April',
    'May',
    'June',
    'July',
    'Aug',
    'Sept',
    'Oct',
    'Nov',
    'Dec',
  ];
  const marks = [];
  let at = monthStart(first);
  while (at <= last) {
    const [year = '', month = ''] = textOfDay(at).split('-');
    if (at >= first) {
      marks.push({ day: at, name: month === '01' ? year : (names[Number(month) - 1] ?? '') });
    }
    at = monthStart(at + 32);
  }
  return marks;
}
