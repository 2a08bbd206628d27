import { Fraction } from '@scutewright/basics';
import { type NaturalFrequency, simplestFrequency } from './natural-frequency.js';

/** What is known of one animal at one recessive locus; probabilities add to 1. */
export interface RecessiveOdds {
  /** Shows the trait: two copies. */
  readonly visual: Fraction;
  /** Carries one copy unseen. */
  readonly het: Fraction;
}

/** On what the odds rest. */
export interface LabelBasis {
  /** The animal itself was seen to show the trait, or its genotype follows from a test or from its offspring. */
  readonly shown: 'seen' | 'proven' | null;
  /**
   * The cross it comes from, when sire and dam are certain, their genotypes are certain, and nothing else than its own normal look
   * speaks about it (no test, no offspring, no mates' evidence); else null.
   */
  readonly cross: 'het x het' | 'het x normal' | 'other' | null;
  /** The odds are only what a seller said; then no label of ours is given. */
  readonly sellerSaid?: boolean;
}

/** The trade's label. `text` is for the screen; `odds` stands beside every label that is not certain. */
export interface TraitLabel {
  readonly kind:
    | 'visual'
    | 'proven visual'
    | 'proven het'
    | '100 % het'
    | '66 % het'
    | '50 % het'
    | 'possible het'
    | 'possible visual'
    | 'not carrying'
    | 'seller said';
  readonly text: string;
  /** Chance of carrying at least one copy: exact, cut to whole per cent (never rounded up), and as a count. */
  readonly carrier: Fraction;
  readonly wholePerCent: number;
  readonly odds: NaturalFrequency;
}

/**
 * The label that the trade would give, and no more: '100 % het' only when certain; '66 % het' and '50 % het' name a cross of certain
 * parents, with no other evidence; everything else that may carry is 'possible het' with its odds, never '41 % het'. Trade
 * usage: common practice, no source. `odds` must be exact or cut: a probability of 0.9999 is not certain.
 */
export function traitLabel({ visual, het }: RecessiveOdds, basis: LabelBasis): TraitLabel {
  const carrier = visual.plus(het);
  const wholePerCent = wholePerCentOf(carrier);
  const odds = simplestFrequency(carrier);
  const label = (kind: TraitLabel['kind'], text: string = kind): TraitLabel => ({
    kind,
    text,
    carrier,
    wholePerCent,
    odds,
  });
  if (basis.sellerSaid) return label('seller said', `seller said: ${saidOdds(odds)}`);
  if (visual.equals(Fraction.one)) {
    return basis.shown === 'proven' ? label('proven visual') : label('visual');
  }
  if (het.equals(Fraction.one)) {
    return basis.shown === 'proven' ? label('proven het') : label('100 % het');
  }
  if (carrier.isZero) return label('not carrying');
  if (!visual.isZero) return label('possible visual', `possible visual or het: ${saidOdds(odds)}`);
  if (basis.shown === null) {
    if (basis.cross === 'het x het' && het.equals(Fraction.of(2, 3))) return label('66 % het');
    if (basis.cross === 'het x normal' && het.equals(Fraction.half)) return label('50 % het');
  }
  return label('possible het', `possible het: ${saidOdds(odds)}`);
}

/** Per cent cut down to a whole number, in exact arithmetic: 2/3 is 66, 0.29 is 29, 0.9999 is 99. */
export function wholePerCentOf(chance: Fraction): number {
  return Number((chance.numerator * 100n) / chance.denominator);
}

/** `2 in 5`, `about 2 in 5`, `less than 1 in 1,000`. */
export function saidOdds({ count, of, about }: NaturalFrequency): string {
  const whole = of.toLocaleString('en');
  if (count === 0 && about) return `less than 1 in ${whole}`;
  return `${about ? 'about ' : ''}${count.toLocaleString('en')} in ${whole}`;
}
