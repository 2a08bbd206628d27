import { parsePartialDate } from '@scutewright/basics';
import { numberOf } from '../../lib/typed-number.js';
import type { EntryInput } from './entry-form.js';

/** What a column of pasted lines may be. */
export const COLUMNS = [
  { value: 'code', words: 'Code of the animal' },
  { value: 'date', words: 'Date' },
  { value: 'sclMm', words: 'Shell length, mm' },
  { value: 'sclCm', words: 'Shell length, cm' },
  { value: 'massG', words: 'Weight, g' },
  { value: 'massKg', words: 'Weight, kg' },
  { value: 'plastronMm', words: 'Plastron, mm' },
  { value: 'pen', words: 'Seen in pen' },
  { value: 'note', words: 'Note' },
  { value: 'skip', words: 'Leave out' },
] as const;
export type Column = (typeof COLUMNS)[number]['value'];

export interface PastedRow {
  /** From 1, as pasted. */
  readonly line: number;
  readonly cells: readonly string[];
  readonly faults: readonly string[];
  /** Absent where something is to be mended first. */
  readonly entry: Omit<EntryInput, 'id'> | null;
}

/** Lines as cells: tabs as spreadsheets copy them, else semicolons, else commas. */
export function cellsOf(text: string): string[][] {
  const lines = text.split(/\r?\n/).filter((line) => line.trim() !== '');
  const between =
    ['\t', ';', ','].find((mark) => lines.some((line) => line.includes(mark))) ?? '\t';
  return lines.map((line) => line.split(between).map((cell) => cell.trim()));
}

/** What a line of headings says the columns are; null where it is no line of headings. */
export function headings(cells: readonly string[]): Column[] | null {
  const known = cells.map(columnOfHeading);
  return known.includes('code') ? known.map((column) => column ?? 'skip') : null;
}

/** Without headings: the code, the date, a length and a weight, as most notebooks have them. */
export function guessedColumns(rows: readonly (readonly string[])[]): Column[] {
  const width = Math.max(0, ...rows.map((row) => row.length));
  let numbers: Column[] = ['sclMm', 'massG'];
  return Array.from({ length: width }, (_, k): Column => {
    if (k === 0) return 'code';
    const cells = rows.map((row) => row[k] ?? '').filter(Boolean);
    if (
      cells.length > 0 &&
      cells.every((cell) => dayIn(cell) !== null && numberOf(cell) === null)
    ) {
      return 'date';
    }
    if (cells.length > 0 && cells.every((cell) => numberOf(cell) !== null)) {
      const [first = 'skip', ...rest] = numbers;
      numbers = rest;
      return first;
    }
    return 'note';
  });
}

/** Each line as an entry: measured where it holds a figure, else seen. */
export function readRows(
  rows: readonly (readonly string[])[],
  columns: readonly Column[],
  day: string,
): PastedRow[] {
  return rows.map((cells, k) => {
    const faults: string[] = [];
    const cell = (column: Column) => cells[columns.indexOf(column)]?.trim() ?? '';
    const code = cell('code');
    if (!code) faults.push('No code.');
    const date = cell('date');
    const on = date === '' ? day : dayIn(date);
    if (on === null) faults.push(`'${date}' is read as no date: write 2026-04-30 or 30.4.2026.`);
    const figure = (column: Column, times: number) => {
      const text = cell(column);
      if (text === '') return undefined;
      const value = numberOf(text);
      if (value === null || value === 0) {
        faults.push(`'${text}' is no length or weight.`);
        return undefined;
      }
      return Number((value * times).toPrecision(6));
    };
    const measured = {
      sclMm: figure('sclMm', 1) ?? figure('sclCm', 10),
      massG: figure('massG', 1) ?? figure('massKg', 1000),
      plastronMm: figure('plastronMm', 1),
    };
    const isMeasured = Object.values(measured).some((value) => value !== undefined);
    const pen = cell('pen');
    const entry = {
      on,
      note: cell('note') || null,
      ...(isMeasured
        ? { measured: { animal: code, ...measured } }
        : { seen: { animals: [code], pen: pen || null } }),
    };
    return { line: k + 1, cells, faults, entry: faults.length > 0 ? null : entry };
  });
}

/** `2026-04-30`, `2026-04`, `2026`, `30.4.2026`; also `13/4/2026`, where only one order is possible. */
export function dayIn(text: string): string | null {
  if (parsePartialDate(text)) return text;
  const parts = /^(\d{1,2})([./-])(\d{1,2})\2(\d{4})$/.exec(text);
  if (!parts) return null;
  const [, first = '', mark, second = '', year] = parts;
  const isSettled = mark === '.' || Number(first) > 12 || first === second;
  if (!isSettled && Number(second) <= 12) return null;
  const [day, month] = Number(second) > 12 ? [second, first] : [first, second];
  const iso = `${year}-${month.padStart(2, '0')}-${day.padStart(2, '0')}`;
  return parsePartialDate(iso) ? iso : null;
}

const HEADINGS: readonly (readonly [RegExp, Column])[] = [
  [/^(code|animal|tag|id|who)$/, 'code'],
  [/^(date|day|when|on)$/, 'date'],
  [/(scl|shell|carapace|length).*cm/, 'sclCm'],
  [/scl|shell|carapace|length/, 'sclMm'],
  [/plastron/, 'plastronMm'],
  [/(mass|weight).*kg|^kg$/, 'massKg'],
  [/mass|weight|^g$/, 'massG'],
  [/pen|place/, 'pen'],
  [/note|remark/, 'note'],
];

const columnOfHeading = (text: string): Column | undefined =>
  HEADINGS.find(([pattern]) => pattern.test(text.toLowerCase()))?.[1];
