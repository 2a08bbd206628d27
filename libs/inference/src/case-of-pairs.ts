import { seededRandom } from '@scutewright/basics';
import { approximateNetwork, mostEntries } from './approximate-network.js';
import type { Block } from './block.js';
import { closeUpwards, recordedAnimals } from './close-upwards.js';
import { compileProgram } from './compile-program.js';
import type { CompiledProgram } from './compiled-program.js';
import { Evidence } from './evidence.js';
import type { InferenceSettings } from './infer-program.js';
import { layOutBlocks } from './lay-out-blocks.js';
import { type Network, tableSize } from './network.js';
import type { Effort } from './posteriors.js';
import type { Program } from './program.js';
import { type ExactNetwork, planNetwork, solvePlanned } from './solve-network.js';
import { Walk } from './table-walk.js';

/** Genotypes of the two by the loci of a group; at linked loci the same side of the slash is one chromosome. */
export interface GenotypesTogether {
  readonly first: readonly string[];
  readonly second: readonly string[];
  /** Over 0; those of a group sum to 1. */
  readonly probability: number;
}

/** What is known of two animals in one case. */
export interface PairInCase {
  readonly logEvidence: number;
  /** By locus, as in `JointGenotypes`; empty where the records cannot all be true. */
  readonly pairs: readonly Float64Array[];
  readonly together: readonly (readonly GenotypesTogether[])[] | null;
  readonly effort: Effort;
}

/** Combinations of two animals' states that are told apart, at most. */
const MOST_TOGETHER = 2 ** 16;
/** Visits that the groups of a pair may take, as a multiple of the table entries that may be computed. */
const MOST_VISITS = 8;
const RESTARTS = 8;

/** One way in which the allelism hypotheses can be true, solved once for all pairs of some animals. */
export class CaseOfPairs {
  private readonly compiled: CompiledProgram;
  /** Null where it does not fit. */
  private readonly solved: ExactNetwork | null;
  private readonly effort: Effort;

  constructor(
    private readonly program: Program,
    oneGene: readonly boolean[],
    animals: readonly number[],
    private readonly settings: InferenceSettings,
  ) {
    this.compiled = compileProgram(program, new Evidence(program, layOutBlocks(program, oneGene)), {
      include: closeUpwards(program, [...recordedAnimals(program), ...animals]),
      without: settings.without ?? null,
      soft: 0,
      jointSires: false,
      keep: animals,
    });
    const { network } = this.compiled;
    const most = mostEntries(settings);
    const planned = planNetwork(network, seededRandom(settings.seed ?? 1), RESTARTS, most);
    const { width, entries } = planned.plan;
    this.solved = entries <= most ? solvePlanned(network, planned) : null;
    this.effort = {
      method: 'exact',
      deletedMass: 0,
      monteCarloError: 0,
      roughAnimals: 0,
      width,
      entries,
      runs: 1,
    };
  }

  get isExact(): boolean {
    return this.solved !== null;
  }

  of(
    pair: readonly [first: number, second: number],
    asked: readonly (readonly number[])[],
  ): PairInCase {
    const { compiled, program, solved, settings } = this;
    /** By block: the variables of the two. */
    const ties = compiled.blocks.map((_, b) => pair.map((one) => compiled.variableOf(one, b)));
    const groups = asked.map((loci) => groupOf(loci, compiled, ties));
    const { logTotal, joints, together, effort } = solved
      ? this.readExactly(solved, ties, groups)
      : solveRoughly(compiled, ties, settings);
    const logEvidence = logTotal + compiled.logConstant;
    if (logEvidence === Number.NEGATIVE_INFINITY) {
      return { logEvidence, pairs: [], together: groups.map(() => []), effort };
    }
    return {
      logEvidence,
      pairs: byLocus(program, compiled, ties, joints),
      together:
        together && groups.map((group, k) => readTogether(group, together[k], compiled, program)),
      effort,
    };
  }

  private readExactly(
    solved: ExactNetwork,
    ties: readonly (readonly number[])[],
    groups: readonly Group[],
  ): SolvedPair {
    const { effort, settings } = this;
    const { sizes } = this.compiled.network;
    const { logTotal } = solved;
    if (logTotal === Number.NEGATIVE_INFINITY) {
      return { logTotal, joints: [], together: [], effort };
    }
    const mayAnswer =
      groups.every(({ scope }) => tableSize(scope, sizes) <= MOST_TOGETHER) &&
      groups.reduce((sum, { scope }) => sum + solved.costOf(scope), 0) <=
        MOST_VISITS * mostEntries(settings);
    const together = mayAnswer ? groups.map(({ scope }) => solved.marginal(scope)) : null;
    const joints = ties.map((pair) => {
      const k = groups.findIndex(({ scope }) => pair.every((one) => scope.includes(one)));
      if (!together || k < 0) return solved.marginal(pair);
      const joint = new Float64Array(tableSize(pair, sizes));
      new Walk(groups[k].scope, pair, sizes).addUp(together[k], joint);
      return joint;
    });
    return { logTotal, joints, together, effort };
  }
}

interface SolvedPair {
  readonly logTotal: number;
  /** By block: joint probabilities of the two variables, the second's states fastest; none where the total is 0. */
  readonly joints: readonly Float64Array[];
  /** By group, over its scope; null where that would cost too much. */
  readonly together: readonly Float64Array[] | null;
  readonly effort: Effort;
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
  return { logTotal, joints, together: null, effort };
}

/** Adds a table of ones over variables that belong together: no weight changes, but their joint marginal can be read. */
function tie(network: Network, ties: readonly (readonly number[])[]): Network {
  const ones = ties.map((scope) => ({
    scope,
    table: new Float64Array(tableSize(scope, network.sizes)).fill(1),
  }));
  return { sizes: network.sizes, factors: [...network.factors, ...ones] };
}

/** Of the two animals' states at each block: probabilities of their genotypes at each locus. */
function byLocus(
  program: Program,
  { blocks, states }: CompiledProgram,
  ties: readonly (readonly number[])[],
  joints: readonly Float64Array[],
): Float64Array[] {
  const pairs = program.loci.map(({ genotypes }) => new Float64Array(genotypes.length ** 2));
  for (const [b, block] of blocks.entries()) {
    const [one, other] = ties[b].map((variable) => states[variable]);
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
  return pairs;
}

/** A group of loci in a network: its blocks, and their variables, the two animals' by turns. */
interface Group {
  readonly loci: readonly number[];
  readonly blocks: readonly Block[];
  readonly scope: readonly number[];
}

function groupOf(
  loci: readonly number[],
  { blocks }: CompiledProgram,
  ties: readonly (readonly number[])[],
): Group {
  const own = [...blocks.keys()].filter((b) => blocks[b].loci.some((one) => loci.includes(one)));
  return { loci, blocks: own.map((b) => blocks[b]), scope: own.flatMap((b) => ties[b]) };
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
