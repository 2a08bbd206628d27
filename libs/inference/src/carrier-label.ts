import { Fraction } from '@scutewright/basics';
import type { Chance } from './program-input.js';

/**
 * A probability in whole per cent, never rounded up: 0.9999 is 99, and 0.29 is 29 although its double times 100 is 28.99.. A number is read by its
 * shortest decimal form, a text exactly.
 */
export function wholePerCent(probability: Chance): number {
  const { numerator, denominator } = Fraction.parse(probability).times(Fraction.of(100));
  return Number(numerator / denominator);
}

/** What is known of how a normal-looking animal came by its odds. */
export interface LabelBasis {
  /** The animal is out of a cross of certain parents, the sire certain, and nothing but its own look is known of it. */
  readonly plainCross: boolean;
}

/**
 * The trade's word for a normal-looking animal that carries one copy with this probability: `100 % het` only when
 * certain; `66 % het` and `50 % het` only as names of the plain crosses that give exactly these; else `possible het` or, at 0, `not carrying`.
 */
export function carrierLabel(probability: Chance, basis: LabelBasis): string {
  const p = Fraction.parse(probability);
  if (p.equals(Fraction.one)) return '100 % het';
  if (p.isZero) return 'not carrying';
  if (basis.plainCross) {
    const near = (exact: Fraction): boolean => Math.abs(p.minus(exact).toNumber()) < 1e-9;
    if (near(Fraction.of(2, 3))) return '66 % het';
    if (near(Fraction.half)) return '50 % het';
  }
  return 'possible het';
}
