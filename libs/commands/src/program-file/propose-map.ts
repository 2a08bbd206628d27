import { type ColumnMap, type MappedColumn, OWN_FORMAT, type SpecialWords } from './column-map.js';
import type { Encoding } from './decode-text.js';
import type { Layout } from './find-layout.js';
import { FIELDS, type Field } from './program-row.js';
import { guessDateOrder } from './read-date.js';
import { defaultUnit, recogniseHeading, recogniseWord, UNITS } from './recognise-words.js';

export interface MapProposal {
  readonly map: ColumnMap;
  /** One sentence for each thing that was guessed and not told: to be seen before anything is written. */
  readonly guesses: readonly string[];
}

/**
 * How to read a file with headings. What `asked` gives is taken as it is; the rest is proposed from the headings
 * and from `sample`, rows of cells. A file that mostly has the headings of the program's own format is held to
 * that format: its other headings are not guessed at.
 */
export function proposeMap(
  layout: Layout,
  encoding: Encoding,
  sample: readonly (readonly string[])[],
  asked: Partial<ColumnMap>,
): MapProposal {
  const guesses: string[] = [];
  const columns = proposeColumns(layout.headings, asked.columns ?? [], guesses);
  const cellsOf = (field: Field): string[] => {
    const position = columns.findIndex((column) => column.field === field);
    return position < 0 ? [] : sample.map((cells) => (cells[position] ?? '').trim());
  };
  // In the program's own format a trait may well be named 'normal': only `none` is special there.
  const isOwnTraits = columns.some(
    ({ field, heading }) => field === 'traits' && exactField(heading) === 'traits',
  );
  const traits = isOwnTraits ? [] : cellsOf('traits');
  const map: ColumnMap = {
    ...OWN_FORMAT,
    encoding,
    separator: layout.separator,
    columns,
    dateOrder: asked.dateOrder ?? proposeDateOrder(cellsOf('hatched'), guesses),
    decimalSign:
      asked.decimalSign ??
      proposeDecimalSign([...cellsOf('scl_mm'), ...cellsOf('mass_g')], guesses),
    twoDigitYearsFrom: asked.twoDigitYearsFrom ?? null,
    words: asked.words ?? proposeWords(cellsOf('sex'), traits, guesses),
    isGuarded: asked.isGuarded ?? false,
  };
  return { map, guesses };
}

function proposeColumns(
  headings: readonly string[],
  asked: readonly MappedColumn[],
  guesses: string[],
): MappedColumn[] {
  const exact = headings.map(exactField);
  const filled = headings.filter((heading) => heading !== '').length;
  const isOwnFormat = exact.filter((field) => field !== null).length * 2 > filled;
  const taken = new Set<Field>([
    ...asked.flatMap((column) => column.field ?? []),
    ...exact.flatMap((field) => field ?? []),
  ]);
  return headings.map((heading, position) => {
    const told =
      asked[position]?.heading === heading
        ? asked[position]
        : asked.find((column) => column.heading === heading);
    if (told) return { heading, field: told.field ?? null, unit: unitOf(told) };
    const field = exact[position];
    if (field) return { heading, field, unit: defaultUnit(field) };
    const seen = isOwnFormat ? null : recogniseHeading(heading);
    if (!seen || taken.has(seen.field)) return { heading, field: null, unit: null };
    taken.add(seen.field);
    const unit = seen.unit === null ? '' : ` in ${seen.unit}`;
    guesses.push(`The column '${heading}' is read as ${seen.field.replace(/_.*/, '')}${unit}.`);
    return { heading, field: seen.field, unit: seen.unit };
  });
}

/** The unit that was told, where it is one of the field's; else the field's own. */
function unitOf({ field, unit }: MappedColumn): MappedColumn['unit'] {
  if (!field) return null;
  return unit && UNITS[unit]?.field === field ? unit : defaultUnit(field);
}

/** The field of the program's own format that is spelled like this, case aside. */
export function exactField(heading: string): Field | null {
  const plain = heading.toLowerCase();
  return FIELDS.find((field) => field === plain) ?? null;
}

function proposeDateOrder(dates: readonly string[], guesses: string[]): ColumnMap['dateOrder'] {
  const { order, isProven } = guessDateOrder(dates);
  if (order === 'YEAR_FIRST') return order;
  const example = dates.find((date) => /^\d{1,2}[-./ ]\d{1,2}[-./ ]\d/.test(date)) ?? dates[0];
  const name = order === 'DAY_FIRST' ? 'day first' : 'month first';
  guesses.push(
    isProven
      ? `Dates such as ${example} are read with the ${name}.`
      : `Dates such as ${example} are read with the ${name}; no date in the file proves it.`,
  );
  return order;
}

function proposeDecimalSign(numbers: readonly string[], guesses: string[]): '.' | ',' {
  const commas = numbers.filter((text) => /^\d+,\d+$/.test(text));
  const points = numbers.filter((text) => /^\d+\.\d+$/.test(text));
  // A single comma in a file of whole numbers is as likely a slip as a habit.
  if (commas.length < 2 || commas.length <= points.length) return '.';
  guesses.push(`Numbers such as ${commas[0]} are read with a decimal comma.`);
  return ',';
}

function proposeWords(
  sexes: readonly string[],
  traits: readonly string[],
  guesses: string[],
): SpecialWords {
  const words = {
    female: [...OWN_FORMAT.words.female] as string[],
    male: [...OWN_FORMAT.words.male] as string[],
    unknown: [...OWN_FORMAT.words.unknown] as string[],
    none: [...OWN_FORMAT.words.none] as string[],
  };
  const propose = (column: 'sex' | 'traits', cells: readonly string[]): void => {
    for (const word of new Set(cells.map((cell) => cell.toLowerCase()))) {
      const meaning = recogniseWord(column, word);
      if (!meaning || words[meaning].includes(word)) continue;
      words[meaning].push(word);
      guesses.push(
        meaning === 'none'
          ? `'${word}' is read as: looked at, shows no trait.`
          : `'${word}' is read as the sex ${meaning}.`,
      );
    }
  };
  propose('sex', sexes);
  propose('traits', traits);
  return words;
}
