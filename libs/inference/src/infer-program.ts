import { seededRandom } from '@scutewright/basics';
import type { Block } from './block.js';
import { type CompiledProgram, compileProgram } from './compile-program.js';
import { Evidence } from './evidence.js';
import { layOutBlocks } from './lay-out-blocks.js';
import type { Program } from './program.js';
import {
  type PlannedNetwork,
  planNetwork,
  type SolvedNetwork,
  solvePlanned,
} from './solve-network.js';

export interface InferenceSettings {
  /** Table entries that may be computed, as a power of two: 24 (134 MB) while somebody waits, 27 (1 GB) in a worker. */
  readonly budgetBits?: number;
  readonly seed?: number;
  /** Also list the joint chances of the sires of a clutch's young. */
  readonly jointSires?: boolean;
  /** By record, 1: leave it out. */
  readonly without?: Uint8Array | null;
}

/** Posteriors as plain data by position; see `Program` for the positions. */
export interface Posteriors {
  /** False when the records cannot all be true; then all else is 0 or empty. */
  readonly possible: boolean;
  readonly logEvidence: number;
  /** Genotypes of all loci together: the row of an animal in `genotypes`. */
  readonly stride: number;
  /** Where each locus begins in a row. */
  readonly offset: Int32Array;
  /** `genotypes[animal * stride + offset[locus] + genotype]`, in the order of `Locus.genotypes`. */
  readonly genotypes: Float64Array;
  /** By young with a choice of parent: candidates (-1 nobody recorded) and their probabilities. */
  readonly sires: ReadonlyMap<number, Candidates>;
  readonly dams: ReadonlyMap<number, Candidates>;
  /** By young that may be of several clutches. */
  readonly clutchesOf: ReadonlyMap<number, Candidates>;
  /** By clutch: combinations of sires, one per listed young, and their probabilities. */
  readonly clutchSires: ReadonlyMap<number, readonly SireCombination[]>;
  readonly clutchDams: ReadonlyMap<number, Candidates>;
  /** Probability that the two lines of each allelism hypothesis are one gene. */
  readonly oneGene: Float64Array;
  /** Probability of being male, by animal of unknown sex whose sex matters for these records. */
  readonly male: ReadonlyMap<number, number>;
  readonly effort: Effort;
}

export interface Candidates {
  readonly animals: Int32Array;
  readonly probabilities: Float64Array;
}

export interface SireCombination {
  readonly sires: Int32Array;
  readonly probability: number;
}

/** What the answer cost and how far it can be trusted. */
export interface Effort {
  readonly method: 'exact';
  /** Largest number of variables in one table, minus one; entries of all tables together. */
  readonly width: number;
  readonly entries: number;
  readonly runs: number;
}

/**
 * Posterior of every genotype and of every uncertain parent from all records at once. Exact: one network over all loci that
 * share an uncertain parent, a trait or a chromosome; allelism hypotheses are weighed by solving each case.
 */
export function inferProgram(program: Program, settings: InferenceSettings = {}): Posteriors {
  const cases = allelismCases(program);
  const found = cases.map((oneGene) => new CaseInference(program, oneGene, settings).run());
  return mixCases(program, cases, found);
}

/** Every way in which the allelism hypotheses can be true or false, with its prior probability. */
export interface AllelismCase {
  readonly oneGene: readonly boolean[];
  readonly prior: number;
}

export function allelismCases(program: Program): AllelismCase[] {
  let cases: AllelismCase[] = [{ oneGene: [], prior: 1 }];
  for (const { probability } of program.allelism) {
    cases = cases.flatMap(({ oneGene, prior }) => [
      { oneGene: [...oneGene, false], prior: prior * (1 - probability) },
      { oneGene: [...oneGene, true], prior: prior * probability },
    ]);
  }
  return cases.filter(({ prior }) => prior > 0);
}

interface CaseResult {
  logEvidence: number;
  genotypes: Float64Array;
  sires: Map<number, Map<number, number>>;
  dams: Map<number, Map<number, number>>;
  clutchesOf: Map<number, Map<number, number>>;
  clutchSires: Map<number, Map<string, number>>;
  clutchDams: Map<number, Map<number, number>>;
  male: Map<number, number>;
  width: number;
  entries: number;
  runs: number;
}

class CaseInference {
  private readonly evidence: Evidence;
  private readonly result: CaseResult;
  private readonly read: Uint8Array;
  private readonly layout: { stride: number; offset: Int32Array };

  constructor(
    private readonly program: Program,
    oneGene: AllelismCase,
    private readonly settings: InferenceSettings,
  ) {
    const blocks: readonly Block[] = layOutBlocks(program, oneGene.oneGene);
    this.evidence = new Evidence(program, blocks);
    this.layout = layOutGenotypes(program);
    this.read = new Uint8Array(program.sex.length);
    this.result = {
      logEvidence: 0,
      genotypes: new Float64Array(program.sex.length * this.layout.stride),
      sires: new Map(),
      dams: new Map(),
      clutchesOf: new Map(),
      clutchSires: new Map(),
      clutchDams: new Map(),
      male: new Map(),
      width: 0,
      entries: 0,
      runs: 0,
    };
  }

  run(): CaseResult {
    const everyone = new Uint8Array(this.program.sex.length).fill(1);
    this.solve(everyone);
    return this.result;
  }

  private solve(include: Uint8Array): void {
    const compiled = compileProgram(this.program, this.evidence, {
      include,
      without: this.settings.without ?? null,
      soft: 0,
      jointSires: this.settings.jointSires ?? false,
    });
    const planned: PlannedNetwork = planNetwork(
      compiled.network,
      seededRandom(this.settings.seed ?? 1),
      8,
    );
    const { result } = this;
    result.width = Math.max(result.width, planned.plan.width);
    result.entries = Math.max(result.entries, planned.plan.entries);
    result.runs++;
    const solved = solvePlanned(compiled.network, planned);
    result.logEvidence = solved.logTotal + compiled.logConstant;
    if (solved.logTotal > Number.NEGATIVE_INFINITY) this.readAll(compiled, solved);
  }

  private readAll(compiled: CompiledProgram, solved: SolvedNetwork): void {
    const { result, program } = this;
    const parentsJoint = new Map<unknown, Float64Array>();
    const young = new Map<unknown, Map<Float64Array, Float64Array>>();
    const done: number[] = [];
    for (const reader of compiled.readers) {
      if (this.read[reader.animal]) continue;
      done.push(reader.animal);
      if (reader.kind === 'variable') {
        const marginal = solved.marginal([reader.variable]);
        const states = compiled.states[reader.variable];
        for (let i = 0; i < marginal.length; i++) {
          this.add(reader.animal, compiled.blocks[reader.block], states[i], marginal[i]);
        }
        continue;
      }
      const { family, likelihood } = reader;
      let parents = parentsJoint.get(family);
      if (!parents) {
        parents = solved.marginal(family.scope);
        parentsJoint.set(family, parents);
        young.set(family, new Map());
      }
      let posterior = young.get(family)!.get(likelihood);
      if (!posterior) {
        posterior = family.posterior(likelihood, parents);
        young.get(family)!.set(likelihood, posterior);
      }
      this.addFolded(
        reader.animal,
        reader.blocks.map((b) => compiled.blocks[b]),
        posterior,
      );
    }
    for (const animal of done) this.read[animal] = 1;
    for (const [animal, variable] of compiled.sexes) {
      result.male.set(animal, solved.marginal([variable])[0]);
    }
    for (const choice of compiled.choices) {
      const marginal = solved.marginal([choice.variable]);
      const sires = new Map<number, number>();
      const clutches = new Map<number, number>();
      for (const [state, { clutch, source }] of choice.states.entries()) {
        sires.set(source.animal, (sires.get(source.animal) ?? 0) + marginal[state]);
        clutches.set(clutch, (clutches.get(clutch) ?? 0) + marginal[state]);
      }
      result.sires.set(choice.animal, sires);
      if (clutches.size > 1) result.clutchesOf.set(choice.animal, clutches);
    }
    for (const [clutch, selector] of compiled.damSelectors) {
      result.clutchDams.set(clutch, sumBy(selector.animals, solved.marginal([selector.variable])));
    }
    for (const [clutch, choices] of compiled.jointChoices) {
      const joint = solved.marginal(choices.map((choice) => choice.variable));
      const combinations = new Map<string, number>();
      for (let entry = 0; entry < joint.length; entry++) {
        let rest = entry;
        const sires: number[] = [];
        for (let k = choices.length - 1; k >= 0; k--) {
          const { states } = choices[k];
          sires.unshift(states[rest % states.length].source.animal);
          rest = Math.floor(rest / states.length);
        }
        const key = sires.join();
        combinations.set(key, (combinations.get(key) ?? 0) + joint[entry]);
      }
      result.clutchSires.set(clutch, combinations);
    }
    const youngOf = youngByClutch(program);
    for (const [clutch, selector] of compiled.sireSelectors) {
      const sires = sumBy(selector.animals, solved.marginal([selector.variable]));
      const mates = youngOf.get(clutch) ?? [];
      for (const animal of mates) result.sires.set(animal, sires);
      const combinations = new Map<string, number>();
      for (const [sire, probability] of sires) {
        combinations.set(new Array(Math.max(1, mates.length)).fill(sire).join(), probability);
      }
      result.clutchSires.set(clutch, combinations);
    }
    for (const [clutch, dams] of result.clutchDams) {
      for (const animal of youngOf.get(clutch) ?? []) result.dams.set(animal, dams);
    }
  }

  private add(animal: number, block: Block, state: number, probability: number): void {
    const row = animal * this.layout.stride;
    for (const [place, locus] of block.loci.entries()) {
      const genotype = block.genotypeOf[place][state];
      this.result.genotypes[row + this.layout.offset[locus] + genotype] += probability;
    }
  }

  private addFolded(animal: number, blocks: readonly Block[], posterior: Float64Array): void {
    for (let entry = 0; entry < posterior.length; entry++) {
      if (posterior[entry] === 0) continue;
      let rest = entry;
      for (let k = blocks.length - 1; k >= 0; k--) {
        this.add(animal, blocks[k], rest % blocks[k].states, posterior[entry]);
        rest = Math.floor(rest / blocks[k].states);
      }
    }
  }
}

function sumBy(keys: readonly number[], values: Float64Array): Map<number, number> {
  const sums = new Map<number, number>();
  for (const [i, key] of keys.entries()) sums.set(key, (sums.get(key) ?? 0) + values[i]);
  return sums;
}

function youngByClutch(program: Program): Map<number, number[]> {
  const young = new Map<number, number[]>();
  for (const [animal, clutch] of program.clutch.entries()) {
    if (clutch < 0) continue;
    const list = young.get(clutch);
    if (list) list.push(animal);
    else young.set(clutch, [animal]);
  }
  return young;
}

function layOutGenotypes(program: Program): { stride: number; offset: Int32Array } {
  const offset = new Int32Array(program.loci.length);
  let stride = 0;
  for (const [locus, { genotypes }] of program.loci.entries()) {
    offset[locus] = stride;
    stride += genotypes.length;
  }
  return { stride, offset };
}

function mixCases(
  program: Program,
  cases: readonly AllelismCase[],
  found: readonly CaseResult[],
): Posteriors {
  const logs = found.map((result, i) => result.logEvidence + Math.log(cases[i].prior));
  const largest = Math.max(...logs);
  const possible = largest > Number.NEGATIVE_INFINITY;
  const weights = logs.map((log) => (possible ? Math.exp(log - largest) : 0));
  const total = weights.reduce((a, b) => a + b, 0);
  const shares = weights.map((weight) => (possible ? weight / total : 0));
  const layout = layOutGenotypes(program);
  const genotypes = new Float64Array(program.sex.length * layout.stride);
  for (const [c, result] of found.entries()) {
    if (shares[c] === 0) continue;
    for (let i = 0; i < genotypes.length; i++) genotypes[i] += shares[c] * result.genotypes[i];
  }
  const mix = <Key>(of: (result: CaseResult) => Map<number, Map<Key, number>>) => {
    const mixed = new Map<number, Map<Key, number>>();
    for (const [c, result] of found.entries()) {
      if (shares[c] === 0) continue;
      for (const [key, map] of of(result)) {
        const sums = mixed.get(key) ?? new Map<Key, number>();
        for (const [inner, value] of map)
          sums.set(inner, (sums.get(inner) ?? 0) + shares[c] * value);
        mixed.set(key, sums);
      }
    }
    return mixed;
  };
  const candidates = (maps: Map<number, Map<number, number>>): Map<number, Candidates> =>
    new Map(
      [...maps].map(([key, map]) => [
        key,
        {
          animals: Int32Array.from(map.keys()),
          probabilities: Float64Array.from(map.values()),
        },
      ]),
    );
  const male = new Map<number, number>();
  for (const [c, result] of found.entries()) {
    for (const [animal, p] of result.male)
      male.set(animal, (male.get(animal) ?? 0) + shares[c] * p);
  }
  return {
    possible,
    logEvidence: possible ? largest + Math.log(total) : Number.NEGATIVE_INFINITY,
    ...layout,
    genotypes,
    sires: candidates(mix((result) => result.sires)),
    dams: candidates(mix((result) => result.dams)),
    clutchesOf: candidates(mix((result) => result.clutchesOf)),
    clutchSires: new Map(
      [...mix((result) => result.clutchSires)].map(([clutch, map]) => [
        clutch,
        [...map].map(([key, probability]) => ({
          sires: Int32Array.from(key.split(','), Number),
          probability,
        })),
      ]),
    ),
    clutchDams: candidates(mix((result) => result.clutchDams)),
    oneGene: Float64Array.from(program.allelism, (_, h) =>
      cases.reduce((sum, { oneGene }, c) => sum + (oneGene[h] ? shares[c] : 0), 0),
    ),
    male,
    effort: {
      method: 'exact',
      width: Math.max(...found.map((result) => result.width)),
      entries: Math.max(...found.map((result) => result.entries)),
      runs: found.reduce((sum, result) => sum + result.runs, 0),
    },
  };
}
