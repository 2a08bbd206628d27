import type { Fraction } from '@scutewright/basics';
import { copiesIn, pairPosition, singlePosition } from './genotype.js';
import type { Locus, Sex } from './locus.js';

/** Alleles of one animal at one locus, in the order written. */
export type Alleles = readonly [number, number] | readonly [number];

/** Loci that are handed on together: one, or two linked with recombination fraction `r`. */
export interface Unit {
  readonly loci: readonly Locus[];
  readonly r: Fraction;
}

/** What one parent hands on at the loci of a unit; null: the other sex chromosome. Shares are over `gameteParts`. */
interface Gamete {
  readonly alleles: readonly (number | null)[];
  readonly share: bigint;
}

/** Genotypes (positions, one per locus of the unit) of a young of one sex; `share` is over `youngParts`. */
export interface UnitYoung {
  readonly genotypes: readonly number[];
  readonly share: bigint;
}

/** The common denominator of all shares of young at a unit, whatever the parents: 4, or 4 b^2 where r = a/b. */
export function youngParts(unit: Unit): bigint {
  return gameteParts(unit) ** 2n;
}

function gameteParts(unit: Unit): bigint {
  return unit.loci.length === 1 ? 2n : 2n * unit.r.denominator;
}

/**
 * Young at one locus or two linked loci. Where a parent is a double heterozygote, the chromosomes are those before
 * and after the slashes: they stay together with 1 - r (Fisher & Balmukand 1928, J. Genet. 20:79-92, from memory).
 */
export function unitYoung(
  unit: Unit,
  sire: readonly Alleles[],
  dam: readonly Alleles[],
  sex: Sex,
): UnitYoung[] {
  const young = new Map<string, { genotypes: readonly number[]; share: bigint }>();
  for (const a of gametes(unit, sire, 'm', sex)) {
    for (const b of gametes(unit, dam, 'f', sex)) {
      const genotypes = unit.loci.map((locus, i) => {
        const [x, y] = [a.alleles[i], b.alleles[i]];
        return x === null || y === null
          ? singlePosition(locus, (x ?? y)!)
          : pairPosition(locus, x, y);
      });
      const key = genotypes.join();
      const known = young.get(key)?.share ?? 0n;
      young.set(key, { genotypes, share: known + a.share * b.share });
    }
  }
  return [...young.values()];
}

function gametes(unit: Unit, parent: readonly Alleles[], parentSex: Sex, sex: Sex): Gamete[] {
  if (copiesIn(unit.loci[0], parentSex) === 1) {
    const alleles = parent.map((own) => (sex === parentSex ? null : own[0]));
    return [{ alleles, share: gameteParts(unit) }];
  }
  const [first, second] = parent;
  if (second === undefined) return first.map((allele) => ({ alleles: [allele], share: 1n }));
  const crossed = unit.r.numerator;
  const kept = unit.r.denominator - crossed;
  return [
    { alleles: [first[0], second[0]], share: kept },
    { alleles: [first[1]!, second[1]!], share: kept },
    { alleles: [first[0], second[1]!], share: crossed },
    { alleles: [first[1]!, second[0]], share: crossed },
  ].filter(({ share }) => share > 0n);
}
