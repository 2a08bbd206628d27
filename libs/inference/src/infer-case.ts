import { seededRandom } from '@scutewright/basics';
import { approximateNetwork, mostEntries, selectorsOf } from './approximate-network.js';
import type { Block } from './block.js';
import { addMates, closeUpwards, recordedAnimals } from './close-upwards.js';
import { compileProgram } from './compile-program.js';
import type { CompiledProgram } from './compiled-program.js';
import { Evidence } from './evidence.js';
import type { InferenceSettings } from './infer-program.js';
import { layOutBlocks } from './lay-out-blocks.js';
import { type AllelismCase, type CaseResult, layOutGenotypes } from './mix-cases.js';
import type { Program } from './program.js';
import {
  type PlannedNetwork,
  planNetwork,
  type SolvedNetwork,
  solvePlanned,
} from './solve-network.js';

/** One way in which the allelism hypotheses can be true: exact where it fits, else as `Effort` says. */
export class CaseInference {
  private readonly evidence: Evidence;
  private readonly result: CaseResult;
  private readonly read: Uint8Array;
  private readonly layout: { stride: number; offset: Int32Array };
  private readonly most: number;

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
      effort: {
        method: 'exact',
        deletedMass: 0,
        monteCarloError: 0,
        roughAnimals: 0,
        width: 0,
        entries: 0,
        runs: 0,
      },
    };
    this.most = mostEntries(settings);
  }

  run(): CaseResult {
    const everyone = new Uint8Array(this.program.sex.length).fill(1);
    const whole = this.prepare(everyone);
    if (this.fits(whole)) {
      this.solve(whole);
      return this.result;
    }
    const recorded = closeUpwards(this.program, recordedAnimals(this.program));
    const needed = this.prepare(addMates(this.program, recorded));
    if (this.fits(needed)) {
      this.solve(needed);
      if (this.result.logEvidence > Number.NEGATIVE_INFINITY) this.solveSilent();
      return this.result;
    }
    this.approximate(needed);
    if (this.result.logEvidence > Number.NEGATIVE_INFINITY) this.roughSilent();
    return this.result;
  }

  private prepare(include: Uint8Array): Prepared {
    const compiled = compileProgram(this.program, this.evidence, {
      include,
      without: this.settings.without ?? null,
      soft: 0,
      jointSires: this.settings.jointSires ?? false,
    });
    const random = seededRandom(this.settings.seed ?? 1);
    return { compiled, planned: planNetwork(compiled.network, random, RESTARTS, this.most) };
  }

  private fits({ planned }: Prepared): boolean {
    return planned.plan.entries <= this.most;
  }

  private solve({ compiled, planned }: Prepared): void {
    const { effort } = this.result;
    effort.width = Math.max(effort.width, planned.plan.width);
    effort.entries = Math.max(effort.entries, planned.plan.entries);
    effort.runs++;
    const solved = solvePlanned(compiled.network, planned);
    this.result.logEvidence = solved.logTotal + compiled.logConstant;
    if (this.result.logEvidence > Number.NEGATIVE_INFINITY) this.readAll(compiled, solved);
  }

  /** Animals without any say, in portions that fit: each tied to the whole network of those who have one. */
  private solveSilent(): void {
    const recorded = recordedAnimals(this.program);
    let open = this.unread();
    let portion = open.length;
    while (open.length > 0) {
      const now = open.slice(0, portion);
      const prepared = this.prepare(closeUpwards(this.program, [...recorded, ...now]));
      if (this.fits(prepared)) {
        this.solve(prepared);
        open = this.unread();
      } else if (portion > 1) {
        portion = Math.ceil(portion / 4);
      } else {
        this.roughAnimal(open[0]);
        open = this.unread();
      }
    }
  }

  private unread(): number[] {
    return Array.from(this.read.keys()).filter((animal) => !this.read[animal]);
  }

  private approximate({ compiled }: Prepared): void {
    const { effort } = this.result;
    const scopes = scopesOf(compiled);
    const solved = approximateNetwork(compiled.network, compiled, scopes, this.settings);
    effort.method = solved.method;
    effort.deletedMass = solved.deletedMass;
    effort.width = solved.width;
    effort.entries = solved.entries;
    effort.runs += solved.runs;
    this.result.logEvidence = solved.logTotal + compiled.logConstant;
    if (this.result.logEvidence > Number.NEGATIVE_INFINITY) this.readAll(compiled, solved);
    effort.monteCarloError = solved.error();
  }

  private roughSilent(): void {
    for (const animal of this.unread()) this.roughAnimal(animal);
  }

  /**
   * Mendel's rule on the parents' separate posteriors, candidate sires as weighed before the records. Only where the joint odds
   * are out of reach; counted in `roughAnimals`.
   */
  private roughAnimal(animal: number): void {
    if (this.read[animal]) return;
    const { program, evidence, result, layout } = this;
    const clutch = program.clutch[animal];
    const parentsOf = (role: 'sire' | 'dam'): { animal: number; weight: number }[] => {
      if (clutch < 0) return [{ animal: program[role][animal], weight: 1 }];
      const own = program.clutches[clutch];
      const [list, weights] =
        role === 'sire' ? [own.sires, own.sireWeights] : [own.dams, own.damWeights];
      const known = result[role === 'sire' ? 'clutchSires' : 'clutchDams'].get(clutch);
      const chance = (parent: number, prior: number): number => {
        if (!known || role === 'sire') return prior;
        return (known as Map<number, number>).get(parent) ?? 0;
      };
      const found = Array.from(list, (parent, i) => ({
        animal: parent,
        weight: chance(parent, weights[i]),
      }));
      const rest = 1 - found.reduce((sum, { weight }) => sum + weight, 0);
      return rest > 1e-9 ? [...found, { animal: -1, weight: rest }] : found;
    };
    const [sires, dams] = [parentsOf('sire'), parentsOf('dam')];
    for (const parent of [...sires, ...dams])
      if (parent.animal >= 0) this.roughAnimal(parent.animal);
    for (const block of evidence.blocks) {
      const mixed = (
        parents: { animal: number; weight: number }[],
        sex: 'm' | 'f',
      ): Float64Array => {
        const chances = new Float64Array(block.states);
        for (const parent of parents) {
          for (let state = 0; state < block.states; state++) {
            if (!block.fits(state, sex)) continue;
            const at =
              parent.animal * layout.stride +
              layout.offset[block.loci[0]] +
              block.genotypeOf[0][state];
            const own =
              parent.animal < 0
                ? block.base[sex][state]
                : block.loci.length === 1
                  ? result.genotypes[at]
                  : block.base[sex][state];
            chances[state] += parent.weight * own;
          }
        }
        return chances;
      };
      const [sire, dam] = [mixed(sires, 'm'), mixed(dams, 'f')];
      const sex = program.sex[animal];
      const own = new Float64Array(block.states);
      for (let s = 0; s < block.states; s++) {
        for (let d = 0; d < block.states; d++) {
          if (sire[s] * dam[d] === 0) continue;
          const { states, probabilities } = block.young(s, d);
          for (const [i, state] of states.entries()) {
            if (block.fits(state, sex === 0 ? null : sex === 1 ? 'm' : 'f'))
              own[state] += sire[s] * dam[d] * probabilities[i];
          }
        }
      }
      const total = own.reduce((a, b) => a + b, 0);
      for (let state = 0; state < block.states; state++) {
        if (own[state] > 0) this.add(animal, block, state, own[state] / total);
      }
    }
    this.read[animal] = 1;
    result.effort.roughAnimals++;
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

interface Prepared {
  readonly compiled: CompiledProgram;
  readonly planned: PlannedNetwork;
}

const RESTARTS = 8;

/** Every marginal that is read of a compiled program. */
function scopesOf(compiled: CompiledProgram): (readonly number[])[] {
  return [
    ...compiled.readers.map((r) => (r.kind === 'variable' ? [r.variable] : r.family.scope)),
    ...selectorsOf(compiled).map((variable) => [variable]),
    ...[...compiled.sexes.values()].map((variable) => [variable]),
    ...[...compiled.jointChoices.values()].map((choices) => choices.map((c) => c.variable)),
  ];
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
