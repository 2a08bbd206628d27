import type { Encoding } from './decode-text.js';
import type { Field } from './program-row.js';
import type { DateOrder } from './read-date.js';
import type { Unit } from './recognise-words.js';

/** How one column is read. */
export interface MappedColumn {
  /** The heading as it stands in the file, trimmed. */
  readonly heading: string;
  /** Null leaves the column out. */
  readonly field: Field | null;
  /** Of lengths and masses; null elsewhere. */
  readonly unit: Unit | null;
}

/** Words that stand for a sex, or for 'looked at, shows no trait'; in lower case. */
export interface SpecialWords {
  readonly female: readonly string[];
  readonly male: readonly string[];
  readonly unknown: readonly string[];
  readonly none: readonly string[];
}

/** How somebody's file is read: plain data, proposed by the reader, changed by people, kept with the program. */
export interface ColumnMap {
  /** A file with headings, or the six columns family, id, father, mother, sex, phenotype without any. */
  readonly format: 'HEADINGS' | 'SIX_COLUMNS';
  readonly encoding: Encoding;
  readonly separator: string;
  readonly columns: readonly MappedColumn[];
  readonly dateOrder: DateOrder;
  readonly decimalSign: '.' | ',';
  /** 1950 reads the years 50 to 99 as 19.. and 00 to 49 as 20..; null: years have four digits. */
  readonly twoDigitYearsFrom: number | null;
  readonly words: SpecialWords;
  /** Cells were guarded against being run as formulas: one apostrophe before = + - @ is taken off. */
  readonly isGuarded: boolean;
  /** Six columns only: the trait that phenotype 2 ('affected') stands for; null leaves the column out. */
  readonly affectedTrait: string | null;
}

/** How a file in the program's own format is read. */
export const OWN_FORMAT = {
  format: 'HEADINGS',
  encoding: 'utf-8',
  separator: ',',
  dateOrder: 'YEAR_FIRST',
  decimalSign: '.',
  twoDigitYearsFrom: null,
  words: { female: ['f'], male: ['m'], unknown: [], none: ['none'] },
  isGuarded: false,
  affectedTrait: null,
} as const satisfies Omit<ColumnMap, 'columns'>;
