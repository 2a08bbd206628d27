import { type Fault, FaultsError } from '@scutewright/basics';
import { inbreedingSurvival } from './inbreeding-survival.js';

/** What one pairing is expected to do in a season. */
export interface PairingInput {
  readonly clutches: number;
  readonly eggsPerClutch: number;
  /** Chances in [0, 1]: that an egg is fertile, that a fertile one which carries nothing lethal hatches. */
  readonly fertility: number;
  readonly hatch: number;
  /** F of the young = kinship of the parents, in [0, 1]. */
  readonly F: number;
  /** Chance per fertile egg of a living young of the target class (losses to lethal genotypes already taken off). */
  readonly target: number;
  /** Lethal equivalents per diploid; see INBREEDING_COSTS. */
  readonly lethalEquivalents: number;
}

/** The value and its parts, so that each can be shown and questioned. Counts are expectations. */
export interface PairingValue {
  readonly eggs: number;
  readonly fertileEggs: number;
  readonly hatchlings: number;
  /** exp(-B F), relative to young with F = 0. */
  readonly inbreedingSurvival: number;
  readonly healthyHatchlings: number;
  readonly target: number;
  /** Expected healthy target hatchlings: the currency of plans. */
  readonly value: number;
}

/**
 * Expected healthy target hatchlings of a pairing in a season: clutches x eggs x fertility x hatch x exp(-B F) x P(target).
 * Throws FaultsError `BAD_PAIRING` with every number that is out of range.
 */
export function pairingValue(input: PairingInput): PairingValue {
  checkPairing(input);
  const eggs = input.clutches * input.eggsPerClutch;
  const fertileEggs = eggs * input.fertility;
  const hatchlings = fertileEggs * input.hatch;
  const survival = inbreedingSurvival(input.lethalEquivalents, input.F);
  const healthyHatchlings = hatchlings * survival;
  return {
    eggs,
    fertileEggs,
    hatchlings,
    inbreedingSurvival: survival,
    healthyHatchlings,
    target: input.target,
    value: healthyHatchlings * input.target,
  };
}

function checkPairing(input: PairingInput): void {
  const shares = ['fertility', 'hatch', 'F', 'target'] as const;
  const counts = ['clutches', 'eggsPerClutch'] as const;
  const faults: Fault[] = [
    ...shares.filter((key) => !(input[key] >= 0 && input[key] <= 1)),
    ...counts.filter((key) => !(input[key] >= 0 && Number.isFinite(input[key]))),
    ...(Number.isFinite(input.lethalEquivalents) ? [] : (['lethalEquivalents'] as const)),
  ].map((key) => ({
    code: 'BAD_PAIRING',
    message: `${key} is ${input[key]}.`,
    remedy: shares.some((share) => share === key)
      ? 'Give a number from 0 to 1.'
      : 'Give a finite number of at least 0.',
    ids: [],
  }));
  if (faults.length > 0) throw new FaultsError(faults);
}
