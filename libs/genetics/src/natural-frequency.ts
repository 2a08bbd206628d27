import { Fraction } from '@scutewright/basics';

/** A chance as people count: `count` of `of`; `about` when that is not the exact chance. */
export interface NaturalFrequency {
  readonly count: number;
  readonly of: number;
  readonly about: boolean;
}

/**
 * A chance as a count out of one denominator, for a page that keeps the same denominator throughout ('5 of 20 eggs'). Never
 * rounded to none or all unless it is 0 or 1: a small chance is 'fewer than 1', `count` 0 with `about`, and a chance just
 * under 1 leaves one out. `chance` in [0, 1]; `of` a whole number of at least 1.
 */
export function outOf(chance: Fraction, of: number): NaturalFrequency {
  const exact = chance.times(Fraction.of(of));
  if (exact.denominator === 1n) return { count: Number(exact.numerator), of, about: false };
  const rounded = Math.round(exact.toNumber());
  return { count: rounded === of ? of - 1 : rounded, of, about: true };
}

/**
 * The simplest way to say a chance: exact where the denominator is at most `most` (20 by default: '2 in 3'), else the
 * count with the smallest denominator that comes within 0.01 ('about 2 in 5'), or the closest up to `most`. Chances
 * below 1/most or above 1 - 1/most are counted out of 100, 1,000, ... instead.
 */
export function simplestFrequency(chance: Fraction, most = 20): NaturalFrequency {
  if (chance.denominator <= BigInt(most)) {
    return {
      count: Number(chance.numerator),
      of: Number(chance.denominator),
      about: false,
    };
  }
  const value = chance.toNumber();
  const rare = Math.min(value, chance.complement().toNumber());
  if (rare < 1 / most) {
    let of = 100;
    while (rare * of < 0.95 && of < 1e15) of *= 10;
    return outOf(chance, of);
  }
  let best: NaturalFrequency = { count: 1, of: 2, about: true };
  for (let of = 2; of <= most; of++) {
    const count = Math.min(of - 1, Math.max(1, Math.round(value * of)));
    const isCloser = Math.abs(count / of - value) < Math.abs(best.count / best.of - value) - 1e-12;
    // A coarser count within one in a hundred is said instead: 'about 2 in 5', not '7 in 17'.
    if (isCloser && Math.abs(best.count / best.of - value) > 0.01)
      best = { count, of, about: true };
  }
  return best;
}
