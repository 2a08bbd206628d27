import { ArchiveFault } from './archive-fault.js';

// Tables of an archive are CSV by RFC 4180 with LF, UTF-8, a header line. An empty cell is a
// missing value; "" (quoted) is a text of no characters. Other readers see both as empty, which
// is what CSV on the Web takes a missing value to be.

/** A longer cell is refused: a row is held in memory whole. */
const MOST_CELL = 48 * 1024 * 1024;

/** One line of a table, with its line end. Null is a missing value. */
export function writeArchiveRow(cells: readonly (string | null)[]): string {
  let line = '';
  for (let i = 0; i < cells.length; i++) {
    const cell = cells[i];
    if (i > 0) line += ',';
    if (cell === null) continue;
    line += cell === '' || /[",\r\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;
  }
  return `${line}\n`;
}

/**
 * Reads a table piece by piece, as strictly as `writeArchiveRow` writes it: anything else is not
 * our archive, or a damaged one. Memory: the piece and the longest row.
 */
export class ArchiveRowReader {
  private line = 0;
  private waiting: string[] = [];
  private waitingLength = 0;
  private rest = '';

  /** `file` is named in faults. */
  constructor(private readonly file: string) {}

  /** Gives each row that is complete by now to `onRow`. Throws ArchiveFault. */
  read(piece: string, onRow: (cells: (string | null)[]) => void): void {
    this.waiting.push(piece);
    this.waitingLength += piece.length;
    // A long row is looked at again only when twice as much of it is there: linear in the end.
    if (this.waitingLength < this.rest.length) return;
    if (this.rest.length + this.waitingLength > 2 * MOST_CELL) {
      throw this.fault('a row is larger than any of ours');
    }
    const text = this.rest + this.waiting.join('');
    this.waiting = [];
    this.waitingLength = 0;
    this.rest = text.slice(this.readRows(text, onRow));
  }

  /** After the last piece. Throws ArchiveFault where the table ends in the middle of a row. */
  end(onRow: (cells: (string | null)[]) => void): void {
    const text = this.rest + this.waiting.join('');
    if (this.readRows(text, onRow) < text.length)
      throw this.fault('it ends in the middle of a row');
  }

  /** Answers where the first incomplete row begins. */
  private readRows(text: string, onRow: (cells: (string | null)[]) => void): number {
    let rowStart = 0;
    let position = 0;
    let cells: (string | null)[] = [];
    while (position < text.length) {
      if (text.charCodeAt(position) === QUOTE) {
        let close = text.indexOf('"', position + 1);
        let isDoubled = false;
        while (close >= 0 && text.charCodeAt(close + 1) === QUOTE) {
          isDoubled = true;
          close = text.indexOf('"', close + 2);
        }
        // What follows the quote decides whether it closes the cell.
        if (close < 0 || close + 1 >= text.length) return rowStart;
        const raw = text.slice(position + 1, close);
        cells.push(isDoubled ? raw.replaceAll('""', '"') : raw);
        position = close + 1;
      } else {
        const end = endOfPlain(text, position);
        if (end === text.length) return rowStart;
        cells.push(end === position ? null : text.slice(position, end));
        position = end;
      }
      const code = text.charCodeAt(position);
      position++;
      if (code === COMMA) {
        // A line that ends with a comma ends with a missing value: the loop reads it next.
        if (position === text.length) return rowStart;
        continue;
      }
      if (code === RETURN) throw this.fault('the line ends were changed by another program');
      if (code !== LINE_FEED) throw this.fault('a quotation mark stands where none can be');
      this.line++;
      onRow(cells);
      cells = [];
      rowStart = position;
    }
    return rowStart;
  }

  private fault(what: string): ArchiveFault {
    return new ArchiveFault(
      `The archive is damaged: in ${this.file} after line ${this.line}, ${what}.`,
    );
  }
}

const QUOTE = 34;
const COMMA = 44;
const LINE_FEED = 10;
const RETURN = 13;

function endOfPlain(text: string, from: number): number {
  let i = from;
  for (; i < text.length; i++) {
    const code = text.charCodeAt(i);
    if (code === COMMA || code === LINE_FEED || code === QUOTE || code === RETURN) break;
  }
  return i;
}
