import { FaultsError, Fraction } from '@scutewright/basics';

/** Counts of the four looks of two dominant-recessive loci: both dominant, first only, second only, neither. */
export type FourCounts = readonly [number, number, number, number];

/**
 * Recombination fraction from the young of a double het and a double recessive, parents' phase known: the share of the two
 * recombinant classes. `phase` coupling: both dominant alleles on one chromosome. Throws FaultsError `BAD_COUNTS`.
 */
export function recombinationFromTestCross(
  counts: FourCounts,
  phase: 'coupling' | 'repulsion',
): Fraction {
  checkCounts(counts);
  const [both, first, second, neither] = counts;
  const recombinants = phase === 'coupling' ? first + second : both + neither;
  return Fraction.of(recombinants, both + first + second + neither);
}

/**
 * Recombination fraction from an F2 (double het x double het, same phase, same fraction in both sexes) by maximum
 * likelihood: with theta = (1-r)^2 in coupling, r^2 in repulsion, the looks have probabilities (2+theta)/4, (1-theta)/4,
 * (1-theta)/4, theta/4, and theta is the positive root of n theta^2 - (a - 2b - 2c - d) theta - 2d = 0
 * (Fisher & Balmukand 1928, J. Genet. 20:79-92, from memory). Throws FaultsError `BAD_COUNTS`.
 */
export function recombinationFromF2(
  counts: FourCounts,
  phase: 'coupling' | 'repulsion',
): { readonly theta: number; readonly r: number } {
  checkCounts(counts);
  const [a, b, c, d] = counts;
  const n = a + b + c + d;
  const linear = a - 2 * b - 2 * c - d;
  const theta = (linear + Math.sqrt(linear * linear + 8 * n * d)) / (2 * n);
  const root = Math.sqrt(theta);
  return { theta, r: phase === 'coupling' ? 1 - root : root };
}

function checkCounts(counts: FourCounts): void {
  const isCount = (count: number): boolean => Number.isSafeInteger(count) && count >= 0;
  if (counts.length === 4 && counts.every(isCount) && counts.some((count) => count > 0)) return;
  throw new FaultsError([
    {
      code: 'BAD_COUNTS',
      message: `'${counts.join(', ')}' are not the counts of four looks.`,
      remedy: 'Give four whole numbers of at least 0, one of them above 0.',
      ids: [],
    },
  ]);
}
