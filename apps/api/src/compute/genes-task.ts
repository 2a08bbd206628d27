import { genotypePosteriors, type ProgramInput } from '@scutewright/inference';

export interface GenesAnswer {
  /** False where the records cannot all be true; then `clashes` says which, and the rest is answered without them. */
  readonly isPossible: boolean;
  /** By animal position, locus and genotype: probability; what is impossible is left out. */
  readonly genotypes: Readonly<
    Record<string, Readonly<Record<string, Readonly<Record<string, number>>>>>
  >;
  /** By young whose father is open: candidate position (`unknown`) and probability. */
  readonly sires: Readonly<Record<string, Readonly<Record<string, number>>>>;
  /** Ids of records that cannot all be true: the smallest sets. */
  readonly clashes: readonly (readonly string[])[];
  readonly clashesComplete: boolean;
  /** By pair of look-alike lines: probability that they are one gene. */
  readonly oneGene: Readonly<Record<string, number>>;
  /** How exact the answer is, in words. */
  readonly precision: string;
}

/** Table entries allowed as a power of two: a worker has more time than a page. */
export const SETTINGS = { budgetBits: 25, seed: 1, jointSires: false };

/** Who carries what, and whose young it is. Clashing records are set aside, said so, and the rest is answered. */
export function genesTask(input: ProgramInput): GenesAnswer {
  const found = genotypePosteriors(input, SETTINGS);
  const { method, deletedMass, monteCarloError } = found.effort;
  const precision =
    method === 'exact'
      ? 'exact'
      : method === 'sampled'
        ? `approximate: sampled, standard error up to ${monteCarloError.toPrecision(2)}`
        : `approximate: states that only a misread explains were left out, together ${deletedMass.toPrecision(2)}`;
  return {
    isPossible: found.possible,
    genotypes: found.genotypes,
    sires: found.sires,
    clashes: found.clashes,
    clashesComplete: found.clashesComplete,
    oneGene: found.oneGene,
    precision,
  };
}
