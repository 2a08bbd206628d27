import { invariant } from '@scutewright/basics';
import { AnimalEvidence, type Group } from './animal-evidence.js';
import type { Block } from './block.js';
import { ClutchParents, equalIf, NOBODY, type Selector } from './clutch-parents.js';
import type {
  CompiledProgram,
  GenotypeReader,
  RecordReader,
  YoungChoice,
} from './compiled-program.js';
import { Evidence, spreadOver } from './evidence.js';
import { BASE, chancesOf, FoldedYoung, type ParentSlots } from './fold-young.js';
import { NetworkBuilder, newTable } from './network-builder.js';
import type { Find, Program, ProgramRecord } from './program.js';

export interface CompileSettings {
  /** By animal, 1: it takes part. Must be closed upwards (see `closeUpwards`). */
  readonly include: Uint8Array;
  /** By record, 1: leave it out; null for none. */
  readonly without: Uint8Array | null;
  /** Weight in place of a likelihood of 0, so that what a record forbids can be weighed; 0 as it is. */
  readonly soft: number;
  /** Keep the choices of young of one clutch in one table, so that their joint chances can be read. */
  readonly jointSires: boolean;
  /** An animal to keep as variables even if it has no young; -1 none. */
  readonly keep?: number;
}

/** Combinations of sires of the young of a clutch that are listed together, at most. */
const MOST_JOINT = 4096;

/** Combinations of the parents' states for which young are summed out by hand, at most. */
const MOST_FOLDED = 6561;

/** Translates a program into variables and tables. Cost: animals plus records, times small tables. */
export function compileProgram(
  program: Program,
  evidence: Evidence,
  settings: CompileSettings,
): CompiledProgram {
  return new Compiler(program, evidence, settings).compile();
}

interface Parents {
  readonly sire: readonly number[];
  readonly dam: readonly number[];
}

class Compiler {
  private readonly builder = new NetworkBuilder();
  private readonly blocks: readonly Block[];
  private readonly variables: Int32Array;
  private readonly isParent: Uint8Array;
  private readonly families = new Map<string, FoldedYoung>();
  private readonly clutchParents = new Map<number, ClutchParents>();
  private readonly findOf = new Map<number, Find>();
  private readonly shared = new Set<number>();
  private readonly readers: GenotypeReader[] = [];
  private readonly choices: YoungChoice[] = [];
  private readonly sexes = new Map<number, number>();
  private readonly doubtful = new Map<number, number[]>();
  private readonly recordReaders: RecordReader[] = [];
  private readonly own: AnimalEvidence;
  private logConstant = 0;

  constructor(
    private readonly program: Program,
    private readonly evidence: Evidence,
    private readonly settings: CompileSettings,
  ) {
    this.blocks = evidence.blocks;
    const n = program.sex.length;
    this.variables = new Int32Array(n * this.blocks.length).fill(-1);
    for (const find of program.finds) {
      for (const animal of find.animals) this.findOf.set(animal, find);
      for (const clutch of find.clutches) this.shared.add(clutch);
    }
    this.isParent = this.findParents();
    if (settings.keep !== undefined && settings.keep >= 0) this.isParent[settings.keep] = 1;
    this.own = new AnimalEvidence(program, evidence, settings);
  }

  compile(): CompiledProgram {
    const { program, builder } = this;
    const own: number[] = [];
    const foldable: number[] = [];
    for (let animal = 0; animal < program.sex.length; animal++) {
      if (!this.settings.include[animal]) continue;
      (this.isParent[animal] || !this.canFold(animal) ? own : foldable).push(animal);
    }
    for (const animal of own) this.addVariables(animal);
    const parents = new Map<number, Parents | null>();
    for (const find of program.finds) this.addFind(find, parents);
    for (const animal of [...own, ...foldable]) {
      if (!parents.has(animal)) parents.set(animal, this.parentsOf(animal));
    }
    for (const animal of own) this.addAnimal(animal, parents.get(animal) ?? null);
    for (const animal of foldable) this.foldAnimal(animal, parents.get(animal) ?? null);
    for (const [index, record] of program.records.entries()) {
      if (this.settings.without?.[index]) continue;
      if (record.kind === 'count') this.addCount(index, record);
      if (record.kind === 'parentage') this.addParentage(index, record);
    }
    const read = new Set(this.readers.map((r) => (r.kind === 'folded' ? r.family : null)));
    for (const family of this.families.values()) {
      this.logConstant += family.close(builder, read.has(family));
    }
    const selectors = (of: (p: ClutchParents) => Selector | null): Map<number, Selector> => {
      const map = new Map<number, Selector>();
      for (const [clutch, p] of this.clutchParents) {
        const selector = of(p);
        if (selector) map.set(clutch, selector);
      }
      return map;
    };
    const jointChoices = this.settings.jointSires ? this.joinChoices() : new Map();
    return {
      blocks: this.blocks,
      network: builder.build(),
      states: builder.states,
      logConstant: this.logConstant,
      readers: this.readers,
      sireSelectors: selectors((p) => p.sireSelector),
      damSelectors: selectors((p) => p.damSelector),
      choices: this.choices,
      jointChoices,
      doubtful: this.doubtful,
      recordReaders: this.recordReaders,
      variableOf: (animal, block) => this.variables[animal * this.blocks.length + block],
      sexes: this.sexes,
    };
  }

  private findParents(): Uint8Array {
    const { program } = this;
    const isParent = new Uint8Array(program.sex.length);
    const mark = (animals: Iterable<number>): void => {
      for (const animal of animals) if (animal >= 0) isParent[animal] = 1;
    };
    const used = new Uint8Array(program.clutches.length);
    for (let animal = 0; animal < program.sex.length; animal++) {
      if (!this.settings.include[animal]) continue;
      const find = this.findOf.get(animal);
      if (find) for (const clutch of find.clutches) used[clutch] = 1;
      else if (program.clutch[animal] >= 0) used[program.clutch[animal]] = 1;
      else mark([program.sire[animal], program.dam[animal]]);
    }
    for (const record of program.records) {
      if (record.kind === 'count') for (const clutch of record.clutches) used[clutch] = 1;
    }
    for (const [index, clutch] of program.clutches.entries()) {
      if (!used[index]) continue;
      mark(clutch.sires);
      mark(clutch.dams);
    }
    return isParent;
  }

  private canFold(animal: number): boolean {
    const hasParents =
      this.findOf.has(animal) ||
      this.program.clutch[animal] >= 0 ||
      this.program.sire[animal] >= 0 ||
      this.program.dam[animal] >= 0;
    if (!hasParents) return false;
    return this.own.foldedGroups(animal).every((group) => {
      const most = group.blocks.reduce((product, b) => product * this.blocks[b].states ** 2, 1);
      return group.blocks.length === 1 || most <= MOST_FOLDED;
    });
  }

  private addVariables(animal: number): void {
    const sex = this.own.sexOf(animal);
    const alone = this.own.groups[animal].filter(
      (group) => group.blocks.length === 1 && !group.bySex,
    );
    for (const [b, block] of this.blocks.entries()) {
      const table = alone.find((group) => group.blocks[0] === b)?.m;
      const states: number[] = [];
      for (let state = 0; state < block.states; state++) {
        if (block.fits(state, sex) && (!table || table[state] > 0)) states.push(state);
      }
      // All states impossible: keep one, its weight 0 makes the total 0.
      if (states.length === 0) states.push(0);
      const variable = this.builder.variable(Int32Array.from(states));
      this.variables[animal * this.blocks.length + b] = variable;
      this.readers.push({ kind: 'variable', animal, block: b, variable });
    }
  }

  private variableOf = (animal: number, block: number): number => {
    const variable = this.variables[animal * this.blocks.length + block];
    invariant(variable >= 0, 'a parent of an animal that takes part takes part itself');
    return variable;
  };

  private parentsOfClutch(clutch: number): ClutchParents {
    let parents = this.clutchParents.get(clutch);
    if (!parents) {
      parents = new ClutchParents(
        this.program.clutches[clutch],
        this.blocks,
        this.builder,
        this.variableOf,
        this.shared.has(clutch),
      );
      this.clutchParents.set(clutch, parents);
    }
    return parents;
  }

  /** Variables of an animal's parents by block; null for a founder. */
  private parentsOf(animal: number): Parents | null {
    const { program } = this;
    const clutch = program.clutch[animal];
    if (clutch >= 0) {
      const parents = this.parentsOfClutch(clutch);
      if (parents.sire) return { sire: parents.sire, dam: parents.dam };
      return this.addChoice(animal, [clutch], new Float64Array([1])).parents;
    }
    const [sire, dam] = [program.sire[animal], program.dam[animal]];
    if (sire < 0 && dam < 0) return null;
    const at = (parent: number): number[] =>
      this.blocks.map((_, b) => (parent < 0 ? BASE : this.variableOf(parent, b)));
    return { sire: at(sire), dam: at(dam) };
  }

  /**
   * A young that chooses its sire, and perhaps its clutch, by itself: a choice variable and latent parents that
   * equal whom it chooses. `weights` may be null when the choice of clutch is weighed elsewhere.
   */
  private addChoice(
    animal: number,
    clutches: ArrayLike<number>,
    weights: Float64Array | null,
  ): { choice: YoungChoice; parents: Parents } {
    const { builder } = this;
    const of = Array.from(clutches, (clutch) => this.parentsOfClutch(clutch));
    const states = of.flatMap((parents, k) =>
      parents.sources.map((source, place) => ({ clutch: clutches[k], source, k, place })),
    );
    const variable = builder.selector(states.length);
    if (weights) builder.fill([variable], ([s]) => weights[states[s].k]);
    for (const [k, parents] of of.entries()) {
      const weigh = (mode: number, s: number): number =>
        states[s].k === k ? parents.chance[mode][states[s].place] : 1;
      if (parents.mode >= 0) builder.fill([parents.mode, variable], ([mode, s]) => weigh(mode, s));
      else builder.fill([variable], ([s]) => weigh(0, s));
    }
    const sire = this.blocks.map((block, b) => {
      const all = Int32Array.from({ length: block.states }, (_, state) => state);
      const latent = builder.variable(all.filter((state) => block.fits(state, 'm')));
      const bySource = new Map<number, number[]>();
      for (const [s, { source, k }] of states.entries()) {
        const from =
          of[k].sire && of[k].sources.length === 1 ? of[k].sire![b] : of[k].sourceAt(source, b);
        bySource.set(from, [...(bySource.get(from) ?? []), s]);
      }
      for (const [from, chosen] of bySource) {
        if (from === BASE) {
          builder.fill([variable, latent], ([s, g]) => (chosen.includes(s) ? block.base.m[g] : 1));
        } else {
          equalIf(builder, variable, chosen, latent, from);
        }
      }
      return latent;
    });
    const dam = this.blocks.map((block, b) => {
      if (of.length === 1) return of[0].dam[b];
      const all = Int32Array.from({ length: block.states }, (_, state) => state);
      const latent = builder.variable(all.filter((state) => block.fits(state, 'f')));
      const byDam = new Map<number, number[]>();
      for (const [s, { k }] of states.entries()) {
        byDam.set(of[k].dam[b], [...(byDam.get(of[k].dam[b]) ?? []), s]);
      }
      for (const [from, chosen] of byDam) equalIf(builder, variable, chosen, latent, from);
      return latent;
    });
    const choice: YoungChoice = { animal, variable, states };
    this.choices.push(choice);
    return { choice, parents: { sire, dam } };
  }

  /** Ties the choices of a clutch's young by a table of ones, so that they stand in one clique. */
  private joinChoices(): Map<number, YoungChoice[]> {
    const byClutch = new Map<number, YoungChoice[]>();
    for (const choice of this.choices) {
      const clutches = new Set(choice.states.map((state) => state.clutch));
      if (clutches.size > 1) continue;
      const [clutch] = clutches;
      byClutch.set(clutch, [...(byClutch.get(clutch) ?? []), choice]);
    }
    for (const [clutch, choices] of byClutch) {
      const size = choices.reduce((product, choice) => product * choice.states.length, 1);
      if (size > MOST_JOINT) byClutch.delete(clutch);
      else {
        choices.sort((one, other) => one.animal - other.animal);
        this.builder.fill(
          choices.map((choice) => choice.variable),
          () => 1,
        );
      }
    }
    return byClutch;
  }

  /** Animals of one or another clutch; where the numbers are known, drawn without putting back. */
  private addFind(find: Find, parents: Map<number, Parents | null>): void {
    const animals = find.animals.filter((animal) => this.settings.include[animal]);
    if (animals.length === 0) return;
    const tied = find.counts !== null;
    const choices = Array.from(animals, (animal) => {
      const { choice, parents: own } = this.addChoice(
        animal,
        find.clutches,
        tied ? null : find.weights,
      );
      parents.set(animal, own);
      return choice;
    });
    if (!find.counts) return;
    const left = countVectors(find.counts);
    const place = new Map(left.map((vector, state) => [vector.join(), state]));
    let before = this.builder.selector(left.length);
    const start = place.get([...find.counts].join());
    this.builder.fill([before], ([state]) => Number(state === start));
    for (const choice of choices) {
      const after = this.builder.selector(left.length);
      this.builder.fill([before, choice.variable, after], ([from, s, to]) => {
        const k = find.clutches.indexOf(choice.states[s].clutch);
        const vector = left[from];
        const total = vector.reduce((a, b) => a + b, 0);
        if (vector[k] === 0) return 0;
        const then = place.get(vector.map((count, i) => (i === k ? count - 1 : count)).join());
        return then === to ? vector[k] / total : 0;
      });
      before = after;
    }
  }

  /** Base (or prior) of a founder, or the chances from its parents; then what the records say. */
  private addAnimal(animal: number, parents: Parents | null): void {
    const { builder } = this;
    const sex = this.own.sexOf(animal);
    for (const [b, block] of this.blocks.entries()) {
      const own = this.variableOf(animal, b);
      if (!parents) {
        this.addFounder(own, block.baseOf(sex), this.own.priors.get(`${animal} ${b}`));
        continue;
      }
      this.addTransmission(block, { sire: parents.sire[b], dam: parents.dam[b] }, own);
    }
    const groups = this.own.groups[animal];
    for (const { record, blocks, m, f } of this.own.likelihoods[animal]) {
      if (m !== f && !sex) continue;
      const table = this.own.soften(sex === 'f' ? f : m);
      const scope = blocks.map((b) => this.variableOf(animal, b));
      this.recordReaders.push({
        record,
        kind: 'table',
        scope,
        table: this.onStates(scope, blocks, table),
      });
    }
    let sexVariable = -1;
    if (!sex && (this.blocks.some((block) => block.sexLinked) || groups.some((g) => g.bySex))) {
      sexVariable = builder.selector(2);
      this.sexes.set(animal, sexVariable);
      builder.fill([sexVariable], () => 0.5);
      for (const [b, block] of this.blocks.entries()) {
        if (!block.sexLinked) continue;
        builder.fill([sexVariable, this.variableOf(animal, b)], ([s, state]) =>
          Number(block.fits(state, s === 0 ? 'm' : 'f')),
        );
      }
    }
    for (const group of groups) {
      const scope = group.blocks.map((b) => this.variableOf(animal, b));
      const at = (states: Int32Array): number =>
        group.blocks.reduce((entry, b, k) => entry * this.blocks[b].states + states[k], 0);
      if (group.bySex && sexVariable >= 0) {
        builder.fill(
          [...scope, sexVariable],
          (states) => (states[scope.length] === 0 ? group.m : group.f)[at(states)],
        );
      } else {
        const table = group[sex ?? 'm'];
        builder.fill(scope, (states) => table[at(states)]);
        if (scope.length === 1) this.noteDoubtful(scope[0], table);
      }
    }
  }

  private addFounder(
    own: number,
    base: Float64Array,
    prior: { table: Float64Array; record: number } | undefined,
  ): void {
    const table = prior?.table ?? base;
    this.builder.fill([own], ([state]) => table[state]);
    // A prior is taken out by putting the base in its place.
    if (!prior || prior.record < 0) return;
    const states = this.builder.states[own];
    const against = Float64Array.from(states, (state) => table[state] / base[state]);
    this.recordReaders.push({ record: prior.record, kind: 'table', scope: [own], table: against });
  }

  /** States a tenth as likely as the likeliest, by the animal's own records. */
  private noteDoubtful(variable: number, table: Float64Array): void {
    const states = [...this.builder.states[variable]];
    const largest = Math.max(...states.map((state) => table[state]));
    const out = states.flatMap((state, i) => (table[state] <= largest / 10 ? [i] : []));
    if (out.length > 0) this.doubtful.set(variable, out);
  }

  /** A table over all states of the blocks as one over the states that the variables have. */
  private onStates(
    scope: readonly number[],
    blocks: readonly number[],
    table: Float64Array,
  ): Float64Array {
    let result = [0];
    for (const [k, variable] of scope.entries()) {
      const { states } = this.blocks[blocks[k]];
      result = result.flatMap((at) =>
        Array.from(this.builder.states[variable], (state) => at * states + state),
      );
    }
    return Float64Array.from(result, (at) => table[at]);
  }

  private addTransmission(block: Block, slots: ParentSlots, own: number): void {
    const { builder } = this;
    const list = (slot: number): Int32Array | null => (slot === BASE ? null : builder.states[slot]);
    const chances = chancesOf(block, list(slots.sire), list(slots.dam));
    const scope = [slots.sire, slots.dam].filter((slot) => slot !== BASE);
    const states = builder.states[own];
    const place = new Int32Array(block.states).fill(-1);
    for (const [index, state] of states.entries()) place[state] = index;
    const table = newTable([...scope, own].map((variable) => builder.size(variable)));
    for (const [row, young] of chances.entries()) {
      for (const [i, state] of young.states.entries()) {
        if (place[state] >= 0) table[row * states.length + place[state]] += young.probabilities[i];
      }
    }
    builder.factor([...scope, own], table);
  }

  private family(blocks: readonly number[], parents: Parents): FoldedYoung {
    const slots = blocks.map((b) => ({ sire: parents.sire[b], dam: parents.dam[b] }));
    const key = `${blocks}|${slots.map(({ sire, dam }) => `${sire},${dam}`)}`;
    let family = this.families.get(key);
    if (!family) {
      family = new FoldedYoung(
        blocks.map((b) => this.blocks[b]),
        slots,
        this.builder,
      );
      this.families.set(key, family);
    }
    return family;
  }

  private foldAnimal(animal: number, parents: Parents | null): void {
    invariant(parents, 'only young with a parent are folded');
    for (const group of this.own.foldedGroups(animal)) {
      const family = this.family(group.blocks, parents);
      if (group.informative || this.own.sexOf(animal) !== null) {
        // Given its sex, a sex-linked block of a silent young still has weight 1 in every combination.
        if (group.informative) family.add(group.m, 1);
      }
      this.readers.push({
        kind: 'folded',
        animal,
        blocks: group.blocks,
        family,
        likelihood: group.m,
      });
      this.addFoldedRecords(animal, group, family);
    }
  }

  private addFoldedRecords(animal: number, group: Group, family: FoldedYoung): void {
    const sex = this.own.sexOf(animal);
    for (const { record, blocks, m, f } of this.own.likelihoods[animal]) {
      if (!group.blocks.includes(blocks[0]) || (m !== f && !sex)) continue;
      const own = spreadOver(
        this.own.soften(sex === 'f' ? f : m),
        blocks,
        group.blocks,
        this.blocks,
      );
      this.recordReaders.push({ record, kind: 'folded', family, likelihood: group.m, own });
    }
  }

  /** Unnamed young of a clutch, counted by what was seen on them. */
  private addCount(index: number, record: ProgramRecord & { kind: 'count' }): void {
    const counted = new Map<FoldedYoung, { likelihood: Float64Array; number: number }[]>();
    const clutches = Array.from(record.clutches);
    const of = clutches.map((clutch) => this.parentsOfClutch(clutch));
    this.logConstant += logWays(record.groups.map((group) => group.number));
    for (const group of record.groups) {
      const seen = this.evidence.countGroup(index, group);
      const joined = this.own.withoutSex([
        {
          blocks: seen.blocks,
          m: this.own.soften(seen.m),
          f: this.own.soften(seen.f),
          informative: true,
          bySex: seen.m !== seen.f,
        },
      ])[0];
      if (group.looks.length === 0 || group.number === 0) continue;
      if (of.length === 1 && of[0].sire) {
        const family = this.family(joined.blocks, { sire: of[0].sire, dam: of[0].dam });
        family.add(joined.m, group.number);
        const groups = counted.get(family) ?? [];
        groups.push({ likelihood: joined.m, number: group.number });
        counted.set(family, groups);
      } else {
        this.addMixedCount(joined, group.number, of, record.weights);
      }
    }
    if (counted.size === 1) {
      const [[family, groups]] = counted;
      this.recordReaders.push({ record: index, kind: 'count', family, groups });
    }
  }

  /** Young that may be of several sires or clutches, alike in looks: one table over all of these parents. */
  private addMixedCount(
    group: Group,
    count: number,
    of: readonly ClutchParents[],
    weights: Float64Array,
  ): void {
    const { builder, blocks } = this;
    const scope: number[] = [];
    const axis = (variable: number): number => {
      const at = scope.indexOf(variable);
      return at >= 0 ? at : scope.push(variable) - 1;
    };
    const terms = of.flatMap((parents, k) => {
      const dams = group.blocks.map((b) => parents.dam[b]);
      const mode = parents.sire ? -1 : parents.mode;
      const males: { chance: readonly number[]; sires: number[] }[] = parents.sire
        ? [{ chance: [1], sires: group.blocks.map((b) => parents.sire![b]) }]
        : parents.sources.map((source, place) => ({
            chance: parents.chance.map((row) => row[place]),
            sires: group.blocks.map((b) => parents.sourceAt(source, b)),
          }));
      return males.map(({ chance, sires }) => {
        const slots = group.blocks.map((_, i) => ({ sire: sires[i], dam: dams[i] }));
        const message = new FoldedYoung(
          group.blocks.map((b) => blocks[b]),
          slots,
          builder,
        ).message(group.m);
        const own = slots.flatMap(({ sire, dam }) => [sire, dam]).filter((slot) => slot !== BASE);
        return {
          message,
          axes: own.map(axis),
          mode: mode < 0 ? -1 : axis(mode),
          chance,
          weight: weights[k],
        };
      });
    });
    const sizes = scope.map((variable) => builder.size(variable));
    const table = newTable(sizes);
    const counter = new Int32Array(scope.length);
    for (let entry = 0; entry < table.length; entry++) {
      let sum = 0;
      for (const { message, axes, mode, chance, weight } of terms) {
        let at = 0;
        for (const a of axes) at = at * sizes[a] + counter[a];
        sum += weight * chance[mode < 0 ? 0 : counter[mode]] * message[at];
      }
      table[entry] = sum ** count;
      for (let k = scope.length - 1; k >= 0; k--) {
        if (++counter[k] < sizes[k]) break;
        counter[k] = 0;
      }
    }
    builder.factor(scope, table);
  }

  private addParentage(index: number, record: ProgramRecord & { kind: 'parentage' }): void {
    const { animal, parent, role, confirmed } = record;
    if (!this.settings.include[animal]) return;
    const weight = (isParent: boolean): number => {
      const right = isParent ? 1 - record.falseExclusion : record.falseConfirmation;
      return this.own.soften(new Float64Array([confirmed ? right : 1 - right]))[0];
    };
    const weighStates = (variable: number, animals: readonly number[]): void => {
      const table = Float64Array.from(animals, (candidate) => weight(candidate === parent));
      this.builder.factor([variable], table);
      this.recordReaders.push({ record: index, kind: 'table', scope: [variable], table });
    };
    const choice = this.choices.find((entry) => entry.animal === animal);
    if (choice && role === 'sire') {
      weighStates(
        choice.variable,
        choice.states.map(({ source }) => source.animal),
      );
      return;
    }
    if (choice) {
      this.addDamTest(choice, parent, weight);
      return;
    }
    const clutch = this.program.clutch[animal];
    if (clutch < 0) {
      const recorded = (role === 'sire' ? this.program.sire : this.program.dam)[animal];
      this.builder.factor([], new Float64Array([weight(recorded === parent)]));
      return;
    }
    const parents = this.parentsOfClutch(clutch);
    const selector = role === 'sire' ? parents.sireSelector : parents.damSelector;
    if (selector) {
      weighStates(selector.variable, selector.animals);
      return;
    }
    const { sires, dams, sireWeights, damWeights } = this.program.clutches[clutch];
    const [list, weights] = role === 'sire' ? [sires, sireWeights] : [dams, damWeights];
    const only = list.findIndex((_, i) => weights[i] > 0);
    this.builder.factor([], new Float64Array([weight(only >= 0 && list[only] === parent)]));
  }

  /** A dam test of a young that chooses its clutch: the dam is that of the clutch chosen. */
  private addDamTest(choice: YoungChoice, parent: number, weight: (is: boolean) => number): void {
    for (const clutch of new Set(choice.states.map((state) => state.clutch))) {
      const { damSelector } = this.parentsOfClutch(clutch);
      const mine = (s: number): boolean => choice.states[s].clutch === clutch;
      if (damSelector) {
        this.builder.fill([choice.variable, damSelector.variable], ([s, d]) =>
          mine(s) ? weight(damSelector.animals[d] === parent) : 1,
        );
      } else {
        const dams = this.program.clutches[clutch].dams;
        const dam = dams.length > 0 ? dams[0] : NOBODY;
        this.builder.fill([choice.variable], ([s]) => (mine(s) ? weight(dam === parent) : 1));
      }
    }
  }
}

/** Every vector from (0, .., 0) to `counts`. */
function countVectors(counts: Int32Array): number[][] {
  let vectors: number[][] = [[]];
  for (const count of counts) {
    vectors = vectors.flatMap((vector) =>
      Array.from({ length: count + 1 }, (_, value) => [...vector, value]),
    );
  }
  return vectors;
}

/** Logarithm of the number of ways in which the young can be shared out over the groups. */
function logWays(numbers: readonly number[]): number {
  let log = 0;
  let total = 0;
  for (const number of numbers) {
    for (let i = 1; i <= number; i++) log += Math.log(++total / i);
  }
  return log;
}
