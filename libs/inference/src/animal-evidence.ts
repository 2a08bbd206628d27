import type { Sex } from '@scutewright/genetics';
import type { Block } from './block.js';
import type { CompileSettings } from './compile-settings.js';
import { type Evidence, type Likelihood, MOST_ENTRIES_PER_ANIMAL, spreadOver } from './evidence.js';
import { newTable } from './network-builder.js';
import { MALE, type Program, UNKNOWN } from './program.js';

/** An animal's evidence, joined by the blocks that belong together. */
export interface Group {
  readonly blocks: readonly number[];
  m: Float64Array;
  f: Float64Array;
  informative: boolean;
  bySex: boolean;
}

/** What the records say of each animal's own genotypes, ready to be multiplied in. */
export class AnimalEvidence {
  /** By animal: its likelihoods record by record. */
  readonly likelihoods: Likelihood[][];
  readonly groups: Group[][];
  /** By `animal block`: what stands in place of the base; `record` -1 where several records made it. */
  readonly priors = new Map<string, { table: Float64Array; record: number }>();
  private readonly blocks: readonly Block[];

  constructor(
    private readonly program: Program,
    private readonly evidence: Evidence,
    private readonly settings: CompileSettings,
  ) {
    this.blocks = evidence.blocks;
    this.likelihoods = Array.from(program.sex, () => []);
    this.groups = this.groupEvidence();
  }

  sexOf(animal: number): Sex | null {
    const sex = this.program.sex[animal];
    return sex === UNKNOWN ? null : sex === MALE ? 'm' : 'f';
  }

  /** Joins each animal's likelihoods into one table per set of blocks that they tie together. */
  private groupEvidence(): Group[][] {
    const { program, evidence, settings } = this;
    const found = this.likelihoods;
    for (const [index, record] of program.records.entries()) {
      if (settings.without?.[index] || record.kind === 'count' || record.kind === 'parentage')
        continue;
      if (!settings.include[record.animal]) continue;
      if (record.kind === 'prior') {
        const block = evidence.blockOf(record.locus);
        const sex = this.sexOf(record.animal);
        const base = this.blocks[block].baseOf(sex);
        const key = `${record.animal} ${block}`;
        const before = this.priors.get(key)?.table ?? base;
        const table = this.soften(evidence.prior(record.locus, record.weights, before, sex));
        this.priors.set(key, { table, record: this.priors.has(key) ? -1 : index });
        continue;
      }
      const likelihood = evidence.likelihood(index);
      if (likelihood) found[record.animal].push(likelihood);
    }
    return found.map((list, animal) => this.joinLikelihoods(list, this.sexOf(animal)));
  }

  private joinLikelihoods(list: readonly Likelihood[], sex: Sex | null): Group[] {
    const groups: Group[] = [];
    for (const { blocks, m, f } of list) {
      const bySex = m !== f && sex === null;
      let group: Group = {
        blocks,
        m: this.soften(sex === 'f' ? f : m),
        f: this.soften(sex === 'm' ? m : f),
        informative: true,
        bySex,
      };
      for (let g = groups.length - 1; g >= 0; g--) {
        if (!groups[g].blocks.some((block) => group.blocks.includes(block))) continue;
        group = this.joinGroups(groups[g], group);
        groups.splice(g, 1);
      }
      groups.push(group);
    }
    return groups;
  }

  private joinGroups(one: Group, other: Group): Group {
    const blocks = [...new Set([...one.blocks, ...other.blocks])].sort((a, b) => a - b);
    this.checkSize(blocks);
    const times = (a: Float64Array, b: Float64Array): Float64Array => {
      const spread = spreadOver(b, other.blocks, blocks, this.blocks);
      return spreadOver(a, one.blocks, blocks, this.blocks).map((value, i) => value * spread[i]);
    };
    const same = one.m === one.f && other.m === other.f;
    const m = times(one.m, other.m);
    return {
      blocks,
      m,
      f: same ? m : times(one.f, other.f),
      informative: one.informative || other.informative,
      bySex: one.bySex || other.bySex,
    };
  }

  private checkSize(blocks: readonly number[]): void {
    const size = blocks.reduce((product, block) => product * this.blocks[block].states, 1);
    if (size > MOST_ENTRIES_PER_ANIMAL) newTable([Number.POSITIVE_INFINITY]);
  }

  soften(table: Float64Array): Float64Array {
    const { soft } = this.settings;
    return soft > 0 && table.includes(0) ? table.map((value) => value || soft) : table;
  }

  /**
   * The groups of a young whose sex nobody knows: what hangs on its sex is tied together, half a chance each. Answered
   * for both sexes at once, over block states that tell the sex where they can.
   */
  withoutSex(groups: readonly Group[]): Group[] {
    const bySex = groups.filter((group) => this.hangsOnSex(group));
    const rest = groups.filter((group) => !this.hangsOnSex(group));
    if (bySex.length === 0) return [...rest];
    const joined = bySex.slice(1).reduce((a, b) => this.joinGroups(a, b), bySex[0]);
    const u = new Float64Array(joined.m.length);
    const states = new Int32Array(joined.blocks.length);
    for (let entry = 0; entry < u.length; entry++) {
      for (const sex of ['m', 'f'] as const) {
        if (joined.blocks.every((block, k) => this.blocks[block].fits(states[k], sex))) {
          u[entry] += joined[sex][entry] / 2;
        }
      }
      for (let k = states.length - 1; k >= 0; k--) {
        if (++states[k] < this.blocks[joined.blocks[k]].states) break;
        states[k] = 0;
      }
    }
    return [...rest, { ...joined, m: u, f: u, bySex: false }];
  }

  private hangsOnSex(group: Group): boolean {
    return group.bySex || group.blocks.some((block) => this.blocks[block].sexLinked);
  }

  /** An animal's groups, with a silent one for every block that no record speaks of. */
  private allGroups(animal: number): Group[] {
    const groups = [...this.groups[animal]];
    for (let b = 0; b < this.blocks.length; b++) {
      if (groups.some((group) => group.blocks.includes(b))) continue;
      const ones = new Float64Array(this.blocks[b].states).fill(1);
      groups.push({ blocks: [b], m: ones, f: ones, informative: false, bySex: false });
    }
    return groups;
  }

  /** The groups of a young without young, ready to be summed out. Silent blocks stay apart: their sex does not matter. */
  foldedGroups(animal: number): Group[] {
    const groups = this.allGroups(animal);
    if (this.sexOf(animal)) return groups.map((group) => this.ofOneSex(group, this.sexOf(animal)!));
    const speaking = groups.filter((group) => group.informative);
    const silent = groups.filter((group) => !group.informative);
    return [...this.withoutSex(speaking), ...silent.flatMap((group) => this.withoutSex([group]))];
  }

  private ofOneSex(group: Group, sex: Sex): Group {
    if (!group.blocks.some((block) => this.blocks[block].sexLinked)) return group;
    const u = this.onlyFitting(group.blocks, group[sex], sex);
    return { ...group, m: u, f: u };
  }

  private onlyFitting(blocks: readonly number[], table: Float64Array, sex: Sex): Float64Array {
    const states = new Int32Array(blocks.length);
    return table.map((value) => {
      const fits = blocks.every((block, k) => this.blocks[block].fits(states[k], sex));
      for (let k = states.length - 1; k >= 0; k--) {
        if (++states[k] < this.blocks[blocks[k]].states) break;
        states[k] = 0;
      }
      return fits ? value : 0;
    });
  }
}
