import { genotypeRange } from './genotype.js';
import type { Locus, Sex } from './locus.js';
import { type Trait, traitClass } from './trait.js';

/** What animals of one genotype look like that are of the commonest allele at every other locus. */
export interface GenotypeLook {
  readonly locus: string;
  /** Position in `locus.genotypes`. */
  readonly genotype: number;
  /** Copies of any allele but the first. */
  readonly rareCopies: number;
  /** Traits of this locus that such animals show, in the order of the traits. */
  readonly shows: readonly ShownTrait[];
}

export interface ShownTrait {
  readonly trait: string;
  /** At hatching, and fully grown. */
  readonly young: boolean;
  readonly grown: boolean;
  /** The only sex that shows it; null where both do. */
  readonly sex: Sex | null;
}

/**
 * The look of every genotype of every locus, by the traits that speak of it (each shown or not shown): what a table of a gene
 * prints, and where two traits claim one genotype or none does. Cost: genotypes x traits of the locus.
 */
export function genotypeLooks(
  loci: ReadonlyMap<string, Locus>,
  traits: ReadonlyMap<string, Trait>,
): GenotypeLook[] {
  return [...loci.values()].flatMap((locus) => {
    const own = [...traits.values()].filter((trait) => trait.loci.includes(locus.id));
    return locus.genotypes.map(({ alleles }, genotype) => ({
      locus: locus.id,
      genotype,
      rareCopies: alleles.filter((allele) => allele !== 0).length,
      shows: own.flatMap((trait) => shownBy(trait, locus, genotype, loci)),
    }));
  });
}

function shownBy(
  trait: Trait,
  locus: Locus,
  genotype: number,
  loci: ReadonlyMap<string, Locus>,
): ShownTrait[] {
  const looks = (['m', 'f'] as const)
    .filter((sex) => {
      const { from, to } = genotypeRange(locus, sex);
      return genotype >= from && genotype < to;
    })
    .map((sex) => {
      const genotypes = Object.fromEntries(
        trait.loci.map((id) => [
          id,
          id === locus.id ? genotype : genotypeRange(loci.get(id)!, sex).from,
        ]),
      );
      const at = (ageDays: number) => traitClass(trait, { genotypes, sex, ageDays }) === 0;
      return { sex, young: at(0), grown: at(Number.POSITIVE_INFINITY) };
    });
  const showing = looks.filter(({ young, grown }) => young || grown);
  if (showing.length === 0) return [];
  return [
    {
      trait: trait.id,
      young: showing.some(({ young }) => young),
      grown: showing.some(({ grown }) => grown),
      sex: showing.length === looks.length ? null : showing[0].sex,
    },
  ];
}

/** A genotype that two traits claim, or that none speaks of. */
export interface LookGap {
  readonly locus: string;
  readonly genotype: number;
  /** Names of the traits that claim it; empty where none does. */
  readonly traits: readonly string[];
}

/**
 * Where the traits of a locus clash or leave a gap: a genotype that two traits of this locus alone show at one age and in one sex,
 * and a genotype of rare alleles only that no trait shows. A genotype with one copy of the commonest allele may well look plain: no gap.
 */
export function lookGaps(
  looks: readonly GenotypeLook[],
  traits: ReadonlyMap<string, Trait>,
  loci: ReadonlyMap<string, Locus>,
): LookGap[] {
  return looks.flatMap(({ locus, genotype, rareCopies, shows }) => {
    const copies = loci.get(locus)!.genotypes[genotype].alleles.length;
    if (shows.length === 0) {
      return rareCopies === copies ? [{ locus, genotype, traits: [] }] : [];
    }
    const alone = shows.filter(({ trait }) => traits.get(trait)?.loci.length === 1);
    const clash = alone.filter((one) => alone.some((other) => other !== one && meet(one, other)));
    return clash.length > 0 ? [{ locus, genotype, traits: clash.map(({ trait }) => trait) }] : [];
  });
}

function meet(a: ShownTrait, b: ShownTrait): boolean {
  const sameAge = (a.young && b.young) || (a.grown && b.grown);
  return sameAge && (a.sex === null || b.sex === null || a.sex === b.sex);
}
