import { parsePartialDate } from '@scutewright/basics';
import { numberOf } from '../../lib/typed-number.js';
import type { EntryInput } from './entry-form.js';
import type { PasteKind } from './paste-kinds.js';

export interface PastedRow {
  /** From 1, as pasted. */
  readonly line: number;
  readonly cells: readonly string[];
  readonly faults: readonly string[];
  /** Absent where something is to be mended first. */
  readonly entry: Omit<EntryInput, 'id'> | null;
}

/** The column that is in no entry. */
export const LEFT_OUT = 'skip';

/** Lines as cells: tabs as spreadsheets copy them, else semicolons, else commas. */
export function cellsOf(text: string): string[][] {
  const lines = text.split(/\r?\n/).filter((line) => line.trim() !== '');
  const between =
    ['\t', ';', ','].find((mark) => lines.some((line) => line.includes(mark))) ?? '\t';
  return lines.map((line) => line.split(between).map((cell) => cell.trim()));
}

/** What a line of headings says the columns are; null where it is no line of headings. */
export function headings(kind: PasteKind, cells: readonly string[]): string[] | null {
  const known = cells.map(
    (cell) => kind.columns.find(({ heading }) => heading.test(cell.toLowerCase()))?.value,
  );
  return known.includes(kind.key) ? known.map((column) => column ?? LEFT_OUT) : null;
}

/** The cells of one row by column, with what is wrong in them. */
export class RowReader {
  readonly faults: string[] = [];

  constructor(
    private readonly cells: readonly string[],
    private readonly columns: readonly string[],
  ) {}

  text(column: string): string {
    return this.cells[this.columns.indexOf(column)]?.trim() ?? '';
  }

  /** A text that may not be empty. */
  needed(column: string, what: string): string {
    const text = this.text(column);
    if (!text) this.faults.push(`No ${what}.`);
    return text;
  }

  /** As the service takes it; `otherwise` where the cell is empty, or a fault where that is null. */
  day(otherwise: string | null): string | null {
    const text = this.text('date');
    if (text === '') {
      if (otherwise === null) this.faults.push('No date: the year will do.');
      return otherwise;
    }
    const day = dayIn(text);
    if (day === null)
      this.faults.push(`'${text}' is read as no date: write 2026-04-30 or 30.4.2026.`);
    return day;
  }

  /** A length or weight over 0, times what it is in another unit. */
  figure(column: string, times: number): number | undefined {
    const text = this.text(column);
    if (text === '') return undefined;
    const value = numberOf(text);
    if (value === null || value === 0) {
      this.faults.push(`'${text}' is no length or weight.`);
      return undefined;
    }
    return Number((value * times).toPrecision(6));
  }

  /** A whole number from 0. */
  count(column: string): number | undefined {
    const text = this.text(column);
    if (text === '') return undefined;
    if (/^\d+$/.test(text)) return Number(text);
    this.faults.push(`'${text}' is no whole number.`);
    return undefined;
  }

  /** Several in one cell: `F1 / F2`, `F1 or F2`, `Y1 Y2`. */
  list(column: string): string[] {
    return this.text(column)
      .split(/\s*(?:[/+;,&]|\bor\b|\band\b|\s)\s*/)
      .filter(Boolean);
  }
}

/** Each line as an entry of the kind. `day`: today, where a row needs no date of its own. */
export function readRows(
  kind: PasteKind,
  rows: readonly (readonly string[])[],
  columns: readonly string[],
  day: string,
): PastedRow[] {
  return rows.map((cells, k) => {
    const row = new RowReader(cells, columns);
    const said = kind.entry(row, day);
    const entry = { note: row.text('note') || null, ...said };
    return { line: k + 1, cells, faults: row.faults, entry: row.faults.length > 0 ? null : entry };
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
