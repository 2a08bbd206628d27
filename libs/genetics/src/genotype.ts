import { invariant } from '@scutewright/basics';
import type { Inheritance, Locus, Sex } from './locus.js';

/** What one animal has at one locus. */
export interface Genotype {
  /** `N/a`; a single `a` where hemizygous. */
  readonly text: string;
  /** Positions among the alleles of the locus, ascending: two, or one where hemizygous. */
  readonly alleles: readonly [number, number] | readonly [number];
}

/** How many copies an animal of this sex carries at the locus. */
export function copiesIn(locus: Locus, sex: Sex): 1 | 2 {
  if (locus.inheritance === 'x-linked') return sex === 'm' ? 1 : 2;
  if (locus.inheritance === 'z-linked') return sex === 'f' ? 1 : 2;
  return 2;
}

/** See `Locus.genotypes` for the order. */
export function listGenotypes(alleles: readonly string[], inheritance: Inheritance): Genotype[] {
  const list: Genotype[] = [];
  for (let i = 0; i < alleles.length; i++) {
    for (let j = i; j < alleles.length; j++) {
      list.push({ text: `${alleles[i]}/${alleles[j]}`, alleles: [i, j] });
    }
  }
  if (inheritance !== 'autosomal') {
    for (let i = 0; i < alleles.length; i++) list.push({ text: alleles[i], alleles: [i] });
  }
  return list;
}

/** Where a pair of alleles (either order) stands in `locus.genotypes`. */
export function pairPosition(locus: Locus, first: number, second: number): number {
  const low = Math.min(first, second);
  const high = Math.max(first, second);
  const n = locus.alleles.length;
  return low * n - (low * (low - 1)) / 2 + (high - low);
}

/** Where the single allele of a hemizygous animal stands in `locus.genotypes`. */
export function singlePosition(locus: Locus, allele: number): number {
  const n = locus.alleles.length;
  return (n * (n + 1)) / 2 + allele;
}

/**
 * The positions `from` up to, not including, `to` in `locus.genotypes` that an animal of this sex can have; of
 * unknown sex (null): all.
 */
export function genotypeRange(locus: Locus, sex: Sex | null): { from: number; to: number } {
  const pairs = singlePosition(locus, 0);
  if (sex === null) return { from: 0, to: locus.genotypes.length };
  return copiesIn(locus, sex) === 2
    ? { from: 0, to: pairs }
    : { from: pairs, to: locus.genotypes.length };
}

/**
 * The alleles of a genotype text in the order written, or null where it names an unknown allele or has too
 * many. The order matters only for linked loci: what stands before the slash lies on one chromosome.
 */
export function parseAlleles(locus: Locus, text: string): [number, number] | [number] | null {
  const found = text.split('/').map((name) => locus.alleles.indexOf(name.trim()));
  if (found.includes(-1)) return null;
  if (found.length === 1 && locus.inheritance !== 'autosomal') return [found[0]];
  return found.length === 2 ? [found[0], found[1]] : null;
}

/** Position in `locus.genotypes` of a text such as `a/N` (either order) or `a`, or null where there is none. */
export function parseGenotype(locus: Locus, text: string): number | null {
  const alleles = parseAlleles(locus, text);
  if (!alleles) return null;
  return alleles.length === 2
    ? pairPosition(locus, alleles[0], alleles[1])
    : singlePosition(locus, alleles[0]);
}

/** A possible genotype of a young and its chance in quarters (1 to 4). */
export interface YoungGenotype {
  readonly genotype: number;
  readonly quarters: number;
}

/**
 * Mendel's rule at one locus: genotypes (positions in `locus.genotypes`) of a young of the given sex from a sire
 * and a dam, each once; the quarters sum to 4. Sire and dam must have genotypes of their sex. The sex
 * of the young matters only at a sex-linked locus.
 */
export function youngGenotypes(
  locus: Locus,
  sire: number,
  dam: number,
  youngSex: Sex,
): YoungGenotype[] {
  const fromSire = passedOn(locus, sire, 'm', youngSex);
  const fromDam = passedOn(locus, dam, 'f', youngSex);
  const quarters = new Map<number, number>();
  for (const a of fromSire) {
    for (const b of fromDam) {
      const genotype =
        a === null || b === null ? singlePosition(locus, (a ?? b)!) : pairPosition(locus, a, b);
      quarters.set(
        genotype,
        (quarters.get(genotype) ?? 0) + 4 / (fromSire.length * fromDam.length),
      );
    }
  }
  return [...quarters].map(([genotype, share]) => ({ genotype, quarters: share }));
}

/** The equally likely alleles that a parent hands to a young of that sex; null: the other sex chromosome. */
function passedOn(
  locus: Locus,
  genotype: number,
  parentSex: Sex,
  youngSex: Sex,
): readonly (number | null)[] {
  const { alleles } = locus.genotypes[genotype];
  invariant(
    alleles.length === copiesIn(locus, parentSex),
    `a ${parentSex} parent cannot be ${locus.genotypes[genotype].text} at ${locus.id}`,
  );
  if (alleles.length === 2) return alleles;
  return youngSex === parentSex ? [null] : alleles;
}

/**
 * P(young's genotype | sire, dam) as doubles (exact: quarters and eighths), at
 * `(sire * n + dam) * n + young` with n = `locus.genotypes.length`; 0 where a parent cannot have the genotype. With a young
 * of unknown sex at a sex-linked locus both sexes are taken as equally likely. Memory 8 n^3 bytes.
 */
export function transmissionTable(locus: Locus, youngSex: Sex | null): Float64Array {
  const n = locus.genotypes.length;
  const table = new Float64Array(n * n * n);
  const sexes: readonly Sex[] = youngSex ? [youngSex] : ['m', 'f'];
  const sires = genotypeRange(locus, 'm');
  const dams = genotypeRange(locus, 'f');
  for (const sex of sexes) {
    for (let sire = sires.from; sire < sires.to; sire++) {
      for (let dam = dams.from; dam < dams.to; dam++) {
        for (const { genotype, quarters } of youngGenotypes(locus, sire, dam, sex)) {
          table[(sire * n + dam) * n + genotype] += quarters / 4 / sexes.length;
        }
      }
    }
  }
  return table;
}
