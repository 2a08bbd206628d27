import { blurredPaternity } from './rules/blurred-paternity.js';
import { capacity } from './rules/capacity.js';
import { closeRelatives } from './rules/close-relatives.js';
import { immatureFemales } from './rules/immature-females.js';
import { malesTogether } from './rules/males-together.js';
import { quarantine } from './rules/quarantine.js';
import { sizeGap } from './rules/size-gap.js';
import { space } from './rules/space.js';
import { speciesTogether } from './rules/species-together.js';
import { surplusMales } from './rules/surplus-males.js';
import type { PenFlag, PenRule, Yard } from './yard.js';

/** The rules in the order in which their flags are shown. */
export const PEN_RULES: readonly PenRule[] = [
  speciesTogether,
  quarantine,
  malesTogether,
  surplusMales,
  immatureFemales,
  closeRelatives,
  capacity,
  space,
  blurredPaternity,
  sizeGap,
];

/**
 * Who is in whose way, from when and until when, over the days looked at: every flag of every rule, in the order of the rules and
 * then by the day from which it may be. The rules inform; local codes, permits and a veterinarian prevail.
 * Every animal of a stay must be among the animals. Cost: pairs of animals that share a pen, for each rule.
 */
export function penConflicts(yard: Yard, rules: readonly PenRule[] = PEN_RULES): PenFlag[] {
  return rules.flatMap((rule) =>
    rule
      .check(yard)
      .sort((a, b) =>
        a.possibleFrom < b.possibleFrom ? -1 : a.possibleFrom > b.possibleFrom ? 1 : 0,
      ),
  );
}
