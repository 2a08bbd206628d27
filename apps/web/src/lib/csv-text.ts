/** What a cell of a table holds; null is an empty cell. */
export type Cell = string | number | boolean | null;

/**
 * A table as CSV text after RFC 4180: a header, CRLF line ends, quotes where they are needed. Text that
 * a spreadsheet would take for a formula gets an apostrophe in front; numbers are written in full.
 */
export function csvText(columns: readonly string[], rows: readonly (readonly Cell[])[]): string {
  return [columns, ...rows].map((row) => `${row.map(written).join(',')}\r\n`).join('');
}

function written(cell: Cell): string {
  if (cell === null) return '';
  if (typeof cell !== 'string') return String(cell);
  const text = /^[=+\-@\t\r]/.test(cell) ? `'${cell}` : cell;
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
