import { invariant, seededRandom } from '@scutewright/basics';
import { approximateNetwork, mostEntries } from './approximate-network.js';
import type { Block } from './block.js';
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
  /** False when the records cannot all be true; then all else is 0 or empty. */
  readonly possible: boolean;
  /**
   * By locus: `pairs[locus][g * n + h]`, n genotypes at the locus in the order of `Locus.genotypes`: probability that the first animal has
   * genotype g and the second genotype h. Sums to 1.
   */
  readonly pairs: readonly Float64Array[];
  /** By group of loci asked for: each combination that is possible, once; null where that did not fit beside the rest. */
  readonly together: readonly (readonly GenotypesTogether[])[] | null;
  readonly effort: Effort;
}

/** Genotypes of the two by the loci of a group; at linked loci the same side of the slash is one chromosome. */
export interface GenotypesTogether {
  readonly first: readonly string[];
  readonly second: readonly string[];
  /** Over 0; those of a group sum to 1. */
  readonly probability: number;
}

/** Combinations of two animals' states that are told apart, at most. */
const MOST_TOGETHER = 2 ** 16;

/**
 * The joint posterior of two animals' genotypes at each locus, from all records: a pair that is related or shares evidence is
 * not independent; and over each of `groups` at once: what was seen of a trait of several genes ties them, whether linked or not. What is
 * asked together is tied by a factor of ones, so that it stands in one clique. Cost: one run over all loci; one run a locus and no groups
 * where that does not fit; else approximate, as `effort` says.
 */
export function jointGenotypes(
  program: Program,
  first: number,
  second: number,
  settings: InferenceSettings = {},
  groups: readonly (readonly number[])[] = [],
): JointGenotypes {
  invariant(first !== second, 'a pair is two animals');
  const cases = allelismCases(program);
  const found = cases.map((oneGene) =>
    solveCase(program, oneGene, [first, second], settings, groups),
  );
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
    together: found.every(({ together }) => together)
      ? groups.map((_, k) =>
          mixRows(
            found.map(({ together }) => together?.[k] ?? []),
            shares,
          ),
        )
      : null,
    effort: joinEfforts(found.map((result) => result.effort)),
  };
}

/** The same combinations of every case added up, each by its share. */
function mixRows(
  byCase: readonly (readonly GenotypesTogether[])[],
  shares: readonly number[],
): GenotypesTogether[] {
  const rows = new Map<string, GenotypesTogether>();
  for (const [c, own] of byCase.entries()) {
    for (const row of own) {
      const key = `${row.first} ${row.second}`;
      const probability = (rows.get(key)?.probability ?? 0) + shares[c] * row.probability;
      if (probability > 0) rows.set(key, { ...row, probability });
    }
  }
  return [...rows.values()];
}

/** A group of loci in a network: its blocks, and their variables, the two animals' by turns. */
interface Group {
  readonly loci: readonly number[];
  readonly blocks: readonly Block[];
  readonly scope: readonly number[];
}

function readTogether(
  { loci, blocks, scope }: Group,
  joint: Float64Array,
  compiled: CompiledProgram,
  program: Program,
): GenotypesTogether[] {
  return [...joint].flatMap((probability, at) => {
    if (probability === 0) return [];
    const states = statesAt(at, scope, compiled);
    const genotypes = (side: number) =>
      loci.map((locus) => {
        const k = blocks.findIndex((block) => block.loci.includes(locus));
        return blocks[k]
          .allelesOf(states[2 * k + side], blocks[k].loci.indexOf(locus))
          .map((allele) => program.loci[locus].alleles[allele])
          .join('/');
      });
    return [{ first: genotypes(0), second: genotypes(1), probability }];
  });
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
  readonly together: readonly (readonly GenotypesTogether[])[] | null;
  readonly effort: Effort;
}

function solveCase(
  program: Program,
  { oneGene }: AllelismCase,
  pair: readonly [first: number, second: number],
  settings: InferenceSettings,
  asked: readonly (readonly number[])[],
): CaseOfPair {
  const evidence = new Evidence(program, layOutBlocks(program, oneGene));
  const { blocks } = evidence;
  const compiled = compileProgram(program, evidence, {
    include: closeUpwards(program, [...recordedAnimals(program), ...pair]),
    without: settings.without ?? null,
    soft: 0,
    jointSires: false,
    keep: pair,
  });
  /** By block: the variables of the two. */
  const ties = blocks.map((_, b) => pair.map((animal) => compiled.variableOf(animal, b)));
  const groups = asked.map((loci) => {
    const own = [...blocks.keys()].filter((b) => blocks[b].loci.some((one) => loci.includes(one)));
    return { loci, blocks: own.map((b) => blocks[b]), scope: own.flatMap((b) => ties[b]) };
  });
  const { network } = compiled;
  const scopes = groups.map(({ scope }) => scope);
  const mayFit = scopes.every((scope) => tableSize(scope, network.sizes) <= MOST_TOGETHER);
  const exactly = (portions: readonly (readonly (readonly number[])[])[]) =>
    solvePortions(network, portions, settings);
  const whole = mayFit ? exactly([[...ties, ...scopes]]) : null;
  // Without the groups, then one block at a time: blocks that share open parents make one large network.
  const { logTotal, joints, effort } =
    whole ??
    (scopes.length > 0 ? exactly([ties]) : null) ??
    exactly(ties.map((pair) => [pair])) ??
    solveRoughly(compiled, ties, settings);
  const logEvidence = logTotal + compiled.logConstant;
  if (logEvidence === Number.NEGATIVE_INFINITY) {
    return { logEvidence, pairs: [], together: groups.map(() => []), effort };
  }
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
  const together =
    whole &&
    groups.map((group, k) => readTogether(group, joints[ties.length + k], compiled, program));
  return { logEvidence, pairs, together, effort };
}

interface SolvedPair {
  readonly logTotal: number;
  /** By block: joint probabilities of the two variables, the second's states fastest; none where the total is 0. */
  readonly joints: readonly Float64Array[];
  readonly effort: Effort;
}

const RESTARTS = 8;

/** A run for each portion of what is tied; null where one of them does not fit. */
function solvePortions(
  network: Network,
  portions: readonly (readonly (readonly number[])[])[],
  settings: InferenceSettings,
): SolvedPair | null {
  const plans = portions.map((tied) => {
    const whole = tie(network, tied);
    return {
      tied,
      whole,
      planned: planNetwork(
        whole,
        seededRandom(settings.seed ?? 1),
        RESTARTS,
        mostEntries(settings),
      ),
    };
  });
  if (plans.some(({ planned }) => planned.plan.entries > mostEntries(settings))) return null;
  let logTotal = 0;
  const joints: Float64Array[] = [];
  for (const { tied, whole, planned } of plans) {
    const solved = solvePlanned(whole, planned);
    logTotal = solved.logTotal;
    if (logTotal === Number.NEGATIVE_INFINITY) break;
    joints.push(...tied.map((scope) => solved.marginal(scope)));
  }
  const effort: Effort = {
    method: 'exact',
    deletedMass: 0,
    monteCarloError: 0,
    roughAnimals: 0,
    width: Math.max(...plans.map(({ planned }) => planned.plan.width)),
    entries: Math.max(...plans.map(({ planned }) => planned.plan.entries)),
    runs: plans.length,
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
