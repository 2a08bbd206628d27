import { Fraction } from '@scutewright/basics';
import { outOf, simplestFrequency } from '@scutewright/genetics';

/** A chance for a page: as a number, exactly where it is exact, as people count, and of 20 eggs. */
export interface ShareFigure {
  readonly value: number;
  /** `2/3`; null where the chance is not exact. */
  readonly exact: string | null;
  readonly said: string;
  readonly ofTwenty: number;
  readonly about: boolean;
}

/** Fractions with a larger denominator come from posteriors, and are not worth reading. */
const MOST_DENOMINATOR = 4096n;

export function shareFigure(chance: Fraction): ShareFigure {
  const simple = simplestFrequency(chance);
  const twenty = outOf(chance, 20);
  const isExact = chance.denominator <= MOST_DENOMINATOR;
  return {
    value: chance.toNumber(),
    exact: isExact ? chance.toString() : null,
    said: sayFrequency(simple),
    ofTwenty: twenty.count,
    about: twenty.about,
  };
}

/** Finer than one in this many is not said: no record of a breeder's is that sure. */
const FINEST = 1000;

function sayFrequency({ count, of, about }: { count: number; of: number; about: boolean }): string {
  if (of > FINEST) {
    return count * 2 < of ? `fewer than 1 in ${FINEST}` : `more than ${FINEST - 1} in ${FINEST}`;
  }
  if (count === 0 && about) return `fewer than 1 in ${of}`;
  if (count === 0) return 'none';
  if (count === of && !about) return 'all';
  return `${about ? 'about ' : ''}${count} in ${of}`;
}

/** Posteriors are counted in such parts: one denominator for all keeps their sums short. */
const PARTS = 2 ** 40;

/**
 * The simple fraction a double stands for (denominator up to 1,000, within 1e-12): posteriors such as 0.6666666666666667 are
 * 2/3 again. Else the nearest of 2^40 parts, within 1e-12 as well.
 */
export function simpleFraction(value: number): Fraction {
  for (let denominator = 1; denominator <= 1000; denominator++) {
    const numerator = Math.round(value * denominator);
    if (Math.abs(value - numerator / denominator) < 1e-12)
      return Fraction.of(numerator, denominator);
  }
  return Fraction.of(Math.round(value * PARTS), PARTS);
}
