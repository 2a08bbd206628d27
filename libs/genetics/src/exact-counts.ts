import { Fraction } from '@scutewright/basics';

/** Distribution of a count 0..n: `numerators[k] / denominator`. */
export interface ExactCounts {
  readonly numerators: readonly bigint[];
  readonly denominator: bigint;
}

/** Number of targets among n independent eggs of chance p each. */
export function exactBinomial(n: number, p: Fraction): ExactCounts {
  const hit = p.numerator;
  const miss = p.denominator - p.numerator;
  const misses = [1n];
  for (let k = 0; k < n; k++) misses.push(misses[k] * miss);
  const numerators: bigint[] = [];
  let hits = 1n;
  let choose = 1n;
  for (let k = 0; k <= n; k++) {
    numerators.push(choose * hits * misses[n - k]);
    hits *= hit;
    choose = (choose * BigInt(n - k)) / BigInt(k + 1);
  }
  return { numerators, denominator: p.denominator ** BigInt(n) };
}

/** Number in two independent lots together. */
export function exactSum(a: ExactCounts, b: ExactCounts): ExactCounts {
  const numerators = new Array<bigint>(a.numerators.length + b.numerators.length - 1).fill(0n);
  for (const [i, x] of a.numerators.entries()) {
    for (const [j, y] of b.numerators.entries()) numerators[i + j] += x * y;
  }
  return { numerators, denominator: a.denominator * b.denominator };
}

/** One distribution out of several of equal length, by weights that add to 1. */
export function exactMixture(
  parts: readonly { readonly weight: Fraction; readonly counts: ExactCounts }[],
): ExactCounts {
  const denominator = parts.reduce(
    (common, { weight, counts }) =>
      leastCommonMultiple(common, weight.denominator * counts.denominator),
    1n,
  );
  const numerators = parts[0].counts.numerators.map(() => 0n);
  for (const { weight, counts } of parts) {
    const scale = (denominator / (weight.denominator * counts.denominator)) * weight.numerator;
    for (const [k, numerator] of counts.numerators.entries()) numerators[k] += numerator * scale;
  }
  return { numerators, denominator };
}

function leastCommonMultiple(a: bigint, b: bigint): bigint {
  if (a % b === 0n) return a;
  const shared = Fraction.of(a, b);
  return a * shared.denominator;
}
