import type { ColumnMap } from './column-map.js';
import { decodeText } from './decode-text.js';
import { findLayout } from './find-layout.js';
import { CellMender, type Correction } from './mend-cells.js';
import { splitRows } from './split-rows.js';

/**
 * The text of a file with corrections in it, to be kept beside or in place of it: rows without any stand as they
 * were, letter by letter. `map` as the file was read with headings; a six-column file is answered as it is. Encode as
 * UTF-8. Cost: linear.
 */
export function mendFile(
  bytes: Uint8Array,
  map: ColumnMap,
  corrections: readonly Correction[],
): string {
  const { text } = decodeText(bytes, map.encoding);
  if (map.format === 'SIX_COLUMNS') return text;
  const headings = map.columns.map(({ heading }) => heading);
  const { headerLine } = findLayout(text, headings, map.separator);
  const mender = new CellMender(map.columns, corrections);
  const pieces: string[] = [];
  let copied = 0;
  splitRows(text, map.separator, (cells, line, _, from, to) => {
    const mended = mender.mended(cells, line);
    if (mended === cells || line <= headerLine) return true;
    pieces.push(
      text.slice(copied, from),
      mended.map((cell) => quoted(cell, map.separator)).join(map.separator),
    );
    copied = to;
    return true;
  });
  pieces.push(text.slice(copied));
  return pieces.join('');
}

function quoted(cell: string, separator: string): string {
  const needsQuotes = /["\n\r]/.test(cell) || cell.includes(separator);
  return needsQuotes ? `"${cell.replaceAll('"', '""')}"` : cell;
}
