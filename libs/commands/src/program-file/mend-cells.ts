import type { ColumnMap } from './column-map.js';

/** What is to be read in one cell of a file in place of what stands there; made by people who were told of a fault. */
export interface Correction {
  /** As the fault says: on which line of the file its row begins, from 1. */
  readonly line: number;
  /** The heading, or `column 3` where it has none. */
  readonly column: string;
  /** The value that the fault names: one of several possible parents, else what stands in the whole cell. */
  readonly from: string;
  readonly to: string;
}

/** Lays corrections over the rows of a file. */
export class CellMender {
  readonly #byLine = new Map<number, Correction[]>();
  readonly #positions: ReadonlyMap<string, number>;
  /** Columns whose cells list several. */
  readonly #lists: ReadonlySet<number>;

  constructor(columns: ColumnMap['columns'], corrections: readonly Correction[]) {
    for (const correction of corrections) {
      const list = this.#byLine.get(correction.line);
      if (list) list.push(correction);
      else this.#byLine.set(correction.line, [correction]);
    }
    // The first of several columns of one name, as faults name it.
    this.#positions = new Map(
      columns.map(({ heading }, i) => [heading || `column ${i + 1}`, i] as const).toReversed(),
    );
    this.#lists = new Set(
      columns.flatMap(({ field }, i) => (field === 'sire' || field === 'dam' ? i : [])),
    );
  }

  /** Whether a cell of this line is to be read otherwise, whatever is wrong with its quotes. */
  mends(line: number, position: number): boolean {
    const list = this.#byLine.get(line);
    return list?.some(({ column }) => this.#positions.get(column) === position) ?? false;
  }

  /** The cells as they are to be read; the same array where nothing is to be mended. */
  mended(cells: readonly string[], line: number): readonly string[] {
    const list = this.#byLine.get(line);
    if (!list) return cells;
    const mended = [...cells];
    for (const { column, from, to } of list) {
      const position = this.#positions.get(column);
      if (position === undefined || position >= mended.length) continue;
      mended[position] = this.#lists.has(position) ? inList(mended[position], from, to) : to;
    }
    return mended;
  }
}

/** One of `A:0.6|B:0.4` replaced, with its probability kept; the whole where it stands for all of them. */
function inList(text: string, from: string, to: string): string {
  const parts = text.split('|').map((part) => part.trim());
  const codeOf = (part: string): string => part.split(':', 1)[0].trim();
  if (text.trim() === from || !parts.some((part) => codeOf(part) === from)) return to;
  return parts
    .map((part) =>
      codeOf(part) === from ? to && to + part.slice(part.split(':', 1)[0].length) : part,
    )
    .filter((part) => part !== '')
    .join('|');
}
