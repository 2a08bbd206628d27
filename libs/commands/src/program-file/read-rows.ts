import type { PartialDate } from '@scutewright/basics';
import type { ColumnMap } from './column-map.js';
import { CellFault, type FileFault, type FileFaults } from './file-fault.js';
import type { DeclaredGenotype, Field, FileRow, NamedParent } from './program-row.js';
import {
  readCode,
  readGenotype,
  readMeasure,
  readParents,
  readSex,
  readText,
  readTraits,
} from './read-cells.js';
import { readDate } from './read-date.js';
import { UNITS } from './recognise-words.js';
import type { QuoteFault } from './split-rows.js';

/** Different texts of one field whose reading is kept, so that clutch mates share it. */
const MOST_KEPT = 20_000;

/** The longest text of any cell: notes. */
const MOST_CELL = 20_000;

type Drafted = { -readonly [Key in keyof FileRow]: FileRow[Key] };

/** Turns the cells of a file with headings into typed rows and faults, by a map. */
export class RowReader {
  readonly rows: FileRow[] = [];
  readonly #map: ColumnMap;
  readonly #faults: FileFaults;
  /** Field of each column; null where it is left out or the field has a column already. */
  readonly #fields: readonly (Field | null)[];
  readonly #dates = new Kept<PartialDate | CellFault>();
  readonly #parents = new Kept<readonly NamedParent[] | CellFault>();
  readonly #traits = new Kept<Pick<FileRow, 'traits' | 'absent'> | CellFault>();
  readonly #genotypes = new Kept<readonly DeclaredGenotype[] | CellFault>();
  readonly #texts = new Kept<string | null | CellFault>();

  constructor(map: ColumnMap, faults: FileFaults) {
    this.#map = map;
    this.#faults = faults;
    const fields = map.columns.map((column) => column.field);
    this.#fields = fields.map((field, i) => (fields.indexOf(field) === i ? field : null));
  }

  /**
   * Takes one row; cells beyond the headings and a missing end are a fault, blank rows are passed over. `mayBeOdd`:
   * cells may have characters that could not be read.
   */
  read(
    cells: readonly string[],
    line: number,
    quotes: readonly QuoteFault[],
    mayBeOdd: boolean,
  ): void {
    if (cells.every((cell) => cell.trim() === '')) return;
    for (const quote of quotes) this.#addQuoteFault(quote);
    const isRagged = this.#isRagged(cells, line);
    const row: Drafted = {
      code: '',
      name: null,
      species: null,
      sex: null,
      hatched: null,
      sires: [],
      dams: [],
      clutch: null,
      traits: null,
      absent: [],
      genotype: [],
      pen: null,
      sclMm: null,
      massG: null,
      notes: null,
      line,
    };
    for (const [position, field] of this.#fields.entries()) {
      if (field === null || (isRagged && field !== 'code')) continue;
      const text = this.#plainCell(cells[position] ?? '', line, position, mayBeOdd);
      if (text === null) continue;
      const fault = this.#fill(row, field, text, position);
      if (fault) this.#addCellFault(fault, text, line, position);
    }
    if (row.code !== '') this.rows.push(row);
  }

  #isRagged(cells: readonly string[], line: number): boolean {
    const width = this.#fields.length;
    const isShort = cells.length < width;
    const isLong = cells.slice(width).some((cell) => cell.trim() !== '');
    if (!isShort && !isLong) return false;
    this.#faults.add({
      code: 'RAGGED_ROW',
      isFatal: true,
      line,
      column: '',
      value: cells.slice(0, 20).join(this.#map.separator),
      message: `This row has ${cells.length} cells, the headings have ${width}.`,
      remedy: isLong
        ? `Put double quotes around a cell that holds '${this.#map.separator}' itself.`
        : 'Add the missing cells, empty where nothing is known.',
    });
    return true;
  }

  /** The cell as it is meant; null where it has characters that cannot be read or stored. */
  #plainCell(cell: string, line: number, position: number, mayBeOdd: boolean): string | null {
    let text = ownText(cell.trim());
    if (this.#map.isGuarded && /^'+[=+\-@]/.test(text)) text = text.slice(1);
    if (mayBeOdd && (text.includes('\uFFFD') || text.includes('\0'))) {
      const fault = new CellFault(
        'UNREADABLE_CHARACTER',
        'This cell has characters that cannot be read.',
        'Save the file as UTF-8 (in a spreadsheet: CSV UTF-8), or type the cell again.',
      );
      this.#addCellFault(fault, text, line, position);
      return null;
    }
    return text;
  }

  #fill(row: Drafted, field: Field, text: string, position: number): CellFault | null {
    const map = this.#map;
    const set = <Key extends keyof Drafted>(
      key: Key,
      read: Drafted[Key] | CellFault,
    ): CellFault | null => {
      if (read instanceof CellFault) return read;
      row[key] = read;
      return null;
    };
    if (field === 'code') return set('code', readCode(text));
    if (text.length > MOST_CELL) return readText(text, MOST_CELL) as CellFault;
    // An empty cell leaves the field as the draft has it: nothing said.
    if (text === '') return null;
    switch (field) {
      case 'name':
        return set('name', readText(text, 120));
      case 'species':
        return set(
          'species',
          this.#texts.of(text, () => readText(text, 120)),
        );
      case 'sex':
        return set('sex', readSex(text, map));
      case 'hatched':
        return set(
          'hatched',
          this.#dates.of(text, () => readDate(text, map.dateOrder, map.twoDigitYearsFrom)),
        );
      case 'sire':
        return set(
          'sires',
          this.#parents.of(text, () => readParents(text, map)),
        );
      case 'dam':
        return set(
          'dams',
          this.#parents.of(text, () => readParents(text, map)),
        );
      case 'clutch':
        return set('clutch', readText(text, 60));
      case 'traits': {
        const look = this.#traits.of(text, () => readTraits(text, map));
        if (look instanceof CellFault) return look;
        Object.assign(row, look);
        return null;
      }
      case 'genotype':
        return set(
          'genotype',
          this.#genotypes.of(text, () => readGenotype(text)),
        );
      case 'pen':
        return set(
          'pen',
          this.#texts.of(text, () => readText(text, 120)),
        );
      case 'scl_mm':
        return set('sclMm', readMeasure(text, map, this.#factor(position)));
      case 'mass_g':
        return set('massG', readMeasure(text, map, this.#factor(position)));
      case 'notes':
        return set('notes', readText(text, MOST_CELL));
    }
  }

  #factor(position: number): number {
    const { unit } = this.#map.columns[position];
    return unit === null ? 1 : UNITS[unit].factor;
  }

  #heading(position: number): string {
    return this.#map.columns[position]?.heading || `column ${position + 1}`;
  }

  #addCellFault(fault: CellFault, value: string, line: number, position: number): void {
    const { code, message, remedy } = fault;
    const column = this.#heading(position);
    this.#faults.add({ code, isFatal: true, line, column, value, message, remedy });
  }

  #addQuoteFault(quote: QuoteFault): void {
    const isUnclosed = quote.kind === 'UNCLOSED_QUOTE';
    const fault: FileFault = {
      code: quote.kind,
      isFatal: true,
      line: quote.line,
      column: this.#heading(quote.cell),
      value: quote.value,
      message: isUnclosed
        ? 'This cell opens a double quote that is never closed.'
        : 'This cell goes on after its closing double quote.',
      remedy: isUnclosed
        ? 'Close the quote, or write a quote that belongs to the text as "" inside a quoted cell.'
        : 'Write a quote that belongs to the text as "" inside a quoted cell.',
    };
    this.#faults.add(fault);
  }
}

/**
 * The same text by itself. An engine keeps a longer part of a text as a view of the whole, and one cell would hold a
 * piece of the file in memory; what is put together anew is not such a view.
 */
function ownText(text: string): string {
  return text.length < 13 ? text : ` ${text}`.slice(1);
}

/** Readings by their text; forgets all when full, so that memory stays bounded. */
class Kept<Value> {
  readonly #values = new Map<string, Value>();

  of(text: string, read: () => Value): Value {
    const kept = this.#values.get(text);
    if (kept !== undefined) return kept;
    if (this.#values.size >= MOST_KEPT) this.#values.clear();
    const value = read();
    this.#values.set(text, value);
    return value;
  }
}
