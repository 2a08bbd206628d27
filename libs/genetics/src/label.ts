import { Fraction } from '@scutewright/basics';
import { type NaturalFrequency, simplestFrequency } from './natural-frequency.js';

/** What is known of one animal at one locus; probabilities, together at most 1. */
export interface CarrierOdds {
  /** Two copies of the rarer allele. */
  readonly visual: Fraction;
  /** One copy. */
  readonly het: Fraction;
}

/** On what the odds rest. */
export interface LabelBasis {
  /** The genotype follows from a test or from its young, not from its parents alone. */
  readonly proven?: boolean;
  /**
   * The cross it comes from, when sire and dam are certain, their genotypes are certain, and nothing else than its own normal look
   * speaks about it (no test, no offspring, no mates' evidence); else null.
   */
  readonly cross?: 'het x het' | 'het x normal' | null;
  /** No record says anything of it: the odds are those of any founder. */
  readonly unrecorded?: boolean;
  /** The odds are only what a seller said; then no label of ours is given. */
  readonly sellerSaid?: boolean;
}

/** The trade's label. `odds` stands beside every label that is not certain. */
export interface TraitLabel {
  readonly kind:
    | 'visual'
    | 'proven het'
    | '100 % het'
    | '66 % het'
    | '50 % het'
    | 'carries it, one copy or two'
    | 'possible het'
    | 'not carrying'
    | 'not known'
    | 'seller said';
  /** The label with its odds, for the screen. */
  readonly text: string;
  /** Chance of carrying at least one copy: exact, cut to whole per cent (never rounded up), and as a count. */
  readonly carrier: Fraction;
  readonly wholePerCent: number;
  readonly odds: NaturalFrequency;
}

/**
 * The label that the trade would give, and no more: '100 % het' only when certain; '66 % het' and '50 % het' name a cross of certain
 * parents, with no other evidence; everything else that may carry is 'possible het' with its odds, never '41 % het'. Trade
 * usage: common practice, no source. The odds must be exact or cut: a probability of 0.9999 is not certain.
 */
export function traitLabel({ visual, het }: CarrierOdds, basis: LabelBasis = {}): TraitLabel {
  const carrier = visual.plus(het);
  const odds = simplestFrequency(carrier);
  const kind = kindOf({ visual, het }, basis);
  const isOpen = kind === 'possible het' || kind === 'seller said';
  const text = isOpen ? `${kind}: ${saidOdds(odds)}` : kind;
  return { kind, text, carrier, wholePerCent: wholePerCentOf(carrier), odds };
}

function kindOf({ visual, het }: CarrierOdds, basis: LabelBasis): TraitLabel['kind'] {
  if (basis.sellerSaid) return 'seller said';
  if (visual.equals(Fraction.one)) return 'visual';
  if (het.equals(Fraction.one)) return basis.proven ? 'proven het' : '100 % het';
  const carrier = visual.plus(het);
  if (carrier.isZero) return 'not carrying';
  if (carrier.equals(Fraction.one)) return 'carries it, one copy or two';
  if (basis.unrecorded) return 'not known';
  if (visual.isZero && !basis.proven) {
    if (basis.cross === 'het x het' && het.equals(Fraction.of(2, 3))) return '66 % het';
    if (basis.cross === 'het x normal' && het.equals(Fraction.half)) return '50 % het';
  }
  return 'possible het';
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
