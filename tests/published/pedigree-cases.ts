import { Fraction } from '@scutewright/basics';
import {
  ancestralInbreeding,
  buildPedigree,
  commonAncestors,
  completeness,
  droppedAncestralInbreeding,
  EACH_OWN_SIRE,
  effectiveAncestors,
  founderContributions,
  founderRetention,
  geneDiversity,
  genomeEquivalents,
  idOf,
  inbreeding,
  MIXED,
  meanKinship,
  neFromIndividualIncrease,
  neFromSexRatio,
  ONE_SIRE,
  type Paternity,
  type Pedigree,
  type PedigreeRow,
  partialInbreeding,
  positionOf,
  relatedness,
  relatednessFactors,
  relatednessInverse,
  sexLinkedKinship,
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
      const one = CHECKS[key];
      if (!one) throw new UnreadableShape(`exact figures of '${key}'`);
      one(sheet, context, part, {});
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
  inverse: (sheet, { pedigree }, value) => {
    const { ids, expected, tolerance } = readMatrix(value, sheet);
    if (asBlock(value).of_block) {
      compareMatrix(sheet, 'inverse', ids, expected, relatednessInverse(pedigree, ids), tolerance);
      return;
    }
    const all = relatednessInverse(pedigree, pedigree.ids ?? []);
    const rows = ids.map((id) => positionOf(pedigree, id));
    const part = rows.flatMap((i) => rows.map((j) => all[i * pedigree.size + j]));
    compareMatrix(sheet, 'inverse', ids, expected, Float64Array.from(part), tolerance);
  },
  T: (sheet, { pedigree }, value) => {
    const { ids, expected, tolerance } = readMatrix(value, sheet);
    compareMatrix(sheet, 'T', ids, expected, relatednessFactors(pedigree, ids).T, tolerance);
  },
  L: (sheet, { pedigree }, value) => {
    const { ids, expected, tolerance } = readMatrix(value, sheet);
    compareMatrix(sheet, 'L', ids, expected, relatednessFactors(pedigree, ids).L, tolerance);
  },
  D: (sheet, { pedigree }, value, block) => {
    const tolerance =
      block.D_tolerance === undefined ? sheet.tolerance : toNumber(block.D_tolerance);
    const { ids, values } = asBlock(value);
    const byId =
      Array.isArray(ids) && Array.isArray(values)
        ? Object.fromEntries(ids.map((id, i) => [String(id), values[i]]))
        : asBlock(value);
    for (const [id, expected] of Object.entries(byId)) {
      sheet.number(`D of ${id}`, expected, relatednessFactors(pedigree, [id]).D[0], tolerance);
    }
  },
  paths: (sheet, { pedigree }, value) => {
    for (const [id, list] of Object.entries(asBlock(value)))
      comparePaths(sheet, pedigree, id, list);
  },
  founders: (sheet, context, value) => {
    for (const [key, part] of Object.entries(asBlock(value))) {
      if (NOTES.includes(key)) continue;
      const one = FOUNDER_CHECKS[key];
      if (!one) throw new UnreadableShape(`founder figures of '${key}'`);
      one(sheet, context, part, {});
    }
  },
  completeness: (sheet, { pedigree }, value) => {
    for (const [id, part] of Object.entries(asBlock(value))) {
      const expected = asBlock(part);
      knownKeys(expected, ['known_by_generation', 'maccluer_index', 'equivalent_generations']);
      const byGeneration = (expected.known_by_generation ?? []) as unknown[];
      const index = Object.entries((expected.maccluer_index ?? {}) as Block);
      const depth = Math.max(byGeneration.length, ...index.map(([d]) => Number(d)), 1);
      const [found] = completeness(pedigree, [id], depth);
      byGeneration.forEach((each, g) => {
        sheet.number(`share known of ${id}, generation ${g + 1}`, each, found.knownByGeneration[g]);
      });
      for (const [d, each] of index) {
        sheet.number(`completeness index of ${id} over ${d}`, each, found.index[Number(d) - 1]);
      }
      if (expected.equivalent_generations !== undefined) {
        sheet.number(
          `equivalent generations of ${id}`,
          expected.equivalent_generations,
          found.equivalentGenerations,
        );
      }
    }
  },
  partial_F: (sheet, { pedigree }, value) => {
    const founders = (pedigree.ids ?? []).filter(
      (_, row) => pedigree.sire[row] === -1 && pedigree.dam[row] === -1,
    );
    for (const [id, parts] of Object.entries(asBlock(value))) {
      const expected = asBlock(parts);
      knownKeys(expected, founders);
      for (const founder of founders) {
        const found = partialInbreeding(pedigree, founder)[positionOf(pedigree, id)];
        sheet.number(`partial F of ${id} by ${founder}`, expected[founder] ?? 0, found);
      }
    }
  },
  ancestral_F: (sheet, { pedigree }, value) => {
    const block = asBlock(value);
    knownKeys(block, ['formula', 'gene_drop', ...NOTES]);
    for (const [id, expected] of Object.entries(asBlock(block.formula ?? {}))) {
      const [found] = ancestralInbreeding(pedigree, [id]);
      sheet.number(`ancestral F of ${id} by formula`, expected, found);
    }
    for (const [id, expected] of Object.entries(asBlock(block.gene_drop ?? {}))) {
      const [{ value: found, standardError }] = droppedAncestralInbreeding(pedigree, [id]);
      sheet.number(`ancestral F of ${id} by gene drop`, expected, found);
      sheet.number(`its standard error`, 0, standardError);
    }
  },
  sex_linked: (sheet, { pedigree }, value) => {
    const block = asBlock(value);
    knownKeys(block, ['heterogametic', 'chromosome', 'kinship', 'F', ...NOTES]);
    const { heterogametic } = block;
    if (heterogametic !== 'm' && heterogametic !== 'f') {
      throw new UnreadableShape(`the heterogametic sex '${String(heterogametic)}'`);
    }
    for (const entry of (block.kinship ?? []) as Block[]) {
      knownKeys(entry, ['i', 'j', 'kinship', 'exact', 'tolerance']);
      const pair = [String(entry.i), String(entry.j)];
      const found = sexLinkedKinship(pedigree, pair, heterogametic)[1];
      sheet.number(`sex-linked kinship of ${pair.join(' and ')}`, entry.kinship, found);
    }
    for (const [id, expected] of Object.entries(asBlock(block.F ?? {}))) {
      const row = positionOf(pedigree, id);
      const parents = [pedigree.sire[row], pedigree.dam[row]];
      const found = parents.includes(-1)
        ? 0
        : sexLinkedKinship(pedigree, parents, heterogametic)[1];
      sheet.number(`sex-linked F of ${id}`, expected, found);
    }
  },
  ne_sex_ratio: (sheet, _, value) => {
    for (const entry of value as Block[]) {
      knownKeys(entry, ['males', 'females', 'ne', 'exact', 'tolerance']);
      sheet.number(
        `Ne of ${entry.males} males and ${entry.females} females`,
        entry.ne,
        neFromSexRatio(toNumber(entry.males), toNumber(entry.females)),
        entry.tolerance === undefined ? sheet.tolerance : toNumber(entry.tolerance),
      );
    }
  },
  ne_individual_increase: (sheet, { pedigree }, value) => {
    const F = inbreeding(pedigree);
    for (const entry of value as Block[]) {
      knownKeys(entry, ['exponent', 'ids', 'increase', 'ne', 'tolerance']);
      const { exponent } = entry;
      if (exponent !== 't' && exponent !== 't-1') {
        throw new UnreadableShape(`the exponent '${String(exponent)}'`);
      }
      const ids = entry.ids as string[];
      const found = neFromIndividualIncrease(
        ids.map((id) => F[positionOf(pedigree, id)]),
        completeness(pedigree, ids).map((each) => each.equivalentGenerations),
        exponent,
      );
      // Irrational figures: as exact as the digits they are printed with.
      const compare = (what: string, expected: unknown, got: number): void => {
        const own =
          entry.tolerance === undefined ? printedTolerance(expected) : toNumber(entry.tolerance);
        sheet.number(what, expected, got, Math.max(own, sheet.tolerance));
      };
      ((entry.increase ?? []) as unknown[]).forEach((each, i) => {
        compare(`increase in inbreeding of ${ids[i]} (${exponent})`, each, found.increase[i]);
      });
      if (entry.ne !== undefined) compare(`Ne by ${exponent}`, entry.ne, found.ne);
    }
  },
};

const FOUNDER_CHECKS: Readonly<Record<string, Check>> = {
  contributions: (sheet, { pedigree, reference }, value) => {
    const { founders } = founderContributions(pedigree, reference);
    compareShares(sheet, pedigree, 'contribution', asBlock(value), founders, 'share');
  },
  effective_founders: (sheet, { pedigree, reference }, value) => {
    const { effectiveFounders } = founderContributions(pedigree, reference);
    sheet.number('effective founders', value, effectiveFounders);
  },
  ancestors: (sheet, { pedigree, reference }, value) => {
    const { ancestors } = effectiveAncestors(pedigree, reference);
    const expected = Object.fromEntries(
      (value as Block[]).map(({ id, marginal }) => [String(id), marginal]),
    );
    compareShares(sheet, pedigree, 'marginal', expected, ancestors, 'marginal');
  },
  effective_ancestors: (sheet, { pedigree, reference }, value) => {
    const { effectiveAncestors: found } = effectiveAncestors(pedigree, reference);
    sheet.number('effective ancestors', value, found);
  },
  retention: (sheet, { pedigree, reference }, value) => {
    const { founders } = founderRetention(pedigree, reference);
    compareShares(sheet, pedigree, 'retention', asBlock(value), founders, 'retention');
  },
  genome_equivalents_retention: (sheet, { pedigree, reference }, value) => {
    const { byRetention } = genomeEquivalents(pedigree, reference);
    sheet.number('genome equivalents by retention', value, byRetention);
  },
  genome_equivalents_kinship: (sheet, { pedigree, reference }, value) => {
    const { byKinship } = genomeEquivalents(pedigree, reference);
    sheet.number('genome equivalents by kinship', value, byKinship);
  },
  mean_kinship: (sheet, { pedigree, reference }, value) => {
    for (const [id, expected] of Object.entries(asBlock(value))) {
      const [found] = meanKinship(pedigree, reference, [id]);
      sheet.number(`mean kinship of ${id}`, expected, found);
    }
  },
  gene_diversity: (sheet, { pedigree, reference }, value) => {
    sheet.number('gene diversity', value, geneDiversity(pedigree, reference));
  },
};

/** Expected shares by id against found ones; an animal that only one side lists counts 0 on the other. */
function compareShares<Key extends string>(
  sheet: Sheet,
  pedigree: Pedigree,
  what: string,
  expected: Block,
  found: readonly (Readonly<Record<Key, number>> & { readonly row: number })[],
  key: Key,
): void {
  const shares = new Map(found.map((each) => [idOf(pedigree, each.row), each[key]]));
  for (const id of new Set([...Object.keys(expected), ...shares.keys()])) {
    sheet.number(`${what} of ${id}`, expected[id] ?? 0, shares.get(id) ?? 0);
  }
}

/** Paths in any order, each from either end. */
function comparePaths(sheet: Sheet, pedigree: Pedigree, id: string, list: unknown): void {
  const row = positionOf(pedigree, id);
  const found = commonAncestors(pedigree, pedigree.sire[row], pedigree.dam[row], 100_000);
  const name = (through: readonly string[]): string => {
    const reverse = [...through].reverse();
    return [through.join('-'), reverse.join('-')].sort()[0];
  };
  const names = new Map(
    found.paths.map((path) => [name(path.through.map((each) => idOf(pedigree, each))), path]),
  );
  const expected = list as Block[];
  sheet.number(`number of paths of ${id}`, expected.length, found.paths.length);
  for (const entry of expected) {
    knownKeys(entry, ['through', 'ancestor', 'contribution', 'exact']);
    const key = name(entry.through as string[]);
    const path = names.get(key);
    sheet.number(`path ${key}`, entry.contribution, path?.contribution ?? Number.NaN);
    const isSame = path !== undefined && idOf(pedigree, path.ancestor) === entry.ancestor;
    sheet.number(`ancestor of path ${key} is ${String(entry.ancestor)}`, 1, Number(isSame));
  }
  sheet.number(`rest beside the paths of ${id}`, 0, found.remainder);
}

/** Half a unit of the last of at least six printed decimals, a little widened; shorter figures are exact. */
function printedTolerance(expected: unknown): number {
  const digits = /\.(\d+)$/.exec(String(expected))?.[1].length ?? 0;
  return digits < 6 ? 0 : 0.51 * 10 ** -digits;
}

/** Keys that only explain or qualify other keys. */
const NOTES = ['model', 'rate', 'describes', 'tolerance', 'D_tolerance', 'note', 'notes'];

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
  const block = asBlock(value);
  knownKeys(block, ['ids', 'values', 'tolerance', 'exact', 'of_block']);
  const { values, tolerance } = block;
  const ids = block.ids ?? block.of_block;
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
