import { Fraction } from '@scutewright/basics';
import type { Alleles, Unit } from './cross-input.js';
import { pairPosition, singlePosition } from './genotype.js';
import { copiesIn, type Sex } from './locus.js';

/** What one parent hands on at the loci of a unit; null: the other sex chromosome. */
interface Gamete {
  readonly alleles: readonly (number | null)[];
  readonly share: Fraction;
}

/** Genotypes (positions, one per locus of the unit) of a young of one sex, with their chance. */
export interface UnitYoung {
  readonly genotypes: readonly number[];
  readonly share: Fraction;
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
  const young = new Map<string, UnitYoung>();
  for (const a of gametes(unit, sire, 'm', sex)) {
    for (const b of gametes(unit, dam, 'f', sex)) {
      const genotypes = unit.loci.map((locus, i) => {
        const [x, y] = [a.alleles[i], b.alleles[i]];
        return x === null || y === null
          ? singlePosition(locus, (x ?? y)!)
          : pairPosition(locus, x, y);
      });
      const share = a.share.times(b.share);
      const key = genotypes.join();
      const known = young.get(key);
      young.set(key, { genotypes, share: known ? known.share.plus(share) : share });
    }
  }
  return [...young.values()];
}

function gametes(unit: Unit, parent: readonly Alleles[], parentSex: Sex, sex: Sex): Gamete[] {
  if (copiesIn(unit.loci[0], parentSex) === 1) {
    const alleles = parent.map((own) => (sex === parentSex ? null : own[0]));
    return [{ alleles, share: Fraction.one }];
  }
  const [first, second] = parent;
  if (second === undefined) {
    return merged(first.map((allele) => ({ alleles: [allele], share: Fraction.half })));
  }
  const kept = unit.r.complement().times(Fraction.half);
  const crossed = unit.r.times(Fraction.half);
  return merged([
    { alleles: [first[0], second[0]], share: kept },
    { alleles: [first[1]!, second[1]!], share: kept },
    { alleles: [first[0], second[1]!], share: crossed },
    { alleles: [first[1]!, second[0]], share: crossed },
  ]);
}

function merged(list: readonly Gamete[]): Gamete[] {
  const found = new Map<string, Gamete>();
  for (const gamete of list) {
    if (gamete.share.isZero) continue;
    const key = gamete.alleles.join();
    const known = found.get(key);
    found.set(key, known ? { ...known, share: known.share.plus(gamete.share) } : gamete);
  }
  return [...found.values()];
}
