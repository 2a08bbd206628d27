import { describe, expect, it } from '@jest/globals';
import { Fraction } from '@scutewright/basics';
import fc from 'fast-check';

const fractions = fc
  .tuple(
    fc.bigInt({ min: -(10n ** 12n), max: 10n ** 12n }),
    fc.bigInt({ min: 1n, max: 10n ** 12n }),
  )
  .map(([n, d]) => Fraction.of(n, d));

describe('Fraction', () => {
  it('reads fractions and decimals exactly', () => {
    expect(Fraction.parse('2/3').toString()).toBe('2/3');
    expect(Fraction.parse('0.01').toString()).toBe('1/100');
    expect(Fraction.parse('1e-3').toString()).toBe('1/1000');
    expect(Fraction.parse('-.5').toString()).toBe('-1/2');
    expect(Fraction.parse('6/4').toString()).toBe('3/2');
    expect(() => Fraction.parse('half')).toThrow("'half' is not a number");
    expect(() => Fraction.parse('1/0')).toThrow('denominator 0');
    expect(() => Fraction.parse('')).toThrow(RangeError);
  });

  it('is a field', () => {
    fc.assert(
      fc.property(fractions, fractions, fractions, (a, b, c) => {
        expect(
          a
            .plus(b)
            .times(c)
            .equals(a.times(c).plus(b.times(c))),
        ).toBe(true);
        expect(a.minus(a).isZero).toBe(true);
        if (!b.isZero) expect(a.over(b).times(b).equals(a)).toBe(true);
      }),
    );
  });

  it('turns into the nearest double, however many digits it has', () => {
    expect(Fraction.of(1n, 3n).toNumber()).toBe(1 / 3);
    expect(Fraction.of(10n ** 400n, 3n * 10n ** 400n).toNumber()).toBeCloseTo(1 / 3, 15);
    expect(Fraction.of(10n ** 400n + 1n, 3n * 10n ** 400n).toNumber()).toBeCloseTo(1 / 3, 15);
    expect(Fraction.half.power(1074).toNumber()).toBe(2 ** -1074);
    expect(Fraction.of(0n, 7n).toNumber()).toBe(0);
  });
});
