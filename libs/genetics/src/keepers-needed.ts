import { type Fault, FaultsError, Fraction } from '@scutewright/basics';
import { type ClutchInput, readTarget } from './clutch-input.js';
import { type CrossInput, readCross } from './cross-input.js';
import { lookAndCarrier } from './egg-states.js';
import { fewest } from './eggs-needed.js';
import { probability } from './probability.js';
import { type RuleInput, readRule } from './rule.js';

export interface KeepersInput extends CrossInput, Pick<ClutchInput, 'trait' | 'target'> {
  /** Which young are wanted unseen among those kept: a rule over genotypes, the carriers. */
  readonly carrier: RuleInput;
  /** Chance that a hatchling kept lives to breed; 1 by default. */
  readonly survival?: string | number;
  /** Wanted certainty, for example 9/10 (default). */
  readonly level?: string | number;
}

export interface KeepersNeeded {
  /** Fewest hatchlings to keep; null where no number suffices. */
  readonly keep: number | null;
  /** What the chance approaches as more are kept. */
  readonly limit: Fraction;
  /** Chance with n kept, of a carrier of each sex among those that live to breed. */
  chance(n: number): number;
}

/**
 * How many young of one look (`trait` and `target`, say the normal ones, whose sex is not known yet) to keep out of the
 * clutches of one pair, so that with the wanted certainty a carrier of each sex is among those that live to breed.
 * Parents are shared: with weights w over what they are, and c(m), c(f) the chance of a carrier of that sex among the look,
 * P(n) = sum w (1 - (1 - v c(m))^n - (1 - v c(f))^n + (1 - v c(m) - v c(f))^n). It is reckoned before the clutch is seen: parents that
 * cannot give the look are left out. Throws FaultsError with every fault.
 */
export function keepersNeeded(input: KeepersInput): KeepersNeeded {
  const cross = readCross(input);
  const faults: Fault[] = [];
  const look = readTarget(input, cross, faults);
  const carrier = readRule(input.carrier, cross.loci, 'The carrier', faults);
  const survival = probability(input.survival ?? 1, 'The survival', faults);
  const level = probability(input.level ?? '9/10', 'The level', faults);
  if (faults.length > 0) throw new FaultsError(faults);

  const shown = lookAndCarrier(cross, look, carrier).filter((state) => !state.look.isZero);
  const weight = shown.reduce((sum, state) => sum.plus(state.weight), Fraction.zero);
  const states = shown.map((state) => ({
    weight: state.weight.over(weight),
    male: state.male.over(state.look).times(survival),
    female: state.female.over(state.look).times(survival),
  }));
  const limit = states
    .filter(({ male, female }) => !male.isZero && !female.isZero)
    .reduce((sum, state) => sum.plus(state.weight), Fraction.zero);
  const inNumbers = states.map(({ weight: share, male, female }) => ({
    weight: share.toNumber(),
    male: male.toNumber(),
    female: female.toNumber(),
  }));
  const chance = (n: number): number =>
    inNumbers.reduce(
      (sum, state) =>
        sum +
        state.weight *
          (1 -
            (1 - state.male) ** n -
            (1 - state.female) ** n +
            Math.max(0, 1 - state.male - state.female) ** n),
      0,
    );
  // A carrier of each sex is never certain in a finite number, so the limit itself is out of reach.
  const isWithin = level.compare(limit) < 0;
  return { keep: isWithin ? fewest((n) => chance(n) >= level.toNumber()) : null, limit, chance };
}
