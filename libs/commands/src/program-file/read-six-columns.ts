import { type ColumnMap, OWN_FORMAT } from './column-map.js';
import type { Encoding } from './decode-text.js';
import { CellFault, type FileFaults, TOO_MANY_ROWS } from './file-fault.js';
import { CellMender, type Correction } from './mend-cells.js';
import { type FileRow, MOST_ROWS, type NamedParent } from './program-row.js';
import { readCode } from './read-cells.js';

const HEADINGS = ['family', 'id', 'father', 'mother', 'sex', 'phenotype'] as const;
const SAMPLE_LINES = 20;

/**
 * True where the lines are a pedigree of six columns without headings: family, id, father, mother, sex (1 male,
 * 2 female, else unknown), phenotype (1 unaffected, 2 affected; 0 and -9 not known); 0 is an unknown parent;
 * blanks, tabs or commas between. An open convention of pedigree files.
 */
export function isSixColumns(text: string): boolean {
  let seen = 0;
  for (const { cells, line } of lines(text)) {
    if (isHeader(cells, line)) continue;
    if (cells.length !== 6 || !/^(?:0|1|2|-9)$/.test(cells[4])) return false;
    if (++seen === SAMPLE_LINES) break;
  }
  return seen > 0;
}

/**
 * Rows of a six-column pedigree. An id that stands in several families is written `family-id`, else the id is the
 * code. Phenotype 2 becomes the trait `asked.affectedTrait`, 1 'looked for and not seen'; without that trait
 * the column is left out, with a word about it.
 */
export function readSixColumns(
  text: string,
  encoding: Encoding,
  asked: Partial<ColumnMap>,
  corrections: readonly Correction[],
  faults: FileFaults,
): {
  rows: FileRow[];
  faults: FileFaults;
  map: ColumnMap;
  guesses: string[];
} {
  const map: ColumnMap = {
    ...OWN_FORMAT,
    format: 'SIX_COLUMNS',
    encoding,
    separator: ' ',
    columns: HEADINGS.map((heading) => ({ heading, field: null, unit: null })),
    affectedTrait: asked.affectedTrait ?? null,
  };
  const guesses: string[] = [];
  if (asked.format === undefined) {
    guesses.push('The columns are read as family, id, father, mother, sex, phenotype.');
  }
  const withFamily = hasSharedIds(text);
  if (withFamily)
    guesses.push('Some ids stand in several families: all codes are written family-id.');
  const codeOf = (family: string, id: string): string => (withFamily ? `${family}-${id}` : id);
  const rows: FileRow[] = [];
  let leftOut = 0;
  const mender = new CellMender(map.columns, corrections);
  for (const { cells: found, line } of lines(text)) {
    const cells = mender.mended(found, line);
    if (isHeader(cells, line)) continue;
    if (rows.length >= MOST_ROWS) {
      faults.addWhole(...TOO_MANY_ROWS);
      break;
    }
    const [family, id, father, mother, sexWord, phenotype] = cells;
    const add = (column: string, value: string, fault: CellFault): void => {
      const { code, message, remedy } = fault;
      faults.add({ code, isFatal: true, line, column, value, message, remedy });
    };
    const code = readCode(codeOf(family, id ?? ''));
    if (code instanceof CellFault) add('id', id ?? '', code);
    if (cells.length !== 6) {
      const message = `This line has ${cells.length} cells in place of six.`;
      const remedy = 'Write family, id, father, mother, sex and phenotype.';
      add('', cells.join(' '), new CellFault('RAGGED_ROW', message, remedy));
    }
    if (code instanceof CellFault) continue;
    const parent = (column: 'father' | 'mother', text: string | undefined): NamedParent[] => {
      if (text === undefined || text === '0') return [];
      const read = readCode(codeOf(family, text));
      if (typeof read === 'string') return [{ code: read, probability: null }];
      add(column, text, read);
      return [];
    };
    const status = readPhenotype(phenotype, map.affectedTrait);
    if (status instanceof CellFault) add('phenotype', phenotype, status);
    if (map.affectedTrait === null && /^[12]$/.test(phenotype ?? '')) leftOut++;
    rows.push({
      code,
      name: null,
      species: null,
      sex: sexWord === '1' ? 'm' : sexWord === '2' ? 'f' : null,
      hatched: null,
      sires: parent('father', father),
      dams: parent('mother', mother),
      clutch: null,
      ...(status instanceof CellFault ? NOT_LOOKED_AT : status),
      genotype: [],
      pen: null,
      sclMm: null,
      massG: null,
      notes: null,
      line,
    });
  }
  if (leftOut > 0) {
    faults.add({
      code: 'PHENOTYPE_LEFT_OUT',
      isFatal: false,
      line: 0,
      column: 'phenotype',
      value: '',
      message: `${leftOut} animals have a phenotype, and nothing says which trait it stands for.`,
      remedy:
        "Say under 'How it is read' which trait 'affected' (2) stands for, or leave the column out.",
    });
  }
  return { rows, faults, map, guesses };
}

const NOT_LOOKED_AT: Pick<FileRow, 'traits' | 'absent'> = { traits: null, absent: [] };

function readPhenotype(
  text: string | undefined,
  trait: string | null,
): Pick<FileRow, 'traits' | 'absent'> | CellFault {
  if (trait === null || text === undefined || text === '0' || text === '-9') return NOT_LOOKED_AT;
  if (text === '1') return { traits: [], absent: [trait] };
  if (text === '2') return { traits: [trait], absent: [] };
  return new CellFault(
    'BAD_PHENOTYPE',
    `'${text.slice(0, 80)}' is not a phenotype.`,
    'Write 1 (unaffected), 2 (affected), or 0 where it is not known.',
  );
}

function hasSharedIds(text: string): boolean {
  const families = new Map<string, string>();
  for (const { cells, line } of lines(text)) {
    if (isHeader(cells, line) || cells.length < 2) continue;
    const family = families.get(cells[1]);
    if (family !== undefined && family !== cells[0]) return true;
    families.set(cells[1], cells[0]);
  }
  return false;
}

function isHeader(cells: readonly string[], line: number): boolean {
  return line === 1 && cells.length === 6 && /^(?:family|fid|fam|ped|pedigree)$/i.test(cells[0]);
}

/** A longer line is cut: no six cells of a pedigree need it. */
const MOST_LINE = 1_000;

/** Lines that hold something, without comments, cut at blanks, tabs, commas or semicolons. */
function* lines(text: string): Generator<{ cells: string[]; line: number }> {
  const end = /\r\n|\n|\r/g;
  let start = 0;
  for (let line = 1; start < text.length; line++) {
    const match = end.exec(text);
    const stop = match ? match.index : text.length;
    const content = text.slice(start, Math.min(stop, start + MOST_LINE)).trim();
    if (content !== '' && !content.startsWith('#')) {
      yield { cells: content.split(/\s*[,;]\s*|\s+/), line };
    }
    start = match ? end.lastIndex : text.length;
  }
}
