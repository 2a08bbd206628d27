/** Posteriors as plain data by position; see `Program` for the positions. */
export interface Posteriors {
  /** False when the records cannot all be true; then all else is 0 or empty. */
  readonly possible: boolean;
  readonly logEvidence: number;
  /** Genotypes of all loci together: the row of an animal in `genotypes`. */
  readonly stride: number;
  /** Where each locus begins in a row. */
  readonly offset: Int32Array;
  /** `genotypes[animal * stride + offset[locus] + genotype]`, in the order of `Locus.genotypes`. */
  readonly genotypes: Float64Array;
  /** By young with a choice of parent: candidates (-1 nobody recorded) and their probabilities. */
  readonly sires: ReadonlyMap<number, Candidates>;
  readonly dams: ReadonlyMap<number, Candidates>;
  /** By young that may be of several clutches. */
  readonly clutchesOf: ReadonlyMap<number, Candidates>;
  /** By clutch: combinations of sires, one per listed young, and their probabilities. */
  readonly clutchSires: ReadonlyMap<number, readonly SireCombination[]>;
  readonly clutchDams: ReadonlyMap<number, Candidates>;
  /** Probability that the two lines of each allelism hypothesis are one gene. */
  readonly oneGene: Float64Array;
  /** Probability of being male, by animal of unknown sex whose sex matters for these records. */
  readonly male: ReadonlyMap<number, number>;
  readonly effort: Effort;
}

export interface Candidates {
  readonly animals: Int32Array;
  readonly probabilities: Float64Array;
}

export interface SireCombination {
  readonly sires: Int32Array;
  readonly probability: number;
}

/** What the answer cost and how far it can be trusted. */
export interface Effort {
  /** `states deleted`: states that only a misread explains were left out where they hardly count. `sampled`: see `monteCarloError`. */
  readonly method: 'exact' | 'states deleted' | 'sampled';
  /** Share of the probability of the records that was left out, to first order; 0 when exact. A bound on how far a posterior is off, to that order. */
  readonly deletedMass: number;
  /** Largest standard error of a posterior; 0 unless sampled. */
  readonly monteCarloError: number;
  /** Animals whose parents were taken as independent, because their joint odds were out of reach. */
  readonly roughAnimals: number;
  /** Largest number of variables in one table, minus one; entries of all tables together. */
  readonly width: number;
  readonly entries: number;
  readonly runs: number;
}
