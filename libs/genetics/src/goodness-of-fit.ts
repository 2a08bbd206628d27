import { type Fault, FaultsError, Fraction } from '@scutewright/basics';

export interface Fit {
  /** Sum of (observed - expected)^2 / expected. */
  readonly chiSquare: Fraction;
  readonly degreesOfFreedom: number;
  /** Chance of a chi-square at least as large if the expectation is right. */
  readonly p: number;
}

/**
 * How well counts of young fit what a cross leads one to expect (Pearson's chi-square, classes less one degrees of
 * freedom). `counts` and `probabilities` by class, in the same order; the probabilities add to 1. Small
 * expectations (below about 5) make p rough. Throws FaultsError `BAD_COUNTS`: negative or broken counts, none at all,
 * lists of different length, or a count in a class that cannot occur.
 */
export function goodnessOfFit(counts: readonly number[], probabilities: readonly Fraction[]): Fit {
  checkCounts(counts, probabilities);
  const n = Fraction.of(counts.reduce((sum, count) => sum + count, 0));
  let chiSquare = Fraction.zero;
  let classes = 0;
  for (const [i, probability] of probabilities.entries()) {
    if (probability.isZero) continue;
    classes++;
    const expected = n.times(probability);
    const off = Fraction.of(counts[i]).minus(expected);
    chiSquare = chiSquare.plus(off.times(off).over(expected));
  }
  return fitOf(chiSquare, classes - 1);
}

/** Several independent fits taken together: chi-squares and degrees of freedom add. */
export function togetherFit(fits: readonly Fit[]): Fit {
  return fitOf(
    fits.reduce((sum, fit) => sum.plus(fit.chiSquare), Fraction.zero),
    fits.reduce((sum, fit) => sum + fit.degreesOfFreedom, 0),
  );
}

function fitOf(chiSquare: Fraction, degreesOfFreedom: number): Fit {
  return { chiSquare, degreesOfFreedom, p: chiSquareTail(chiSquare.toNumber(), degreesOfFreedom) };
}

/**
 * P(chi-square with `df` degrees of freedom >= x), by the finite sums for whole df (Abramowitz & Stegun
 * 1964, 26.4.4 and 26.4.5, from memory). df 0: 1. Absolute error below 1e-12 for df up to some hundreds.
 */
export function chiSquareTail(x: number, df: number): number {
  if (df === 0 || x <= 0) return 1;
  const half = x / 2;
  if (df % 2 === 0) {
    let term = Math.exp(-half);
    let sum = term;
    for (let i = 1; i < df / 2; i++) {
      term *= half / i;
      sum += term;
    }
    return sum;
  }
  let sum = normalTailTwoSided(Math.sqrt(x));
  let term = Math.sqrt(x) * Math.exp(-half) * Math.sqrt(2 / Math.PI);
  for (let i = 1; i <= (df - 1) / 2; i++) {
    sum += term;
    term *= x / (2 * i + 1);
  }
  return sum;
}

/** P(|standard normal| >= z): series near 0, continued fraction (Lentz) further out. */
function normalTailTwoSided(z: number): number {
  const density = Math.exp((-z * z) / 2) * Math.sqrt(2 / Math.PI);
  if (z < 3) {
    let term = z;
    let sum = z;
    for (let i = 1; term > 1e-18 * sum; i++) {
      term *= (z * z) / (2 * i + 1);
      sum += term;
    }
    return 1 - density * sum;
  }
  let fraction = z;
  for (let i = 120; i >= 1; i--) fraction = z + i / fraction;
  return density / fraction;
}

function checkCounts(counts: readonly number[], probabilities: readonly Fraction[]): void {
  const faults: Fault[] = [];
  const fault = (message: string, remedy: string): void => {
    faults.push({ code: 'BAD_COUNTS', message, remedy, ids: [] });
  };
  if (counts.length !== probabilities.length) {
    fault(
      `There are ${counts.length} counts for ${probabilities.length} classes.`,
      'Give one count for each class.',
    );
  }
  for (const [i, count] of counts.entries()) {
    if (!Number.isSafeInteger(count) || count < 0) {
      fault(`'${count}' is no count of young.`, 'Give whole numbers of at least 0.');
    } else if (count > 0 && probabilities[i]?.isZero) {
      fault(
        `${count} young are counted in a class that this cross cannot give.`,
        'Look for another sire, mixed eggs, a misread colour or lines that are not the same gene.',
      );
    }
  }
  if (counts.every((count) => count === 0)) fault('No young are counted.', 'Count at least one.');
  if (faults.length > 0) throw new FaultsError(faults);
}
