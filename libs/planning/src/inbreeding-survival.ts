/** A published figure of inbreeding cost, in lethal equivalents per diploid (2B). */
export interface InbreedingCost {
  readonly id: string;
  readonly lethalEquivalents: number;
  readonly source: string;
  /** What it was measured on: no figure for any reptile was found. */
  readonly measuredOn: string;
}

/** Shipped choices; the first is the default. The user may set any number; negative ones occur in single species. */
export const INBREEDING_COSTS: readonly InbreedingCost[] = [
  {
    id: 'ralls-median',
    lethalEquivalents: 3.14,
    source:
      'Ralls, Ballou & Templeton 1988, Conserv. Biol. 2:185-193, median (third digit from memory)',
    measuredOn: 'juvenile survival, 38 mammal species in zoos; no reptile figure',
  },
  {
    id: 'ralls-mean',
    lethalEquivalents: 4.6,
    source: 'Ralls, Ballou & Templeton 1988, Conserv. Biol. 2:185-193, mean',
    measuredOn: 'juvenile survival, 38 mammal species in zoos; no reptile figure',
  },
  {
    id: 'ogrady-whole-life',
    lethalEquivalents: 12.29,
    source:
      "O'Grady et al. 2006, Biol. Conserv. 133:42-51, doi 10.1016/j.biocon.2006.05.016 (decimals from memory)",
    measuredOn: 'whole life, birds and mammals; no reptile figure',
  },
  { id: 'none', lethalEquivalents: 0, source: 'no cost counted', measuredOn: 'nothing' },
];

/**
 * Survival of inbred young relative to young with F = 0: exp(-B F), with B *half* the lethal equivalents per diploid
 * (Morton, Crow & Muller 1956, PNAS 42:855-863). `F` in [0, 1]; any finite number of equivalents. Throws RangeError otherwise.
 */
export function inbreedingSurvival(lethalEquivalentsPerDiploid: number, F: number): number {
  if (!(F >= 0 && F <= 1) || !Number.isFinite(lethalEquivalentsPerDiploid)) {
    throw new RangeError(`F ${F} is not in 0 to 1, or ${lethalEquivalentsPerDiploid} no number`);
  }
  return Math.exp((-lethalEquivalentsPerDiploid / 2) * F);
}
