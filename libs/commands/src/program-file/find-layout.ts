import { recogniseHeading } from './recognise-words.js';
import { splitRows } from './split-rows.js';

/** Where a file with headings keeps what. */
export interface Layout {
  readonly separator: string;
  /** Line of the headings, from 1; 0 where no line has any cell. */
  readonly headerLine: number;
  readonly headings: readonly string[];
}

const SEPARATORS = [',', ';', '\t', '|'];
const SAMPLE_CHARACTERS = 65_536;
const SAMPLE_ROWS = 30;
/** People put a title or an empty line above their table; further down no headings are looked for. */
const MOST_LINES_ABOVE = 10;

/**
 * Finds separator and headings: of the usual separators the one under which a line near the top has most
 * recognised headings; among equals the one that gives most rows as many cells as the headings. Headings that
 * are known already (`expected`, from a map) count as recognised.
 */
export function findLayout(
  text: string,
  expected: readonly string[],
  askedSeparator?: string,
): Layout {
  const head = text.slice(0, SAMPLE_CHARACTERS);
  const declared = /^sep=(.)\r?\n/i.exec(head)?.[1];
  const asked = askedSeparator ?? declared;
  const known = new Set(expected);
  let best: Layout = { separator: asked ?? ',', headerLine: 0, headings: [] };
  let bestScore = -1;
  for (const separator of asked === undefined ? SEPARATORS : [asked]) {
    const rows: { cells: string[]; line: number }[] = [];
    splitRows(head, separator, (cells, line) => {
      if (!(line === 1 && declared !== undefined)) rows.push({ cells, line });
      return rows.length < SAMPLE_ROWS;
    });
    const header = findHeader(rows, known);
    if (!header) continue;
    const width = header.row.cells.length;
    const even = rows.filter(({ cells }) => cells.length === width).length / rows.length;
    const score = header.recognised * 1000 + (width > 1 ? even * 100 + Math.min(width, 50) : 0);
    if (score <= bestScore) continue;
    bestScore = score;
    best = {
      separator,
      headerLine: header.row.line,
      headings: header.row.cells.map((cell) => cell.trim()),
    };
  }
  return best;
}

function findHeader(
  rows: readonly { cells: string[]; line: number }[],
  known: ReadonlySet<string>,
): { row: { cells: string[]; line: number }; recognised: number } | null {
  let found: { row: { cells: string[]; line: number }; recognised: number } | null = null;
  for (const row of rows.slice(0, MOST_LINES_ABOVE)) {
    if (!row.cells.some((cell) => cell.trim() !== '')) continue;
    const recognised = row.cells.filter((cell) => {
      const heading = cell.trim();
      return heading !== '' && (known.has(heading) || recogniseHeading(heading) !== null);
    }).length;
    if (!found || recognised > found.recognised) found = { row, recognised };
  }
  return found;
}
