import { invariant } from '@scutewright/basics';
import {
  copiesIn,
  type Locus,
  pairPosition,
  type Sex,
  singlePosition,
} from '@scutewright/genetics';

/** Loci that are inherited together: one, or several on a chromosome, with the haplotypes they can form. */
export interface BlockDefinition {
  readonly loci: readonly number[];
  /** Alleles by haplotype, one per locus of the block. */
  readonly haplotypes: readonly (readonly number[])[];
  /** Frequency of each haplotype in the base population. */
  readonly frequencies: readonly number[];
  /** By locus of the block: the same with that locus's alleles of frequency 0 taken as merely rare. */
  readonly rareFrequencies: readonly (readonly number[])[];
  /** Recombination fraction between each locus and the next. */
  readonly recombination: readonly number[];
  /** True where the loci are taken as one gene: an animal with mutants of two of them is a compound. */
  readonly allelic: boolean;
}

/** States of one animal at a block: pairs of haplotypes, then, where sex-linked, single ones. */
export class Block {
  readonly loci: readonly number[];
  readonly states: number;
  readonly sexLinked: boolean;
  readonly allelic: boolean;
  /** Haplotypes of each state: two, or one where hemizygous. */
  readonly haplotypesOf: readonly (readonly number[])[];
  /** By locus of the block, then state: the position of the genotype at that locus. */
  readonly genotypeOf: readonly Int32Array[];
  /** Hardy-Weinberg probability of each state for the one sex and for the other. */
  readonly base: BySex;
  private readonly rareBase: readonly BySex[];
  private readonly alleleOf: readonly (readonly number[])[];
  private readonly recombination: readonly number[];
  private readonly copies: { readonly m: 1 | 2; readonly f: 1 | 2 };
  private readonly known = new Map<number, Young>();

  constructor(definition: BlockDefinition, loci: readonly Locus[]) {
    const { haplotypes, frequencies } = definition;
    this.loci = definition.loci;
    this.alleleOf = haplotypes;
    this.recombination = definition.recombination;
    this.allelic = definition.allelic;
    const first = loci[definition.loci[0]];
    this.copies = { m: copiesIn(first, 'm'), f: copiesIn(first, 'f') };
    this.sexLinked = first.inheritance !== 'autosomal';
    const list: number[][] = [];
    for (let i = 0; i < haplotypes.length; i++) {
      for (let j = i; j < haplotypes.length; j++) list.push([i, j]);
    }
    if (this.sexLinked) for (let i = 0; i < haplotypes.length; i++) list.push([i]);
    this.haplotypesOf = list;
    this.states = list.length;
    this.genotypeOf = definition.loci.map((locus, k) =>
      Int32Array.from(list, (pair) =>
        pair.length === 2
          ? pairPosition(loci[locus], haplotypes[pair[0]][k], haplotypes[pair[1]][k])
          : singlePosition(loci[locus], haplotypes[pair[0]][k]),
      ),
    );
    const pair = (by: readonly number[]) => ({
      m: this.hardyWeinberg(by, 'm'),
      f: this.hardyWeinberg(by, 'f'),
    });
    this.base = pair(frequencies);
    this.rareBase = definition.rareFrequencies.map(pair);
  }

  /** Whether an animal of that sex (null: either) can be in the state. */
  fits(state: number, sex: Sex | null): boolean {
    return sex === null || this.haplotypesOf[state].length === this.copies[sex];
  }

  /** Alleles of a state at a locus of the block: those of its first haplotype before those of its second, at every locus. */
  allelesOf(state: number, place: number): number[] {
    return this.haplotypesOf[state].map((haplotype) => this.alleleOf[haplotype][place]);
  }

  private hardyWeinberg(frequencies: readonly number[], sex: Sex): Float64Array {
    return Float64Array.from(this.haplotypesOf, (pair) => {
      if (pair.length !== this.copies[sex]) return 0;
      const [a, b] = pair;
      if (b === undefined) return frequencies[a];
      return frequencies[a] * frequencies[b] * (a === b ? 1 : 2);
    });
  }

  /** Hardy-Weinberg by state given the sex; of unknown sex at a sex-linked block, given the sex each state belongs to. */
  baseOf(sex: Sex | null): Float64Array {
    return this.either(this.base, sex);
  }

  /** The same with alleles of frequency 0 at one locus of the block taken as merely rare. */
  rareBaseOf(place: number, sex: Sex | null): Float64Array {
    return this.either(this.rareBase[place], sex);
  }

  private either(base: BySex, sex: Sex | null): Float64Array {
    if (sex) return base[sex];
    return this.sexLinked ? base.m.map((value, state) => value + base.f[state]) : base.m;
  }

  /** `m` or `f` where the state can only belong to that sex, else null. */
  sexOf(state: number): Sex | null {
    if (this.copies.m === this.copies.f) return null;
    return this.haplotypesOf[state].length === this.copies.m ? 'm' : 'f';
  }

  /**
   * The states a young of these parents can have and their probabilities, at a sex-linked block given the sex that each state
   * belongs to; empty where a parent cannot be of its sex. Kept once asked for.
   */
  young(sire: number, dam: number): Young {
    const key = sire * this.states + dam;
    let young = this.known.get(key);
    if (!young) {
      young = this.cross(sire, dam);
      this.known.set(key, young);
    }
    return young;
  }

  private cross(sire: number, dam: number): Young {
    const found = new Map<number, number>();
    if (this.fits(sire, 'm') && this.fits(dam, 'f')) {
      const fromSire = this.gametesOf(this.haplotypesOf[sire]);
      const fromDam = this.gametesOf(this.haplotypesOf[dam]);
      const sexes: readonly Sex[] = this.sexLinked ? ['m', 'f'] : ['m'];
      for (const sex of sexes) {
        for (const [a, p] of this.passes('m', sex) ? fromSire : NOTHING) {
          for (const [b, q] of this.passes('f', sex) ? fromDam : NOTHING) {
            const state = this.stateOf(a, b);
            found.set(state, (found.get(state) ?? 0) + p * q);
          }
        }
      }
    }
    return { states: [...found.keys()], probabilities: [...found.values()] };
  }

  /** Whether a parent of that sex hands on the chromosome of this block to a young of that sex. */
  private passes(parent: Sex, young: Sex): boolean {
    return this.copies[parent] === 2 || parent !== young;
  }

  /** Whether the animal has one mutant of each of two loci that are taken as one gene. */
  isCompound(state: number): boolean {
    if (!this.allelic) return false;
    const [a, b] = this.haplotypesOf[state].map((haplotype) =>
      this.alleleOf[haplotype].findIndex((allele) => allele > 0),
    );
    return a >= 0 && b !== undefined && b >= 0 && a !== b;
  }

  /** State of two haplotypes, or of one where the other is -1. */
  stateOf(a: number, b: number): number {
    const h = this.alleleOf.length;
    if (a < 0 || b < 0) return (h * (h + 1)) / 2 + Math.max(a, b);
    const low = Math.min(a, b);
    return low * h - (low * (low - 1)) / 2 + Math.abs(a - b);
  }

  /** Haplotypes of a gamete and their probabilities: the first locus from either, then a switch with each recombination. */
  private gametesOf(pair: readonly number[]): Gametes {
    const [one, two] = [pair[0], pair[1] ?? pair[0]];
    if (one === two) return [[one, 1]];
    const k = this.loci.length;
    const found = new Map<number, number>();
    for (let choice = 0; choice < 2 ** k; choice++) {
      let probability = 0.5;
      for (let i = 1; i < k; i++) {
        const switched = ((choice >> i) & 1) !== ((choice >> (i - 1)) & 1);
        probability *= switched ? this.recombination[i - 1] : 1 - this.recombination[i - 1];
      }
      if (probability === 0) continue;
      const alleles = this.alleleOf[one].map((allele, i) =>
        (choice >> i) & 1 ? this.alleleOf[two][i] : allele,
      );
      const haplotype = this.alleleOf.findIndex((known) => known.every((a, i) => a === alleles[i]));
      invariant(haplotype >= 0, 'a gamete is one of the haplotypes of its block');
      found.set(haplotype, (found.get(haplotype) ?? 0) + probability);
    }
    return [...found];
  }
}

type Gametes = readonly (readonly [haplotype: number, probability: number])[];
/** What a parent hands on that gives its other sex chromosome. */
const NOTHING: Gametes = [[-1, 1]];

interface BySex {
  readonly m: Float64Array;
  readonly f: Float64Array;
}

export interface Young {
  readonly states: readonly number[];
  readonly probabilities: readonly number[];
}
