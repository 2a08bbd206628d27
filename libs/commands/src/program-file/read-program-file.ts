import type { ColumnMap } from './column-map.js';
import { decodeText, type Encoding } from './decode-text.js';
import { FileFaults, TOO_MANY_ROWS } from './file-fault.js';
import { findLayout, type Layout } from './find-layout.js';
import { type FileRow, MOST_ROWS } from './program-row.js';
import { exactField, proposeMap } from './propose-map.js';
import { RowReader } from './read-rows.js';
import { isSixColumns, readSixColumns } from './read-six-columns.js';
import { recogniseHeading } from './recognise-words.js';
import { splitRows } from './split-rows.js';

/** A larger file is refused with the remedy to split it. */
export const MOST_BYTES = 64 * 1024 * 1024;
const SAMPLE_ROWS = 5_000;

export interface ReadOptions {
  /** What is known of how the file is read; what it leaves out is proposed. */
  readonly map?: Partial<ColumnMap>;
}

/** A file read by itself: nothing is yet compared with what the program holds. */
export interface ProgramFile {
  /** In the order of the file; a row without a readable code is only among the faults. */
  readonly rows: readonly FileRow[];
  /** Everything found while reading; `checkProgramFile` adds to a copy of it. */
  readonly faults: FileFaults;
  /** How the file was read: give it back as `options.map` to read it the same way again. */
  readonly map: ColumnMap;
  /** What of the map was guessed, one sentence each; empty for a file in the program's own format. */
  readonly guesses: readonly string[];
  /** By column of the map: the first cell that is not empty, cut; empty where all of the first rows are. */
  readonly examples: readonly string[];
  /** Cells such as '=1 that look guarded against formulas while the map does not say so. */
  readonly guardedCells: number;
}

/**
 * Reads a program file, somebody's own spreadsheet as CSV, or a six-column pedigree, of which neither encoding nor
 * separator is known. Never throws on any bytes: answers the rows that could be read and all faults at once, codes
 * as listed in `faults`. Files of more than `MOST_BYTES` or `MOST_ROWS` are refused. Cost: linear; memory about
 * the text plus half a kilobyte per row.
 */
export function readProgramFile(bytes: Uint8Array, options: ReadOptions = {}): ProgramFile {
  const asked = options.map ?? {};
  const faults = new FileFaults();
  const unread = (encoding: Encoding): ProgramFile => {
    const { map, guesses } = proposeMap(NO_LAYOUT, encoding, [], asked);
    return { rows: [], faults, map, guesses, examples: [], guardedCells: 0 };
  };
  const refusal = refuse(bytes);
  if (refusal) {
    faults.addWhole(...refusal);
    return unread('utf-8');
  }
  const { text, encoding, hasUnreadable } = decodeText(bytes, asked.encoding);
  if (text.trim() === '') {
    faults.addWhole('EMPTY_FILE', 'The file is empty.', 'Choose the file with the animals.');
    return unread(encoding);
  }
  if (asked.format === 'SIX_COLUMNS' || (asked.format === undefined && isSixColumns(text))) {
    return { ...readSixColumns(text, encoding, asked, faults), examples: [], guardedCells: 0 };
  }
  const hasOddCharacters = hasUnreadable || text.includes('\0');
  return readWithHeadings(text, encoding, hasOddCharacters, asked, faults);
}

const NO_LAYOUT: Layout = { separator: ',', headerLine: 0, headings: [] };

function readWithHeadings(
  text: string,
  encoding: Encoding,
  hasOddCharacters: boolean,
  asked: Partial<ColumnMap>,
  faults: FileFaults,
): ProgramFile {
  const expected = (asked.columns ?? []).map((column) => column.heading);
  const layout = findLayout(text, expected, asked.separator);
  const sample: string[][] = [];
  splitRows(text, layout.separator, (cells, line) => {
    if (line > layout.headerLine) sample.push(cells);
    return sample.length < SAMPLE_ROWS;
  });
  const { map, guesses } = proposeMap(layout, encoding, sample, asked);
  checkHeadings(layout, map, asked, faults);
  const examples = layout.headings.map((_, i) => exampleOf(sample, i));
  const nothing = { rows: [], faults, map, guesses, examples, guardedCells: 0 };
  if (!map.columns.some((column) => column.field === 'code')) return nothing;
  const reader = new RowReader(map, faults, hasOddCharacters);
  const unnamed = map.columns.flatMap((column, i) => (column.heading === '' ? i : []));
  let guardedCells = 0;
  let rows = 0;
  splitRows(text, layout.separator, (cells, line, quotes) => {
    if (line <= layout.headerLine) return true;
    if (++rows > MOST_ROWS) {
      faults.addWhole(...TOO_MANY_ROWS);
      return false;
    }
    reader.read(cells, line, quotes);
    if (!map.isGuarded) for (const cell of cells) if (looksGuarded(cell)) guardedCells++;
    for (const i of unnamed) reportUnnamed(cells[i], line, i, faults);
    return true;
  });
  if (reader.rows.length === 0 && !faults.hasFatal) {
    faults.addWhole(
      'EMPTY_FILE',
      'The file has headings and no animals.',
      'Choose the file with the animals.',
    );
  }
  return { rows: reader.rows, faults, map, guesses, examples, guardedCells };
}

const MOST_EXAMPLE = 60;

function exampleOf(sample: readonly (readonly string[])[], column: number): string {
  const cell = sample.find((cells) => (cells[column] ?? '').trim() !== '')?.[column]?.trim() ?? '';
  return cell.length > MOST_EXAMPLE ? `${cell.slice(0, MOST_EXAMPLE)}…` : cell;
}

function looksGuarded(cell: string): boolean {
  return cell.charCodeAt(0) === 39 && /^'[=+\-@]/.test(cell);
}

function reportUnnamed(
  cell: string | undefined,
  line: number,
  position: number,
  faults: FileFaults,
): void {
  if (cell === undefined || cell.trim() === '') return;
  faults.add({
    code: 'UNNAMED_COLUMN',
    isFatal: false,
    line,
    column: `column ${position + 1}`,
    value: cell.trim(),
    message: 'This cell stands in a column without a heading and is left out.',
    remedy: 'Give the column a heading.',
  });
}

function checkHeadings(
  layout: Layout,
  map: ColumnMap,
  asked: Partial<ColumnMap>,
  faults: FileFaults,
): void {
  const told = new Set((asked.columns ?? []).map((column) => column.heading));
  const seen = new Set<string>();
  for (const { heading, field } of map.columns) {
    const place = { line: layout.headerLine, column: heading, value: heading };
    if (field !== null && seen.has(field)) {
      faults.add({
        code: 'DUPLICATE_COLUMN',
        isFatal: true,
        ...place,
        message: `A second column is read as ${field}.`,
        remedy: "Say under 'How it is read' which of them counts and leave the other out.",
      });
    }
    if (field !== null) seen.add(field);
    if (field !== null || heading === '' || told.has(heading)) continue;
    const likely = recogniseHeading(heading)?.field;
    faults.add({
      code: 'UNKNOWN_COLUMN',
      isFatal: false,
      ...place,
      message: `The column '${heading}' is not one of the program file and is left out.`,
      remedy:
        likely && (!seen.has(likely) || exactField(heading) === null)
          ? `Map it to ${likely} or leave it.`
          : 'Map it to a column of the program file, for example notes, or leave it.',
    });
  }
  if (seen.has('code')) return;
  const isOneCell = layout.headings.length <= 1;
  faults.add({
    code: isOneCell ? 'WRONG_SEPARATOR' : 'NO_CODE_COLUMN',
    isFatal: true,
    line: layout.headerLine,
    column: '',
    value: layout.headings.join(layout.separator),
    message: isOneCell
      ? `The first line does not fall into columns at '${layout.separator}', and none is the code of the animals.`
      : 'No column holds the code of the animals.',
    remedy: isOneCell
      ? "Say under 'How it is read' which character separates the columns: , ; a tab or |."
      : "Say under 'How it is read' which column holds the code, or name it code in the first line.",
  });
}

/** Files that are no text at all, told by how they begin. */
const NOT_TEXT: readonly [start: readonly number[], what: string][] = [
  [[0x50, 0x4b, 0x03, 0x04], 'a workbook or another zipped file'],
  [[0xd0, 0xcf, 0x11, 0xe0], 'an old workbook'],
  [[0x25, 0x50, 0x44, 0x46], 'a PDF'],
  [[0x1f, 0x8b], 'a compressed file'],
];

function refuse(bytes: Uint8Array): [code: string, message: string, remedy: string] | null {
  if (bytes.length > MOST_BYTES) {
    const size = `${Math.round(bytes.length / 2 ** 20)} MB`;
    const remedy = `Split it into files of at most ${MOST_BYTES / 2 ** 20} MB.`;
    return ['FILE_TOO_LARGE', `The file has ${size}.`, remedy];
  }
  const found = NOT_TEXT.find(([start]) => start.every((byte, i) => bytes[i] === byte));
  if (!found) return null;
  return ['NOT_TEXT', `This is ${found[1]}, not a text file.`, 'Save the table as CSV (UTF-8).'];
}
