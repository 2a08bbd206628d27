import type { ColumnMap } from './column-map.js';
import { type Encoding, EncodingGuess, TextPieces } from './decode-text.js';
import { FileFaults, TOO_MANY_ROWS } from './file-fault.js';
import { findLayout, type Layout } from './find-layout.js';
import { CellMender, type Correction } from './mend-cells.js';
import { type FileRow, MOST_ROWS } from './program-row.js';
import { exactField, type MapProposal, proposeMap } from './propose-map.js';
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
  /** What is to be read otherwise than it stands there. */
  readonly corrections?: readonly Correction[];
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
 * the text plus a third of a kilobyte per row.
 */
export function readProgramFile(bytes: Uint8Array, options: ReadOptions = {}): ProgramFile {
  const guess = new EncodingGuess();
  guess.push(bytes);
  const reader = new ProgramFileReader(guess, bytes.length, options);
  reader.push(bytes, true);
  return reader.file();
}

/** Of so many characters of the text, layout and map are proposed. */
const HEAD_CHARACTERS = 2 ** 21;

/**
 * The same for a file that comes in pieces: a first pass gives them to an `EncodingGuess`, a second to `push`. Of the
 * text no more than `HEAD_CHARACTERS` and a piece are held (a six-column pedigree whole, to see which ids several
 * families share).
 */
export class ProgramFileReader {
  readonly #faults = new FileFaults();
  readonly #asked: Partial<ColumnMap>;
  readonly #corrections: readonly Correction[];
  readonly #isRefused: boolean;
  readonly #pieces: TextPieces;
  #isFirst = true;
  /** Text that is not yet split into rows. */
  #text = '';
  #rows: TableReader | null = null;
  #sixColumns: boolean | null = null;

  /** `size`: bytes of the whole file. */
  constructor(guess: EncodingGuess, size: number, options: ReadOptions = {}) {
    this.#asked = options.map ?? {};
    this.#corrections = options.corrections ?? [];
    this.#pieces = new TextPieces(this.#asked.encoding ?? guess.encoding());
    this.#isRefused = size > MOST_BYTES;
    if (!this.#isRefused) return;
    const remedy = `Split it into files of at most ${MOST_BYTES / 2 ** 20} MB.`;
    const message = `The file has ${Math.round(size / 2 ** 20)} MB.`;
    this.#faults.addWhole('FILE_TOO_LARGE', message, remedy);
  }

  push(bytes: Uint8Array, isLast: boolean): void {
    if (this.#isRefused || this.#faults.counts.has('NOT_TEXT')) return;
    const kind = this.#isFirst ? notText(bytes) : null;
    this.#isFirst = false;
    if (kind) {
      const remedy = 'Save the table as CSV (UTF-8).';
      this.#faults.addWhole('NOT_TEXT', `This is ${kind}, not a text file.`, remedy);
      return;
    }
    this.#text += this.#pieces.push(bytes, isLast);
    if (!this.#rows) {
      if (!isLast && this.#text.length < HEAD_CHARACTERS) return;
      if (!isLast && this.#text.trim() === '') return;
      this.#sixColumns ??=
        this.#asked.format === 'SIX_COLUMNS' ||
        (this.#asked.format === undefined && isSixColumns(this.#text));
      if (this.#sixColumns || this.#text.trim() === '') return;
      this.#rows = new TableReader(
        this.#text,
        isLast,
        this.#pieces.encoding,
        this.#asked,
        this.#corrections,
        this.#faults,
      );
    }
    this.#text = this.#rows.read(this.#text, this.#pieces.hasUnreadable, isLast);
  }

  /** After the last piece. */
  file(): ProgramFile {
    const { encoding } = this.#pieces;
    const faults = this.#faults;
    if (this.#rows) return this.#rows.file();
    if (!faults.hasFatal && this.#text.trim() !== '') {
      const six = readSixColumns(this.#text, encoding, this.#asked, this.#corrections, faults);
      return { ...six, examples: [], guardedCells: 0 };
    }
    if (!faults.hasFatal) {
      faults.addWhole('EMPTY_FILE', 'The file is empty.', 'Choose the file with the animals.');
    }
    const unread = faults.counts.has('EMPTY_FILE') ? encoding : 'utf-8';
    const { map, guesses } = proposeMap(NO_LAYOUT, unread, [], this.#asked);
    return { rows: [], faults, map, guesses, examples: [], guardedCells: 0 };
  }
}

const NO_LAYOUT: Layout = { separator: ',', headerLine: 0, headings: [] };

/** Rows of a file with headings, whose layout and map follow from the head of its text. */
class TableReader {
  readonly #faults: FileFaults;
  readonly #layout: Layout;
  readonly #proposal: MapProposal;
  readonly #examples: string[];
  readonly #reader: RowReader;
  readonly #mender: CellMender;
  /** Positions of the columns without a heading. */
  readonly #unnamed: readonly number[];
  readonly #hasCodes: boolean;
  #line = 1;
  #hasOddCharacters = false;
  #guardedCells = 0;
  #count = 0;

  constructor(
    head: string,
    isWhole: boolean,
    encoding: Encoding,
    asked: Partial<ColumnMap>,
    corrections: readonly Correction[],
    faults: FileFaults,
  ) {
    const expected = (asked.columns ?? []).map((column) => column.heading);
    const layout = findLayout(head, expected, asked.separator);
    const sample: string[][] = [];
    const take = (cells: string[], line: number): boolean => {
      if (line > layout.headerLine) sample.push(cells);
      return sample.length < SAMPLE_ROWS;
    };
    splitRows(head, layout.separator, take, undefined, isWhole);
    this.#proposal = proposeMap(layout, encoding, sample, asked);
    const { map } = this.#proposal;
    checkHeadings(layout, map, asked, faults);
    this.#examples = layout.headings.map((_, i) => exampleOf(sample, i));
    this.#hasCodes = map.columns.some((column) => column.field === 'code');
    this.#reader = new RowReader(map, faults);
    this.#mender = new CellMender(map.columns, corrections);
    this.#unnamed = map.columns.flatMap((column, i) => (column.heading === '' ? i : []));
    this.#layout = layout;
    this.#faults = faults;
  }

  /** Reads the rows of a text; answers what of it is left until the next piece is there. */
  read(text: string, hasUnreadable: boolean, isLast: boolean): string {
    if (!this.#hasCodes || this.#count > MOST_ROWS) return '';
    this.#hasOddCharacters ||= hasUnreadable || text.includes('\0');
    const { map } = this.#proposal;
    const { separator, headerLine } = this.#layout;
    const place = splitRows(
      text,
      separator,
      (found, line, quotes) => {
        if (line <= headerLine) return true;
        if (++this.#count > MOST_ROWS) {
          this.#faults.addWhole(...TOO_MANY_ROWS);
          return false;
        }
        const cells = this.#mender.mended(found, line);
        const left = quotes.filter(({ cell }) => !this.#mender.mends(line, cell));
        this.#reader.read(cells, line, left, this.#hasOddCharacters);
        if (!map.isGuarded) for (const cell of cells) if (looksGuarded(cell)) this.#guardedCells++;
        for (const i of this.#unnamed) reportUnnamed(cells[i], line, i, this.#faults);
        return true;
      },
      { position: 0, line: this.#line },
      isLast,
    );
    this.#line = place.line;
    return text.slice(place.position);
  }

  file(): ProgramFile {
    const faults = this.#faults;
    const { rows } = this.#reader;
    if (this.#hasCodes && rows.length === 0 && !faults.hasFatal) {
      const message = 'The file has headings and no animals.';
      faults.addWhole('EMPTY_FILE', message, 'Choose the file with the animals.');
    }
    const guardedCells = this.#guardedCells;
    return { rows, faults, ...this.#proposal, examples: this.#examples, guardedCells };
  }
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

function notText(bytes: Uint8Array): string | null {
  const found = NOT_TEXT.find(([start]) => start.every((byte, i) => bytes[i] === byte));
  return found ? found[1] : null;
}
