import { Fraction } from '@scutewright/basics';
import type { Chance } from './program-input.js';

/**
 * What is typed beside the young: its true dam as well; nobody else; or neither alleged parent is a parent and
 * the pair is to be excluded.
 */
export type ExclusionCase = 'dam known' | 'dam not typed' | 'both parents false';

/**
 * Chance that one codominant locus, typed without error, excludes a random unrelated male (or pair). By listing genotypes. Formulas for the
 * same: Jamieson & Taylor 1997, Anim. Genet. 28:397, doi 10.1111/j.1365-2052.1997.00186.x. Cost: alleles^6.
 */
export function exclusionProbability(
  frequencies: Readonly<Record<string, Chance>>,
  known: ExclusionCase,
): number {
  const p = Object.values(frequencies).map((chance) => Fraction.parse(chance).toNumber());
  const pairs = p.flatMap((a, i) =>
    p.slice(i).map((b, j) => ({ alleles: [i, i + j], chance: a * b * (j === 0 ? 1 : 2) })),
  );
  let excluded = 0;
  for (const young of pairs) {
    if (known !== 'dam known') {
      excluded += young.chance * excludedWithoutDam(young.alleles, pairs, known);
      continue;
    }
    for (const dam of pairs) {
      for (const [k, allele] of young.alleles.entries()) {
        // Each of the dam's two alleles, half a chance each; the other allele of the young is the sire's.
        if (k === 1 && young.alleles[0] === young.alleles[1]) continue;
        const fromDam = dam.alleles.filter((own) => own === allele).length / 2;
        if (fromDam === 0) continue;
        const fromSire = young.alleles[1 - k];
        const paternal = possibleFromSire(young.alleles, dam.alleles);
        const out = sum(pairs, (male) => !male.alleles.some((own) => paternal.includes(own)));
        excluded += dam.chance * fromDam * p[fromSire] * out;
      }
    }
  }
  return excluded;
}

/** Several independent loci together: 1 minus the chance that none of them excludes. */
export function combinedExclusion(single: readonly number[]): number {
  return 1 - single.reduce((product, value) => product * (1 - value), 1);
}

interface Pair {
  readonly alleles: readonly number[];
  readonly chance: number;
}

function sum(pairs: readonly Pair[], counts: (pair: Pair) => boolean): number {
  return pairs.reduce((total, pair) => (counts(pair) ? total + pair.chance : total), 0);
}

function possibleFromSire(young: readonly number[], dam: readonly number[]): number[] {
  return young.filter((_, k) => dam.includes(young[1 - k]));
}

function excludedWithoutDam(
  young: readonly number[],
  pairs: readonly Pair[],
  known: ExclusionCase,
): number {
  if (known === 'dam not typed') {
    return sum(pairs, (male) => !male.alleles.some((own) => young.includes(own)));
  }
  let out = 0;
  for (const one of pairs) {
    out +=
      one.chance *
      sum(pairs, (other) => {
        const [a, b] = young;
        const fits =
          (one.alleles.includes(a) && other.alleles.includes(b)) ||
          (one.alleles.includes(b) && other.alleles.includes(a));
        return !fits;
      });
  }
  return out;
}
