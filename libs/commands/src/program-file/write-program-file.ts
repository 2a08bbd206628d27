import { FIELD_TEXTS } from './plan-import.js';
import type { ProgramRow } from './program-row.js';

export interface WriteOptions {
  /**
   * True: a cell that a spreadsheet could run as a formula gets an apostrophe in front; read such a file with
   * `isGuarded` in the map to get the text back. False: every cell stands as it is recorded.
   */
  readonly formulaSafe: boolean;
}

const FIELDS_IN_ORDER = Object.entries(FIELD_TEXTS);

/**
 * A program file: all columns, a row per animal in the order given, lines that end with LF, cells quoted only where
 * RFC 4180 asks for it. The same rows give the same text on every machine; `readProgramFile` gives the rows back.
 * Encode as UTF-8 without byte-order mark. Cost: linear.
 */
export function writeProgramFile(rows: Iterable<ProgramRow>, options: WriteOptions): string {
  const lines = [FIELDS_IN_ORDER.map(([field]) => field).join(',')];
  for (const row of rows) {
    lines.push(
      FIELDS_IN_ORDER.map(([, { write }]) => {
        const text = write(row);
        return quote(options.formulaSafe && /^'*[=+\-@]/.test(text) ? `'${text}` : text);
      }).join(','),
    );
  }
  return `${lines.join('\n')}\n`;
}

function quote(text: string): string {
  return /[",\n\r]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
