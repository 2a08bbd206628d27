import { numberOf } from '../../lib/typed-number.js';
import type { EntryInput } from './entry-form.js';
import { dayIn, LEFT_OUT, type RowReader } from './pasted-rows.js';

interface PasteColumn {
  readonly value: string;
  readonly words: string;
  /** Of the heading in small letters. */
  readonly heading: RegExp;
}

/** What a row of a spreadsheet may be: one entry each. */
export interface PasteKind {
  readonly id: string;
  readonly words: string;
  readonly hint: string;
  readonly example: string;
  readonly columns: readonly PasteColumn[];
  /** Without this one a line is no line of headings. */
  readonly key: string;
  /** What the columns are where no headings say it. */
  readonly guess: (rows: readonly (readonly string[])[]) => string[];
  readonly entry: (row: RowReader, today: string) => Omit<EntryInput, 'id' | 'note'>;
}

const DATE: PasteColumn = {
  value: 'date',
  words: 'Date',
  heading: /^(date|day|when|on|laid|hatched on)$/,
};
const PEN: PasteColumn = { value: 'pen', words: 'Pen', heading: /pen|place/ };
const NOTE: PasteColumn = { value: 'note', words: 'Note', heading: /note|remark/ };
const CLUTCH: PasteColumn = {
  value: 'clutch',
  words: 'Code of the clutch',
  heading: /^(clutch|box|code)/,
};

const ANIMALS: PasteKind = {
  id: 'animals',
  words: 'Animals weighed, measured or seen',
  hint: 'One animal a row, its code first. A row without figures means the animal was seen; without a date, today.',
  example: 'code\tdate\tlength mm\tweight g\nHG-012\t2026-04-30\t182\t1240',
  key: 'code',
  columns: [
    { value: 'code', words: 'Code of the animal', heading: /^(code|animal|tag|id|who)$/ },
    DATE,
    { value: 'sclCm', words: 'Shell length, cm', heading: /(scl|shell|carapace|length).*cm/ },
    { value: 'sclMm', words: 'Shell length, mm', heading: /scl|shell|carapace|length/ },
    { value: 'plastronMm', words: 'Plastron, mm', heading: /plastron/ },
    { value: 'massKg', words: 'Weight, kg', heading: /(mass|weight).*kg|^kg$/ },
    { value: 'massG', words: 'Weight, g', heading: /mass|weight|^g$/ },
    { ...PEN, words: 'Seen in pen' },
    NOTE,
  ],
  guess: guessedAnimals,
  entry: (row, today) => {
    const animal = row.needed('code', 'code');
    const on = row.day(today);
    const measured = {
      sclMm: row.figure('sclMm', 1) ?? row.figure('sclCm', 10),
      massG: row.figure('massG', 1) ?? row.figure('massKg', 1000),
      plastronMm: row.figure('plastronMm', 1),
    };
    const isMeasured = Object.values(measured).some((value) => value !== undefined);
    return isMeasured
      ? { on, measured: { animal, ...measured } }
      : { on, seen: { animals: [animal], pen: row.text('pen') || null } };
  },
};

const CLUTCHES: PasteKind = {
  id: 'clutches',
  words: 'Clutches laid',
  hint: 'One clutch a row. Several possible mothers stand in one cell: F1 / F2. Without a code it gets the next one.',
  example: 'clutch\tlaid\tmother\teggs\nC2025-04\t2025-06-02\tHG-012\t9',
  key: 'dams',
  columns: [
    CLUTCH,
    DATE,
    { value: 'dams', words: 'Mother', heading: /mother|dam|female/ },
    { value: 'eggs', words: 'Eggs', heading: /^(eggs|count|number)$/ },
    { value: 'broken', words: 'Of them broken', heading: /broken/ },
    { value: 'notSet', words: 'Of them not set', heading: /not set|unset/ },
    PEN,
    NOTE,
  ],
  guess: inOrder('clutch', 'date', 'dams', 'eggs', 'note'),
  entry: (row) => ({
    on: row.day(null),
    laid: {
      clutch: row.text('clutch') || undefined,
      dams: row.list('dams').map((ref) => ({ ref })),
      eggs: row.count('eggs') || undefined,
      broken: row.count('broken'),
      notSet: row.count('notSet'),
      pen: row.text('pen') || null,
    },
  }),
};

const HATCHINGS: PasteKind = {
  id: 'hatchings',
  words: 'Young hatched',
  hint: 'One hatching a row, its clutch first. Codes stand in one cell: Y1 Y2; those without one are counted as a lot.',
  example: 'clutch\tdate\thatched\tcodes\nC2025-04\t2025-08-20\t6\tHG-141 HG-142',
  key: 'clutch',
  columns: [
    CLUTCH,
    DATE,
    { value: 'count', words: 'How many', heading: /^(hatched|count|number|young|how many)$/ },
    { value: 'codes', words: 'Codes of those with one', heading: /codes|names/ },
    { value: 'lot', words: 'Lot of the others', heading: /lot|tub/ },
    PEN,
    NOTE,
  ],
  guess: inOrder('clutch', 'date', 'count', 'codes', 'note'),
  entry: (row) => {
    const codes = row.list('codes');
    const count = row.count('count') ?? codes.length;
    if (count === 0) row.faults.push('How many hatched?');
    return {
      on: row.day(null),
      hatched: {
        clutch: row.needed('clutch', 'clutch'),
        count,
        codes: codes.length > 0 ? codes : undefined,
        lot: row.text('lot') || undefined,
        pen: row.text('pen') || null,
      },
    };
  },
};

export const PASTE_KINDS: readonly PasteKind[] = [ANIMALS, CLUTCHES, HATCHINGS];

/** The columns as the example has them. */
function inOrder(...columns: string[]): PasteKind['guess'] {
  return (rows) => {
    const width = Math.max(0, ...rows.map((row) => row.length));
    return Array.from({ length: width }, (_, k) => columns[k] ?? LEFT_OUT);
  };
}

/** The code, the date, a length and a weight, as most notebooks have them. */
function guessedAnimals(rows: readonly (readonly string[])[]): string[] {
  const width = Math.max(0, ...rows.map((row) => row.length));
  let numbers = ['sclMm', 'massG'];
  return Array.from({ length: width }, (_, k) => {
    if (k === 0) return 'code';
    const cells = rows.map((row) => row[k] ?? '').filter(Boolean);
    if (
      cells.length > 0 &&
      cells.every((cell) => dayIn(cell) !== null && numberOf(cell) === null)
    ) {
      return 'date';
    }
    if (cells.length > 0 && cells.every((cell) => numberOf(cell) !== null)) {
      const [first = LEFT_OUT, ...rest] = numbers;
      numbers = rest;
      return first;
    }
    return 'note';
  });
}
