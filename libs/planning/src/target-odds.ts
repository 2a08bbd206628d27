import { type CrossInput, crossOdds, genotypeRange, readLoci } from '@scutewright/genetics';

/** Chance of the target for every pair of genotypes at one locus: `sire * genotypes + dam` (positions in `Locus.genotypes`). */
export interface TargetTable {
  readonly genotypes: number;
  readonly chance: Float64Array;
}

/**
 * P(living young of a class of a trait | sire's genotype, dam's genotype) per fertile egg, for traits of one locus: lets thousands of
 * pairings be reckoned from posteriors without a cross each. Rows of genotypes that a sex cannot have stay 0. Faults as in `crossOdds`.
 */
export function targetTable(
  definitions: Pick<CrossInput, 'loci' | 'traits' | 'lethal' | 'maleShare'>,
  trait: string,
  target: string,
): TargetTable {
  const [locus] = readLoci(definitions.loci).values();
  const n = locus.genotypes.length;
  const chance = new Float64Array(n * n);
  const sires = genotypeRange(locus, 'm');
  const dams = genotypeRange(locus, 'f');
  for (let sire = sires.from; sire < sires.to; sire++) {
    for (let dam = dams.from; dam < dams.to; dam++) {
      const odds = crossOdds({
        ...definitions,
        sire: { [locus.id]: locus.genotypes[sire].text },
        dam: { [locus.id]: locus.genotypes[dam].text },
      });
      const living = odds.loss.complement();
      const among = odds.traits[trait].classes[target];
      chance[sire * n + dam] = living.isZero ? 0 : among.times(living).toNumber();
    }
  }
  return { genotypes: n, chance };
}

/**
 * Chance of the target for a pairing whose parents' evidence is *not* shared (unrelated as far as the locus is concerned): their posteriors, by position in
 * `Locus.genotypes`, are multiplied. For parents that are related or share evidence use their joint distribution, `jointTarget`.
 */
export function targetApart(
  table: TargetTable,
  sire: ArrayLike<number>,
  dam: ArrayLike<number>,
): number {
  let sum = 0;
  for (let s = 0; s < table.genotypes; s++) {
    if (sire[s] === 0) continue;
    let row = 0;
    for (let d = 0; d < table.genotypes; d++) row += table.chance[s * table.genotypes + d] * dam[d];
    sum += sire[s] * row;
  }
  return sum;
}

/** The same from the joint distribution, at `sire * genotypes + dam`. */
export function jointTarget(table: TargetTable, joint: ArrayLike<number>): number {
  let sum = 0;
  for (let at = 0; at < table.chance.length; at++) sum += table.chance[at] * joint[at];
  return sum;
}
