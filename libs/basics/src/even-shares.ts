/**
 * Chances of a list of which some are told: those that are not share evenly what is left to 1. Null where the told ones sum to more than 1,
 * or leave nothing to the others. What the answer lacks to 1 (all are told, and sum to less) is nobody's here.
 */
export function evenShares(told: readonly (number | null | undefined)[]): number[] | null {
  const sum = told.reduce<number>((total, chance) => total + (chance ?? 0), 0);
  const open = told.filter((chance) => chance == null).length;
  // Sums such as 0.1 + 0.2 + 0.7 may pass 1 by a rounding step.
  if (sum > 1 + ROUNDING || (open > 0 && sum > 1 - ROUNDING)) return null;
  return told.map((chance) => Math.min(1, chance ?? (1 - sum) / open));
}

const ROUNDING = 1e-9;
