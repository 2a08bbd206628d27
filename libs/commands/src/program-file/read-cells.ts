import type { ColumnMap } from './column-map.js';
import { CellFault } from './file-fault.js';
import { type DeclaredGenotype, type NamedParent, NOT, type ProgramRow } from './program-row.js';

/** Room for rounding in sums of probabilities that were written as decimals. */
const ROUNDING = 1e-9;
const MOST_PARENTS = 200;

/** An animal's code; null where the cell is empty. */
export function readCode(text: string): string | CellFault {
  if (text === '') {
    return new CellFault(
      'EMPTY_CODE',
      'This row has no code.',
      'Every animal needs a code of its own; give it one or remove the row.',
    );
  }
  return isCode(text)
    ? text
    : new CellFault(
        'BAD_CODE',
        `'${text.slice(0, 80)}' cannot be a code.`,
        'A code has 1 to 60 characters and none of | : ; , or line ends.',
      );
}

/** The same rule as `codeSchema`, without its cost per cell. */
function isCode(text: string): boolean {
  return (
    text.length > 0 && text.length <= 60 && !/[|:;,\n\r\t\uFFFD]/.test(text) && !text.includes('\0')
  );
}

export function readText(text: string, most: number): string | null | CellFault {
  if (text === '') return null;
  return text.length <= most
    ? text
    : new CellFault(
        'TOO_LONG',
        `This text has ${text.length} characters.`,
        `Shorten it to ${most}; the rest can stand in a file of your own.`,
      );
}

/** `m`, `f` or null, by the words of the map. */
export function readSex(text: string, map: ColumnMap): 'm' | 'f' | null | CellFault {
  const word = text.toLowerCase();
  if (word === '' || map.words.unknown.includes(word)) return null;
  if (map.words.female.includes(word)) return 'f';
  if (map.words.male.includes(word)) return 'm';
  return new CellFault(
    'BAD_SEX',
    `'${text}' is not a sex that can be read.`,
    "Write m, f or nothing, or say under 'How it is read' what the word means.",
  );
}

/** A length or mass over 0 in the unit of the program (mm, g): what is written times `factor`. */
export function readMeasure(
  text: string,
  map: ColumnMap,
  factor: number,
): number | null | CellFault {
  if (text === '') return null;
  const plain = map.decimalSign === ',' ? /^\d+(?:,\d+)?$/ : /^\d+(?:\.\d+)?$/;
  if (!plain.test(text)) return notANumber(text, map);
  const written = Number(text.replace(',', '.'));
  // Six digits are more than any rule or scales give; they undo what the factor adds in the last place.
  const value = factor === 1 ? written : Math.round(written * factor * 1e6) / 1e6;
  if (value >= 1e-6 && value < 1e7) return value;
  return new CellFault(
    'NUMBER_OUT_OF_RANGE',
    `'${text}' is no length or mass of an animal.`,
    'Write a number over 0 in the unit of the column, or leave the cell empty.',
  );
}

function notANumber(text: string, map: ColumnMap): CellFault {
  const fault = (code: string, what: string, remedy: string): CellFault =>
    new CellFault(code, `'${text.slice(0, 80)}' is ${what}.`, remedy);
  if (/^[=+@]|^-\D/.test(text)) {
    return fault('FORMULA', 'a formula, not a number', 'Paste the value in place of the formula.');
  }
  if (/^[\dOo.,]+$/.test(text) && /[Oo]/.test(text) && /\d/.test(text)) {
    return fault(
      'LETTER_O',
      'not a number: it has a letter O',
      `Write digits: ${text.replace(/o/gi, '0')}?`,
    );
  }
  if (map.decimalSign === '.' && /^\d+,\d+$/.test(text)) {
    return fault(
      'DECIMAL_COMMA',
      'written with a decimal comma',
      "Write a point, or say under 'How it is read' that numbers have decimal commas.",
    );
  }
  if (map.decimalSign === ',' && /^\d+\.\d+$/.test(text)) {
    return fault(
      'DECIMAL_POINT',
      'written with a point where the file has decimal commas',
      "Write a comma, or say under 'How it is read' that numbers have decimal points.",
    );
  }
  if (/^-\d/.test(text)) {
    return fault('NUMBER_OUT_OF_RANGE', 'below 0', 'Write a number over 0 or leave it empty.');
  }
  return fault(
    'BAD_NUMBER',
    'not a number',
    'Write digits only, without unit or blanks, or leave the cell empty.',
  );
}

/** Possible parents: a code, or several with `|` between, each perhaps with `:probability`. */
export function readParents(text: string, map: ColumnMap): readonly NamedParent[] | CellFault {
  if (text === '') return NOBODY;
  const parts = text.split('|');
  if (parts.length > MOST_PARENTS) {
    return new CellFault(
      'TOO_MANY_PARENTS',
      `${parts.length} possible parents are named.`,
      `Name at most ${MOST_PARENTS}.`,
    );
  }
  const parents: NamedParent[] = [];
  for (const part of parts) {
    const colon = part.indexOf(':');
    const code = (colon < 0 ? part : part.slice(0, colon)).trim();
    if (!isCode(code)) {
      return new CellFault(
        'BAD_PARENT',
        code === ''
          ? `'${text.slice(0, 80)}' has a possible parent without a code.`
          : `'${code.slice(0, 80)}' cannot be the code of a parent.`,
        'Write a code, or several as CODE:0.6|CODE:0.4.',
      );
    }
    const probability = colon < 0 ? null : readProbability(part.slice(colon + 1).trim(), map);
    if (probability instanceof CellFault) return probability;
    if (parents.some((parent) => parent.code === code)) {
      return new CellFault('PARENT_TWICE', `'${code}' is named twice.`, 'Name each animal once.');
    }
    parents.push({ code, probability });
  }
  return checkSum(parents);
}
const NOBODY: readonly NamedParent[] = [];

function readProbability(text: string, map: ColumnMap): number | CellFault {
  const plain = map.decimalSign === ',' ? text.replace(/^(\d+),(\d+)$/, '$1.$2') : text;
  if (!/^-?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/.test(plain)) {
    return new CellFault(
      'BAD_PROBABILITY',
      `'${text.slice(0, 80)}' is not a probability.`,
      'Write a number over 0 up to 1, for example 0.6 for 60 %.',
    );
  }
  const value = Number(plain);
  if (value > 0 && value <= 1) return value;
  return new CellFault(
    'PROBABILITY_OUT_OF_RANGE',
    `The probability ${text} is out of range.`,
    'Write a number over 0 up to 1; leave out who cannot be the parent.',
  );
}

function checkSum(parents: readonly NamedParent[]): readonly NamedParent[] | CellFault {
  let sum = 0;
  let open = 0;
  for (const { probability } of parents) {
    if (probability === null) open++;
    else sum += probability;
  }
  if (sum > 1 + ROUNDING) {
    return new CellFault(
      'PROBABILITIES_OVER_1',
      `The probabilities of the possible parents sum to ${Number(sum.toFixed(6))}.`,
      'Let them sum to at most 1; what is missing is an animal nobody recorded.',
    );
  }
  if (open > 0 && sum > 1 - ROUNDING) {
    return new CellFault(
      'NOTHING_LEFT',
      'Nothing is left of 1 for a possible parent without a probability.',
      'Give each its probability, or leave out who cannot be the parent.',
    );
  }
  return parents;
}

/** Traits seen, `;` between; `none` (or a word the map gives for it) alone for 'looked at, shows none'. */
export function readTraits(
  text: string,
  map: ColumnMap,
): Pick<ProgramRow, 'traits' | 'absent'> | CellFault {
  const names = text.split(';').map((name) => name.trim());
  const isNone = (name: string): boolean => map.words.none.includes(name.toLowerCase());
  if (names.length === 1 && isNone(names[0])) return NO_TRAIT;
  const none = names.find(isNone);
  if (none !== undefined) {
    return new CellFault(
      'NONE_WITH_TRAIT',
      `'${none}' stands together with a trait.`,
      `Write one or the other: '${none}' means that the animal was looked at and shows no trait.`,
    );
  }
  const traits: string[] = [];
  const absent: string[] = [];
  for (const word of names) {
    const isAbsent = word.startsWith(NOT);
    const name = isAbsent ? word.slice(NOT.length).trim() : word;
    if (name === '' || name.length > 80 || /[\n\r\t]/.test(name)) {
      return new CellFault(
        'BAD_TRAIT',
        `'${text.slice(0, 80)}' is not a list of traits.`,
        'Write the names of the traits seen with ; between (not before one looked for and not seen), none, or nothing.',
      );
    }
    if (traits.includes(name) || absent.includes(name)) {
      return new CellFault('TRAIT_TWICE', `'${name}' is named twice.`, 'Name each trait once.');
    }
    (isAbsent ? absent : traits).push(name);
  }
  return { traits, absent };
}
const NO_TRAIT: Pick<ProgramRow, 'traits' | 'absent'> = { traits: [], absent: [] };

/** Declared genotypes `locus=allele/allele`, `;` between; one allele where the animal has one copy only. */
export function readGenotype(text: string): readonly DeclaredGenotype[] | CellFault {
  if (text === '') return NOTHING_DECLARED;
  const declared: DeclaredGenotype[] = [];
  for (const part of text.split(';')) {
    const match =
      part.length > 200
        ? null
        : /^([^\s=/|;][^=/|;\n\r\t]*?)\s*=\s*([^\s=/|;]+)(?:\s*\/\s*([^\s=/|;]+))?$/.exec(
            part.trim(),
          );
    if (!match || match[1].length > 60) {
      return new CellFault(
        'BAD_GENOTYPE',
        `'${text.slice(0, 80)}' is not a genotype.`,
        'Write locus=allele/allele, several with ; between.',
      );
    }
    const [, locus, first, second] = match;
    if (declared.some((other) => other.locus === locus)) {
      return new CellFault('LOCUS_TWICE', `'${locus}' is named twice.`, 'Name each locus once.');
    }
    declared.push({ locus, alleles: second === undefined ? [first] : [first, second] });
  }
  return declared;
}
const NOTHING_DECLARED: readonly DeclaredGenotype[] = [];
