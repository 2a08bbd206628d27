/** A quotation mark that does not pair up. */
export interface QuoteFault {
  readonly kind: 'UNCLOSED_QUOTE' | 'STRAY_QUOTE';
  readonly line: number;
  /** Position of the cell in its row, from 0. */
  readonly cell: number;
  readonly value: string;
}

/** A longer cell in quotes is taken for an unclosed quote. */
const MOST_QUOTED = 200_000;
/** Cells of one row that are kept; what follows them on the line is passed over. */
const MOST_CELLS = 2_000;

const QUOTE = 34;
const LINE_FEED = 10;
const RETURN = 13;
const BLANK = 32;

/** Where a text was left, or is taken up again. */
export interface TextPlace {
  /** Position of a character. */
  readonly position: number;
  /** Its line, from 1. */
  readonly line: number;
}
const START: TextPlace = { position: 0, line: 1 };

/**
 * Splits delimited text into rows of cells and gives each to `onRow`, with the line on which it starts, the faults
 * of its quotes and where it stands in the text (without its line end), until that answers false. Cells in double quotes may hold the separator, line ends and doubled quotes (RFC 4180, sections
 * 2.5 to 2.7); blanks around the quotes are allowed. Rows end with LF, CRLF or CR; empty lines are passed over.
 * A quote that is never closed, or closed in the middle of a later line's text, is taken as a plain character, so
 * that it spoils one cell and not the rest of the file. Of a text that goes on (`isWhole` false), a row is left for
 * the next time if what follows could change how it is read; answers where that is. Cost: each character is looked
 * at two or three times.
 */
export function splitRows(
  text: string,
  separator: string,
  onRow: (
    cells: string[],
    line: number,
    quotes: readonly QuoteFault[],
    from: number,
    to: number,
  ) => boolean,
  from: TextPlace = START,
  isWhole = true,
): TextPlace {
  const separatorCode = separator.charCodeAt(0);
  const length = text.length;
  let { position, line } = from;
  while (position < length) {
    const start = { position, line };
    const cells: string[] = [];
    let faults: QuoteFault[] | null = null;
    for (;;) {
      let at = position;
      while (text.charCodeAt(at) === BLANK && separatorCode !== BLANK) at++;
      if (text.charCodeAt(at) === QUOTE) {
        // Whether the quote is closed shows within so many characters.
        if (!isWhole && at + MOST_QUOTED + 2 > length) return start;
        const quoted = readQuoted(text, at, separatorCode);
        if (typeof quoted === 'object') {
          cells.push(quoted.value);
          line += quoted.lineEnds;
          position = quoted.end;
        } else {
          position = endOfPlain(text, at, separatorCode);
          const value = text.slice(at, position);
          faults ??= [];
          faults.push({ kind: quoted, line, cell: cells.length, value });
          cells.push(value);
        }
      } else {
        at = position;
        position = endOfPlain(text, at, separatorCode);
        cells.push(text.slice(at, position));
      }
      if (position >= length || text.charCodeAt(position) !== separatorCode) break;
      position++;
      if (cells.length < MOST_CELLS) continue;
      position = endOfLine(text, position);
      break;
    }
    const end = position;
    // A CR at the very end may be half of a CRLF.
    if (!isWhole && position + 1 >= length) return start;
    if (position < length) {
      const isPair =
        text.charCodeAt(position) === RETURN && text.charCodeAt(position + 1) === LINE_FEED;
      position += isPair ? 2 : 1;
      line++;
    }
    if (cells.length === 1 && cells[0] === '') continue;
    if (!onRow(cells, start.line, faults ?? NO_FAULTS, start.position, end)) break;
  }
  return { position, line };
}
const NO_FAULTS: readonly QuoteFault[] = [];

function endOfPlain(text: string, from: number, separatorCode: number): number {
  let i = from;
  for (; i < text.length; i++) {
    const code = text.charCodeAt(i);
    if (code === separatorCode || code === LINE_FEED || code === RETURN) break;
  }
  return i;
}

function endOfLine(text: string, from: number): number {
  let i = from;
  while (i < text.length && text.charCodeAt(i) !== LINE_FEED && text.charCodeAt(i) !== RETURN) i++;
  return i;
}

function readQuoted(
  text: string,
  open: number,
  separatorCode: number,
): { value: string; end: number; lineEnds: number } | QuoteFault['kind'] {
  const last = open + MOST_QUOTED;
  let close = text.indexOf('"', open + 1);
  let hasDoubled = false;
  while (close >= 0 && close < last && text.charCodeAt(close + 1) === QUOTE) {
    hasDoubled = true;
    close = text.indexOf('"', close + 2);
  }
  if (close < 0 || close >= last) return 'UNCLOSED_QUOTE';
  const raw = text.slice(open + 1, close);
  const lineEnds = countLineEnds(raw);
  let end = close + 1;
  while (text.charCodeAt(end) === BLANK && separatorCode !== BLANK) end++;
  const code = end < text.length ? text.charCodeAt(end) : LINE_FEED;
  if (code !== separatorCode && code !== LINE_FEED && code !== RETURN) {
    return lineEnds > 0 ? 'UNCLOSED_QUOTE' : 'STRAY_QUOTE';
  }
  return { value: hasDoubled ? raw.replaceAll('""', '"') : raw, end, lineEnds };
}

function countLineEnds(text: string): number {
  let count = 0;
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i);
    if (code === LINE_FEED || (code === RETURN && text.charCodeAt(i + 1) !== LINE_FEED)) count++;
  }
  return count;
}
