import { invariant, seededRandom } from '@scutewright/basics';
import { approximateNetwork, mostEntries } from './approximate-network.js';
import { closeUpwards, recordedAnimals } from './close-upwards.js';
import { compileProgram } from './compile-program.js';
import type { CompiledProgram } from './compiled-program.js';
import { Evidence } from './evidence.js';
import { allelismCases, type InferenceSettings } from './infer-program.js';
import { layOutBlocks } from './lay-out-blocks.js';
import { type AllelismCase, joinEfforts, weighCases } from './mix-cases.js';
import { type Network, tableSize } from './network.js';
import type { Effort } from './posteriors.js';
import type { Program } from './program.js';
import { planNetwork, solvePlanned } from './solve-network.js';

export interface JointGenotypes {
  /** False when the records cannot all be true; then all else is 0. */
  readonly possible: boolean;
  /**
   * By locus: `pairs[locus][g * n + h]`, n genotypes at the locus in the order of `Locus.genotypes`: probability that the first animal has
   * genotype g and the second genotype h. Sums to 1.
   */
  readonly pairs: readonly Float64Array[];
  readonly effort: Effort;
}

/**
 * The joint posterior of two animals' genotypes at each locus, from all records: a pair that is related or shares evidence is
 * not independent. The two are tied by a factor of ones, so that they stand in one clique. Cost: one run over all loci; one run a locus
 * where that does not fit; else approximate, as `effort` says.
 */
export function jointGenotypes(
  program: Program,
  first: number,
  second: number,
  settings: InferenceSettings = {},
): JointGenotypes {
  invariant(first !== second, 'a pair is two animals');
  const cases = allelismCases(program);
  const found = cases.map((oneGene) => solveCase(program, oneGene, [first, second], settings));
  const { shares, logEvidence } = weighCases(cases, found);
  return {
    possible: logEvidence > Number.NEGATIVE_INFINITY,
    pairs: program.loci.map(({ genotypes }, locus) => {
      const mixed = new Float64Array(genotypes.length ** 2);
      for (const [c, { pairs }] of found.entries()) {
        if (shares[c] === 0) continue;
        for (let i = 0; i < mixed.length; i++) mixed[i] += shares[c] * pairs[locus][i];
      }
      return mixed;
    }),
    effort: joinEfforts(found.map((result) => result.effort)),
  };
}

export interface GenotypesTogether {
  /** False when the records cannot all be true; then there are no rows. */
  readonly possible: boolean;
  /** Each combination that is possible, once. Genotypes by the loci asked for; at linked loci the same side of the slash is one chromosome. */
  readonly rows: readonly {
    readonly first: readonly string[];
    readonly second: readonly string[];
    /** Over 0; the rows sum to 1. */
    readonly probability: number;
  }[];
}

/** Combinations of two animals' states that are told apart, at most. */
const MOST_TOGETHER = 2 ** 16;

/**
 * The joint posterior of two animals over several loci at once: what was seen of a trait of several genes ties them, whether linked or
 * not. Exact; null where that does not fit. Cost: one run, as of `jointGenotypes`.
 */
export function genotypesTogether(
  program: Program,
  first: number,
  second: number,
  loci: readonly number[],
  settings: InferenceSettings = {},
): GenotypesTogether | null {
  invariant(first !== second, 'a pair is two animals');
  const cases = allelismCases(program);
  const found: CaseTogether[] = [];
  for (const { oneGene } of cases) {
    const evidence = new Evidence(program, layOutBlocks(program, oneGene));
    const one = solveTogether(program, evidence, [first, second], loci, settings);
    if (!one) return null;
    found.push(one);
  }
  const { shares, logEvidence } = weighCases(cases, found);
  const rows = new Map<string, GenotypesTogether['rows'][number]>();
  for (const [c, { rows: own }] of found.entries()) {
    for (const row of own) {
      const key = `${row.first} ${row.second}`;
      const before = rows.get(key)?.probability ?? 0;
      const probability = before + shares[c] * row.probability;
      if (probability > 0) rows.set(key, { ...row, probability });
    }
  }
  return { possible: logEvidence > Number.NEGATIVE_INFINITY, rows: [...rows.values()] };
}

interface CaseTogether {
  readonly logEvidence: number;
  readonly effort: Effort;
  readonly rows: GenotypesTogether['rows'];
}

function solveTogether(
  program: Program,
  evidence: Evidence,
  pair: readonly [first: number, second: number],
  loci: readonly number[],
  settings: InferenceSettings,
): CaseTogether | null {
  const compiled = compilePair(program, evidence, pair, settings);
  const own = [...evidence.blocks.keys()].filter((b) =>
    evidence.blocks[b].loci.some((locus) => loci.includes(locus)),
  );
  const scope = own.flatMap((b) => pair.map((animal) => compiled.variableOf(animal, b)));
  if (tableSize(scope, compiled.network.sizes) > MOST_TOGETHER) return null;
  const solved = solveExactly(compiled.network, [scope], settings);
  if (!solved) return null;
  const logEvidence = solved.logTotal + compiled.logConstant;
  const [joint = []] = solved.joints;
  const rows = [...joint].flatMap((probability, at) => {
    if (probability === 0) return [];
    const states = statesAt(at, scope, compiled);
    const genotypes = (side: number) =>
      loci.map((locus) => {
        const k = own.findIndex((b) => evidence.blocks[b].loci.includes(locus));
        const block = evidence.blocks[own[k]];
        return block
          .allelesOf(states[2 * k + side], block.loci.indexOf(locus))
          .map((allele) => program.loci[locus].alleles[allele])
          .join('/');
      });
    return [{ first: genotypes(0), second: genotypes(1), probability }];
  });
  return { logEvidence, effort: solved.effort, rows };
}

/** Block states of the variables of a scope at a position of their joint table, the last fastest. */
function statesAt(at: number, scope: readonly number[], { states }: CompiledProgram): number[] {
  const found: number[] = [];
  for (let left = at, i = scope.length - 1; i >= 0; i--) {
    const own = states[scope[i]];
    found[i] = own[left % own.length];
    left = Math.floor(left / own.length);
  }
  return found;
}

interface CaseOfPair {
  readonly logEvidence: number;
  /** By locus; empty where the records cannot all be true. */
  readonly pairs: readonly Float64Array[];
  readonly effort: Effort;
}

function solveCase(
  program: Program,
  { oneGene }: AllelismCase,
  pair: readonly [first: number, second: number],
  settings: InferenceSettings,
): CaseOfPair {
  const evidence = new Evidence(program, layOutBlocks(program, oneGene));
  const { blocks } = evidence;
  const compiled = compilePair(program, evidence, pair, settings);
  /** By block: the variables of the two. */
  const ties = blocks.map((_, b) => pair.map((animal) => compiled.variableOf(animal, b)));
  const { logTotal, joints, effort } =
    solveExactly(compiled.network, ties, settings) ?? solveRoughly(compiled, ties, settings);
  const logEvidence = logTotal + compiled.logConstant;
  if (logEvidence === Number.NEGATIVE_INFINITY) return { logEvidence, pairs: [], effort };
  const pairs = program.loci.map(({ genotypes }) => new Float64Array(genotypes.length ** 2));
  for (const [b, block] of blocks.entries()) {
    const [one, other] = ties[b].map((variable) => compiled.states[variable]);
    for (const [place, locus] of block.loci.entries()) {
      const genotypeOf = block.genotypeOf[place];
      const n = program.loci[locus].genotypes.length;
      for (let i = 0; i < joints[b].length; i++) {
        const g = genotypeOf[one[Math.floor(i / other.length)]];
        const h = genotypeOf[other[i % other.length]];
        pairs[locus][g * n + h] += joints[b][i];
      }
    }
  }
  return { logEvidence, pairs, effort };
}

/** All that tells of two animals, with a variable of their own at each block. */
function compilePair(
  program: Program,
  evidence: Evidence,
  pair: readonly [first: number, second: number],
  settings: InferenceSettings,
): CompiledProgram {
  return compileProgram(program, evidence, {
    include: closeUpwards(program, [...recordedAnimals(program), ...pair]),
    without: settings.without ?? null,
    soft: 0,
    jointSires: false,
    keep: pair,
  });
}

interface SolvedPair {
  readonly logTotal: number;
  /** By block: joint probabilities of the two variables, the second's states fastest; none where the total is 0. */
  readonly joints: readonly Float64Array[];
  readonly effort: Effort;
}

const RESTARTS = 8;

/** All blocks at once where that fits, else one at a time: blocks that share open parents make one large network. */
function solveExactly(
  network: Network,
  ties: readonly (readonly number[])[],
  settings: InferenceSettings,
): SolvedPair | null {
  const plan = (tied: readonly (readonly number[])[]) => {
    const whole = tie(network, tied);
    return {
      tied,
      whole,
      planned: planNetwork(whole, seededRandom(settings.seed ?? 1), RESTARTS),
    };
  };
  let portions = [plan(ties)];
  const fit = (): boolean =>
    portions.every(({ planned }) => planned.plan.entries <= mostEntries(settings));
  if (!fit()) portions = ties.map((pair) => plan([pair]));
  if (!fit()) return null;
  let logTotal = 0;
  const joints: Float64Array[] = [];
  for (const { tied, whole, planned } of portions) {
    const solved = solvePlanned(whole, planned);
    logTotal = solved.logTotal;
    if (logTotal === Number.NEGATIVE_INFINITY) break;
    joints.push(...tied.map((pair) => solved.marginal(pair)));
  }
  const effort: Effort = {
    method: 'exact',
    deletedMass: 0,
    monteCarloError: 0,
    roughAnimals: 0,
    width: Math.max(...portions.map(({ planned }) => planned.plan.width)),
    entries: Math.max(...portions.map(({ planned }) => planned.plan.entries)),
    runs: portions.length,
  };
  return { logTotal, joints, effort };
}

function solveRoughly(
  compiled: CompiledProgram,
  ties: readonly (readonly number[])[],
  settings: InferenceSettings,
): SolvedPair {
  const solved = approximateNetwork(tie(compiled.network, ties), compiled, ties, settings);
  const { logTotal, method, deletedMass, width, entries, runs } = solved;
  const possible = logTotal > Number.NEGATIVE_INFINITY;
  const joints = possible ? ties.map((pair) => solved.marginal(pair)) : [];
  const monteCarloError = solved.error();
  const effort = { method, deletedMass, monteCarloError, roughAnimals: 0, width, entries, runs };
  return { logTotal, joints, effort };
}

/** Adds a table of ones over variables that belong together: no weight changes, but their joint marginal can be read. */
function tie(network: Network, ties: readonly (readonly number[])[]): Network {
  const ones = ties.map((scope) => ({
    scope,
    table: new Float64Array(tableSize(scope, network.sizes)).fill(1),
  }));
  return { sizes: network.sizes, factors: [...network.factors, ...ones] };
}
