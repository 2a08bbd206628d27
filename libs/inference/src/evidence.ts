import { invariant } from '@scutewright/basics';
import { decidedClass, type Rule, type Sex, settleClasses } from '@scutewright/genetics';
import type { Block } from './block.js';
import type { CountGroup, Program, ProgramRecord } from './program.js';

/** Entries of a table over the states of one animal's blocks, at most. */
export const MOST_ENTRIES_PER_ANIMAL = 2 ** 18;

/**
 * What a record says of one animal's genotypes: a likelihood over the states of `blocks` (row-major, last fastest), for a male
 * and for a female; the same table twice where the sex does not matter.
 */
export interface Likelihood {
  readonly record: number;
  readonly blocks: readonly number[];
  readonly m: Float64Array;
  readonly f: Float64Array;
}

/** Turns records into likelihoods over block states. One per program and set of blocks. */
export class Evidence {
  private readonly blockOfLocus: Int32Array;
  private readonly placeInBlock: Int32Array;
  private readonly looks = new Map<string, { blocks: number[]; classes: Float64Array[] }>();

  constructor(
    private readonly program: Program,
    readonly blocks: readonly Block[],
  ) {
    this.blockOfLocus = new Int32Array(program.loci.length);
    this.placeInBlock = new Int32Array(program.loci.length);
    for (const [b, block] of blocks.entries()) {
      for (const [place, locus] of block.loci.entries()) {
        this.blockOfLocus[locus] = b;
        this.placeInBlock[locus] = place;
      }
    }
  }

  blockOf(locus: number): number {
    return this.blockOfLocus[locus];
  }

  /** By state of the locus's block, the position of the genotype at the locus. */
  genotypesByState(locus: number): Int32Array {
    return this.blocks[this.blockOfLocus[locus]].genotypeOf[this.placeInBlock[locus]];
  }

  /** The likelihood of a record about an animal's own genotype; null for a record about something else. */
  likelihood(index: number): Likelihood | null {
    const record = this.program.records[index];
    switch (record.kind) {
      case 'phenotype':
        return this.phenotype(index, [{ trait: record.trait, seen: record.seen }], record);
      case 'dna':
        return this.byGenotype(index, record.locus, this.dnaWeights(record));
      case 'claim': {
        const { genotypes } = this.program.loci[record.locus];
        const weights = genotypes.map((_, genotype) =>
          record.genotypes.includes(genotype) ? record.trust : 1 - record.trust,
        );
        return this.byGenotype(index, record.locus, weights);
      }
      case 'likelihood':
        return this.byGenotype(index, record.locus, record.weights);
      default:
        return null;
    }
  }

  /**
   * Chance that a grown animal of this genotype shows the first class of a trait, its other loci as the base has them and
   * either sex alike.
   */
  shownGiven(trait: number, locus: number, genotype: number): number {
    let [sum, total] = [0, 0];
    for (const sex of ['m', 'f'] as const) {
      const { blocks, classes } = this.look(trait, sex, Number.POSITIVE_INFINITY);
      const own = this.genotypesByState(locus);
      const states = new Int32Array(blocks.length);
      for (let entry = 0; entry < classes[0].length; entry++) {
        let weight = 1;
        for (const [k, b] of blocks.entries()) {
          const mine = b === this.blockOfLocus[locus];
          weight *= mine
            ? Number(own[states[k]] === genotype)
            : this.blocks[b].base[sex][states[k]];
        }
        sum += weight * classes[0][entry];
        total += weight;
        for (let k = blocks.length - 1; k >= 0; k--) {
          if (++states[k] < this.blocks[blocks[k]].states) break;
          states[k] = 0;
        }
      }
    }
    return total > 0 ? sum / total : 0;
  }

  /** The likelihood of what was seen on one unnamed young of a count. */
  countGroup(index: number, group: CountGroup): Likelihood {
    const record = this.program.records[index];
    invariant(record.kind === 'count', 'only counts have groups');
    return this.phenotype(index, group.looks, record);
  }

  /**
   * A prior in place of Hardy-Weinberg at a locus, by state of its block. The other loci of the block stay as
   * `before` (Hardy-Weinberg, or that with another prior) has them given this locus.
   */
  prior(
    locus: number,
    weights: ArrayLike<number>,
    before: Float64Array,
    sex: Sex | null,
  ): Float64Array {
    const genotypes = this.genotypesByState(locus);
    const sums = (base: Float64Array): Map<number, number> => {
      const total = new Map<number, number>();
      for (const [state, value] of base.entries()) {
        total.set(genotypes[state], (total.get(genotypes[state]) ?? 0) + value);
      }
      return total;
    };
    const rare = this.blocks[this.blockOfLocus[locus]].rareBaseOf(this.placeInBlock[locus], sex);
    const [known, unknown] = [sums(before), sums(rare)];
    return before.map((value, state) => {
      const genotype = genotypes[state];
      const total = known.get(genotype)!;
      const share = total > 0 ? value / total : rare[state] / (unknown.get(genotype) || 1);
      return weights[genotype] * share;
    });
  }

  private byGenotype(record: number, locus: number, weights: ArrayLike<number>): Likelihood {
    const table = Float64Array.from(this.genotypesByState(locus), (genotype) => weights[genotype]);
    return { record, blocks: [this.blockOfLocus[locus]], m: table, f: table };
  }

  private dnaWeights(record: ProgramRecord & { kind: 'dna' }): number[] {
    const locus = this.program.loci[record.locus];
    const block = this.blocks[this.blockOfLocus[record.locus]];
    const reported = locus.genotypes[record.genotype].alleles.length;
    const alike = locus.genotypes.filter((g) => g.alleles.length === reported).length;
    if (record.model === 'uniform') {
      const other = alike > 1 ? record.error / (alike - 1) : 0;
      return locus.genotypes.map((genotype, position) =>
        position === record.genotype
          ? 1 - record.error
          : genotype.alleles.length === reported
            ? other
            : 0,
      );
    }
    const byState = this.genotypesByState(record.locus);
    const sex = block.sexLinked
      ? block.base.m.some((p, s) => p > 0 && byState[s] === record.genotype)
        ? 'm'
        : 'f'
      : 'm';
    let drawn = 0;
    for (let state = 0; state < block.states; state++) {
      if (byState[state] === record.genotype) drawn += block.base[sex][state];
    }
    return locus.genotypes.map((genotype, position) => {
      if (genotype.alleles.length !== reported) return 0;
      return record.error * drawn + (position === record.genotype ? 1 - record.error : 0);
    });
  }

  private phenotype(
    record: number,
    looks: readonly { readonly trait: number; readonly seen: number }[],
    how: { readonly misread: number; readonly ageDays: number },
  ): Likelihood {
    const blocks = [
      ...new Set(looks.flatMap(({ trait }) => this.look(trait, 'm', how.ageDays).blocks)),
    ].sort((a, b) => a - b);
    const bySex = looks.some(({ trait }) => this.program.traits[trait].bySex);
    const table = (sex: Sex): Float64Array => {
      let product: Float64Array | null = null;
      for (const { trait, seen } of looks) {
        const look = this.look(trait, sex, how.ageDays);
        const weights = seenWeights(look.classes, seen, how.misread);
        const spread = spreadOver(weights, look.blocks, blocks, this.blocks);
        product = product ? product.map((value, i) => value * spread[i]) : spread;
      }
      return product ?? new Float64Array([1]);
    };
    const m = table('m');
    return { record, blocks, m, f: bySex ? table('f') : m };
  }

  /** The blocks a trait depends on and, by class, the chance of showing it in each combination of their states. */
  private look(
    traitIndex: number,
    sex: Sex,
    ageDays: number,
  ): { blocks: number[]; classes: Float64Array[] } {
    const trait = this.program.traits[traitIndex];
    const age = trait.ages.filter((from) => ageDays >= from).length;
    const key = `${traitIndex} ${trait.bySex ? sex : ''} ${age}`;
    let look = this.looks.get(key);
    if (!look) {
      const rules = settleClasses(settleClasses(trait.rules, { ageDays }), { sex });
      const loci = trait.loci.map((id) => this.program.loci.findIndex((locus) => locus.id === id));
      const blocks = [...new Set(loci.map((locus) => this.blockOfLocus[locus]))].sort(
        (a, b) => a - b,
      );
      const size = blocks.reduce((product, b) => product * this.blocks[b].states, 1);
      invariant(size <= MOST_ENTRIES_PER_ANIMAL, `the trait ${trait.id} is over too many loci`);
      const classes = trait.classes.map(() => new Float64Array(size));
      if (!classes[trait.rules.length]) classes.push(new Float64Array(size));
      const states = new Int32Array(blocks.length);
      for (let entry = 0; entry < size; entry++) {
        for (const version of this.compoundVersions(blocks, states)) {
          let left: readonly Rule[] = rules;
          for (const [k, b] of blocks.entries()) {
            for (const [place, locus] of this.blocks[b].loci.entries()) {
              const genotype = version.genotypes[k][place];
              left = settleClasses(left, { locus: this.program.loci[locus].id, genotype });
            }
          }
          const shown = decidedClass(left);
          invariant(shown !== null, `the trait ${trait.id} is decided by its own loci`);
          classes[shown][entry] += version.weight;
        }
        for (let k = blocks.length - 1; k >= 0; k--) {
          if (++states[k] < this.blocks[blocks[k]].states) break;
          states[k] = 0;
        }
      }
      look = { blocks, classes };
      this.looks.set(key, look);
    }
    return look;
  }

  /**
   * What an animal's states count as when a rule is asked. Only a compound of two lines taken as one gene
   * counts as something else than itself: as visual of the one line, and of the other, half each. Where both lines show a
   * trait it is sure to; where one does, it is even odds. That is our modelling choice, no source.
   */
  private compoundVersions(
    blocks: readonly number[],
    states: Int32Array,
  ): { weight: number; genotypes: number[][] }[] {
    let versions: { weight: number; genotypes: number[][] }[] = [{ weight: 1, genotypes: [] }];
    for (const [k, b] of blocks.entries()) {
      const block = this.blocks[b];
      const pair = block.haplotypesOf[states[k]];
      const own = block.genotypeOf.map((genotypes) => genotypes[states[k]]);
      const counted = block.isCompound(states[k])
        ? pair.map((haplotype) => {
            const visual = block.stateOf(haplotype, haplotype);
            return block.genotypeOf.map((genotypes) => genotypes[visual]);
          })
        : [own];
      versions = versions.flatMap((version) =>
        counted.map((genotypes) => ({
          weight: version.weight / counted.length,
          genotypes: [...version.genotypes, genotypes],
        })),
      );
    }
    return versions;
  }
}

function seenWeights(
  classes: readonly Float64Array[],
  seen: number,
  misread: number,
): Float64Array {
  const right = classes[seen];
  if (classes.length === 1) return right.map(() => 1);
  const other = misread / (classes.length - 1);
  return right.map((p) => p * (1 - misread) + (1 - p) * other);
}

/** A table over some blocks' states as one over more blocks. */
export function spreadOver(
  table: Float64Array,
  from: readonly number[],
  to: readonly number[],
  blocks: readonly Block[],
): Float64Array {
  if (from.length === to.length) return table;
  const size = to.reduce((product, b) => product * blocks[b].states, 1);
  const result = new Float64Array(size);
  const states = new Int32Array(to.length);
  for (let entry = 0; entry < size; entry++) {
    let source = 0;
    for (const [k, b] of to.entries()) {
      if (from.includes(b)) source = source * blocks[b].states + states[k];
    }
    result[entry] = table[source];
    for (let k = to.length - 1; k >= 0; k--) {
      if (++states[k] < blocks[to[k]].states) break;
      states[k] = 0;
    }
  }
  return result;
}
