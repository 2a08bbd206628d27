import { Fraction } from '@scutewright/basics';
import {
  buildPedigree,
  EACH_OWN_SIRE,
  inbreeding,
  MIXED,
  ONE_SIRE,
  type Paternity,
  type Pedigree,
  type PedigreeRow,
  positionOf,
  relatedness,
  TWO_SIRES,
} from '@scutewright/pedigree';
import { type CaseAdapter, type CaseVerdict, UnreadableShape } from './case-file.js';

/** Reads `pedigree-*.json` files: rows in, every expected figure compared with the kernels' answer. */
export const check: CaseAdapter = (file) => {
  const sheet = new Sheet(toNumber(file.tolerance ?? 1e-12));
  const input = (file.input ?? {}) as Block;
  const rows = (file.pedigree ?? input.pedigree ?? input.rows ?? []) as PedigreeRow[];
  const reference = (file.reference ?? input.reference ?? []) as string[];
  checkBlock(sheet, rows, reference, asBlock(file.expected), ONE_SIRE);
  return sheet.verdict();
};

type Block = Readonly<Record<string, unknown>>;
type Check = (sheet: Sheet, context: Context, value: unknown, block: Block) => void;

interface Context {
  readonly pedigree: Pedigree;
  readonly reference: readonly string[];
}

/** Collects comparisons; keeps the first difference. */
class Sheet {
  compared = 0;
  difference: string | null = null;
  constructor(readonly tolerance: number) {}

  number(what: string, expected: unknown, found: number, tolerance = this.tolerance): void {
    this.compared++;
    const wanted = toNumber(expected);
    if (!(Math.abs(wanted - found) <= tolerance)) {
      this.difference ??= `${what}: expected ${wanted}, found ${found}`;
    }
  }

  verdict(): CaseVerdict {
    return { compared: this.compared, difference: this.difference };
  }
}

const CHECKS: Readonly<Record<string, Check>> = {
  F: (sheet, { pedigree }, value) => {
    const F = inbreeding(pedigree);
    for (const [id, expected] of Object.entries(asBlock(value))) {
      sheet.number(`F of ${id}`, expected, F[positionOf(pedigree, id)]);
    }
  },
  F_published: (sheet, { pedigree }, value) => {
    const F = inbreeding(pedigree);
    for (const [id, printed] of Object.entries(asBlock(value))) {
      const found = F[positionOf(pedigree, id)];
      if (typeof printed === 'number' || typeof printed === 'string') {
        sheet.number(`published F of ${id}`, printed, found);
        continue;
      }
      const { value: expected, tolerance } = asBlock(printed);
      sheet.number(`published F of ${id}`, expected, found, toNumber(tolerance ?? 1e-12));
    }
  },
  exact: (sheet, context, value) => {
    for (const [key, part] of Object.entries(asBlock(value))) {
      if (key !== 'F') throw new UnreadableShape(`exact figures of '${key}'`);
      CHECKS.F(sheet, context, part, {});
    }
  },
  a: (sheet, { pedigree }, value) => {
    for (const entry of value as Block[]) {
      knownKeys(entry, ['i', 'j', 'a', 'exact', 'tolerance']);
      const pair = [String(entry.i), String(entry.j)];
      const found = relatedness(pedigree, pair)[1];
      const what = `a(${pair.join(', ')})`;
      const own = entry.tolerance === undefined ? sheet.tolerance : toNumber(entry.tolerance);
      sheet.number(what, entry.a, found, own);
      if (entry.exact !== undefined) sheet.number(what, entry.exact, found, own);
    }
  },
  matrix: (sheet, { pedigree }, value) => {
    const { ids, expected, tolerance } = readMatrix(value, sheet);
    compareMatrix(sheet, 'a', ids, expected, relatedness(pedigree, ids), tolerance);
  },
};

/** Keys that only explain or qualify other keys. */
const NOTES = ['model', 'rate', 'describes', 'tolerance', 'note', 'notes'];

function checkBlock(
  sheet: Sheet,
  rows: readonly PedigreeRow[],
  reference: readonly string[],
  block: Block,
  paternity: Paternity,
): void {
  const context: Context = { pedigree: buildPedigree(rows, { paternity }), reference };
  for (const [key, value] of Object.entries(block)) {
    if (NOTES.includes(key)) continue;
    if (key === 'models') {
      for (const model of value as Block[]) {
        checkBlock(sheet, rows, reference, model, readModel(model));
      }
      continue;
    }
    const one = CHECKS[key];
    if (!one) throw new UnreadableShape(`expected figures of '${key}'`);
    one(sheet, context, value, block);
  }
}

function readModel({ model, rate }: Block): Paternity {
  switch (model) {
    case 'average':
    case 'independent':
      return EACH_OWN_SIRE;
    case 'shared':
      return ONE_SIRE;
    case 'mixed':
      return MIXED(toNumber(rate));
    case 'two-sires':
      return TWO_SIRES(toNumber(rate));
    default:
      throw new UnreadableShape(`the model '${String(model)}' of an uncertain sire`);
  }
}

function readMatrix(
  value: unknown,
  sheet: Sheet,
): { ids: string[]; expected: unknown[][]; tolerance: number } {
  const { ids, values, tolerance } = asBlock(value);
  if (!Array.isArray(ids) || !Array.isArray(values)) {
    throw new UnreadableShape('a matrix needs ids and values');
  }
  return {
    ids,
    expected: values,
    tolerance: tolerance === undefined ? sheet.tolerance : toNumber(tolerance),
  };
}

function compareMatrix(
  sheet: Sheet,
  what: string,
  ids: readonly string[],
  expected: readonly (readonly unknown[])[],
  found: Float64Array,
  tolerance: number,
): void {
  if (expected.length !== ids.length) throw new UnreadableShape(`a matrix ${what} of another size`);
  expected.forEach((row, i) => {
    if (row.length !== ids.length) throw new UnreadableShape(`a matrix ${what} of another size`);
    row.forEach((each, j) => {
      sheet.number(`${what}(${ids[i]}, ${ids[j]})`, each, found[i * ids.length + j], tolerance);
    });
  });
}

function knownKeys(block: Block, keys: readonly string[]): void {
  for (const key of Object.keys(block)) {
    if (!keys.includes(key)) throw new UnreadableShape(`the key '${key}'`);
  }
}

function asBlock(value: unknown): Block {
  if (typeof value === 'object' && value !== null && !Array.isArray(value)) return value as Block;
  throw new UnreadableShape(`${JSON.stringify(value)?.slice(0, 60)} where a block is expected`);
}

/** A number, '1/3', '0.25' or {exact, value}. */
function toNumber(value: unknown): number {
  if (typeof value === 'number') return value;
  if (typeof value === 'string') {
    try {
      return Fraction.parse(value).toNumber();
    } catch (error) {
      if (error instanceof RangeError) throw new UnreadableShape(error.message);
      throw error;
    }
  }
  const { exact, value: plain } = asBlock(value);
  return toNumber(exact ?? plain);
}
