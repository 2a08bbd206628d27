import { Fraction } from '@scutewright/basics';

export interface EggsNeeded {
  readonly level: Fraction;
  /** Fewest eggs that reach the level; null when it is not attainable. */
  readonly eggs: number | null;
}

/** Longest power that is checked exactly, in binary digits. */
const MOST_EXACT_BITS = 20_000;

/**
 * Fewest eggs for at least one of the target, with parents shared: sum of weight x (1 - (1-p)^n) >= level. Its limit is the
 * weight of the parents that can give the target at all; a level at or above the limit is not attainable (at the limit it is, with one
 * egg, when every such parent is certain to). Decided exactly where the powers are short, else in doubles.
 */
export function eggsNeeded(
  perEgg: readonly { readonly probability: Fraction; readonly weight: Fraction }[],
  levels: readonly Fraction[],
): { readonly eggsNeeded: EggsNeeded[]; readonly limit: Fraction } {
  const giving = perEgg.filter(({ probability }) => !probability.isZero);
  const limit = giving.reduce((sum, { weight }) => sum.plus(weight), Fraction.zero);
  const open = giving.filter(({ probability }) => !probability.equals(Fraction.one));
  const reached = (n: number): Fraction =>
    giving.reduce(
      (sum, { probability, weight }) =>
        sum.plus(weight.times(probability.complement().power(n).complement())),
      Fraction.zero,
    );
  const isReached = (n: number, level: Fraction): boolean => {
    const bits = open.reduce((most, { probability }) => Math.max(most, digits(probability)), 0);
    if (n * bits <= MOST_EXACT_BITS) return reached(n).compare(level) >= 0;
    const missing = open.reduce(
      (sum, { probability, weight }) =>
        sum + weight.toNumber() * Math.exp(n * Math.log1p(-probability.toNumber())),
      0,
    );
    return missing <= limit.minus(level).toNumber();
  };
  const needed = levels.map((level) => {
    if (level.isZero) return { level, eggs: 0 };
    const off = level.compare(limit);
    if (off > 0 || (off === 0 && open.length > 0)) return { level, eggs: null };
    return { level, eggs: fewest((n) => isReached(n, level)) };
  });
  return { eggsNeeded: needed, limit };
}

/** Smallest n >= 1 at which a condition that stays true once true holds; null beyond 2^53. */
export function fewest(holds: (n: number) => boolean): number | null {
  let high = 1;
  while (!holds(high)) {
    high *= 2;
    if (high > Number.MAX_SAFE_INTEGER) return null;
  }
  let low = Math.floor(high / 2);
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (holds(middle)) high = middle;
    else low = middle;
  }
  return high;
}

function digits(value: Fraction): number {
  return value.denominator.toString(2).length;
}
