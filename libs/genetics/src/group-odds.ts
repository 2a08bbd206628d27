import { FaultsError, Fraction } from '@scutewright/basics';
import { type ClutchInput, readClutches } from './clutch-input.js';
import { clutchOdds } from './clutch-odds.js';
import type { MixtureInput } from './parents-input.js';

export interface GroupInput
  extends Omit<
    ClutchInput,
    'dam' | 'sire' | 'sires' | 'parents' | 'independent' | 'eggs' | 'seen'
  > {
  /** The one male of the group. */
  readonly sire: MixtureInput;
  /** Females that are related to nobody here, each with the eggs of each of her clutches. */
  readonly females: readonly { readonly dam: MixtureInput; readonly eggs: readonly number[] }[];
}

export interface GroupOdds {
  readonly atLeastOne: number;
  /** Null where exact fractions would be too long (see `clutchOdds`). */
  readonly exact: Fraction | null;
  readonly mean: Fraction;
}

/**
 * Chance of at least one of the target from one male with several unrelated females: the females' clutches are
 * independent of each other only given what the male is. Faults as in `clutchOdds`.
 */
export function groupOdds(input: GroupInput): GroupOdds {
  if (input.females.length === 0) {
    throw new FaultsError([
      {
        code: 'BAD_PARENTS',
        message: 'The group has no female.',
        remedy: 'Name at least one with her eggs.',
        ids: [],
      },
    ]);
  }
  const [first] = input.females;
  readClutches({ ...input, dam: first.dam, eggs: first.eggs });
  const males = Array.isArray(input.sire)
    ? input.sire
    : [{ probability: 1, genotypes: input.sire }];
  const { females, ...shared } = input;
  let none = 0;
  let exactNone: Fraction | null = Fraction.zero;
  let mean = Fraction.zero;
  for (const male of males) {
    const weight = Fraction.parse(male.probability);
    const odds = females.map((female) =>
      clutchOdds({ ...shared, sire: male.genotypes, dam: female.dam, eggs: female.eggs }),
    );
    none += odds.reduce((product, { counts }) => product * counts[0], weight.toNumber());
    const product = odds.reduce<Fraction | null>(
      (so, { exact }) => (so && exact ? so.times(exact.counts[0]) : null),
      weight,
    );
    exactNone = exactNone && product ? exactNone.plus(product) : null;
    mean = odds.reduce((sum, each) => sum.plus(each.mean.times(weight)), mean);
  }
  return { atLeastOne: 1 - none, exact: exactNone ? exactNone.complement() : null, mean };
}
