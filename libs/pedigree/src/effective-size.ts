/**
 * Effective sizes. Each function is one definition; a report says which it shows. All throw
 * RangeError on input outside the stated range.
 */

/** Ne = 4 Nm Nf / (Nm + Nf) from breeding males and females. Source: Wright 1931, Genetics 16:97-159. */
export function neFromSexRatio(males: number, females: number): number {
  if (!(males > 0 && females > 0))
    throw new RangeError('Ne needs at least one male and one female.');
  return (4 * males * females) / (males + females);
}

/**
 * Ne = (4 N - 2) / (Vk + 2) from the variance of family size Vk in a population of constant size N.
 * Source: Wright 1938, Science 87:430-431; Kimura & Crow 1963, Evolution 17:279-288 (from memory).
 */
export function neFromFamilySize(n: number, variance: number): number {
  if (!(n > 0 && variance >= 0))
    throw new RangeError('Ne needs N > 0 and a variance of at least 0.');
  return (4 * n - 2) / (variance + 2);
}

/** Ne over several generations: the harmonic mean of their sizes, which the smallest rules. Source: Wright 1938. */
export function neOverGenerations(sizes: readonly number[]): number {
  if (sizes.length === 0 || sizes.some((size) => !(size > 0))) {
    throw new RangeError('Ne over generations needs sizes above 0.');
  }
  return sizes.length / sizes.reduce((sum, size) => sum + 1 / size, 0);
}

/** Rate of inbreeding a generation, dF = 1 / (2 Ne). Source: Wright 1931. */
export function inbreedingRate(ne: number): number {
  if (!(ne > 0)) throw new RangeError('The rate of inbreeding needs an Ne above 0.');
  return 1 / (2 * ne);
}

/**
 * The rate a year for a generation interval in years: `simple` divides, `compound` is the yearly rate that adds up to the
 * generation's, 1 - (1 - dF)^(1/L).
 */
export function yearlyInbreedingRate(
  perGeneration: number,
  intervalYears: number,
): { simple: number; compound: number } {
  if (!(perGeneration >= 0 && perGeneration <= 1 && intervalYears > 0)) {
    throw new RangeError('The rate a year needs a rate from 0 to 1 and an interval above 0.');
  }
  return {
    simple: perGeneration / intervalYears,
    compound: 1 - (1 - perGeneration) ** (1 / intervalYears),
  };
}

/** Share of heterozygosity expected to be left after a number of generations: (1 - 1/(2 Ne))^t. Source: Wright 1931. */
export function heterozygosityKept(ne: number, generations: number): number {
  return (1 - inbreedingRate(ne)) ** generations;
}

export interface IndividualIncrease {
  /** dF_i by animal. */
  readonly increase: Float64Array;
  /** 1 / (2 x mean dF); Infinity where nobody is inbred. */
  readonly ne: number;
}

/**
 * Ne from the individual increase in inbreeding, dF_i = 1 - (1 - F_i)^(1/x), with t the equivalent complete generations of
 * each animal. `t`: x = t (Gutierrez et al. 2008, Genet. Sel. Evol. 40:359-378, doi 10.1186/1297-9686-40-4-359);
 * `t-1`: x = t - 1 (Gutierrez, Cervantes & Goyache 2009, J. Anim. Breed. Genet. 126:327-332,
 * doi 10.1111/j.1439-0388.2008.00810.x). An animal with F = 0 counts with dF = 0.
 */
export function neFromIndividualIncrease(
  F: ArrayLike<number>,
  equivalentGenerations: ArrayLike<number>,
  exponent: 't' | 't-1',
): IndividualIncrease {
  const less = exponent === 't' ? 0 : 1;
  const increase = Float64Array.from({ length: F.length }, (_, i) => {
    if (F[i] === 0) return 0;
    const x = equivalentGenerations[i] - less;
    if (!(x > 0)) throw new RangeError(`Animal ${i} is inbred but has ${x} generations behind it.`);
    return 1 - (1 - F[i]) ** (1 / x);
  });
  const mean = increase.reduce((sum, each) => sum + each, 0) / increase.length;
  return { increase, ne: 1 / (2 * mean) };
}
