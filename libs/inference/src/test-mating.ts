import { Fraction } from '@scutewright/basics';
import type { Chance } from './program-input.js';

/** What is thought of a mate at a recessive locus; what the two lack to 1 is 'carries nothing'. */
export interface TestMate {
  readonly visual: Chance;
  readonly het: Chance;
}

/** Young searched at most; what takes more is not attainable in practice. */
const MOST_YOUNG = 2000;

/**
 * Probability that a normal-looking suspect carries a recessive allele after `normal` normal young, and none pale, by one mate.
 * The same mate each time: its own doubt does not shrink with the number of eggs.
 */
export function carrierAfterNormals(suspect: Chance, mate: TestMate, normal: number): Fraction {
  const prior = Fraction.parse(suspect);
  const carrier = prior.times(allNormal(mate, normal));
  const total = carrier.plus(prior.complement());
  return total.isZero ? Fraction.one : carrier.over(total);
}

/**
 * Normal young that bring a suspect down to at most `residual`; null when no number does, because the
 * mate itself may be clear.
 */
export function youngToClear(suspect: Chance, mate: TestMate, residual: Chance): number | null {
  const target = Fraction.parse(residual);
  const clear = Fraction.parse(mate.visual).plus(Fraction.parse(mate.het)).complement();
  const prior = Fraction.parse(suspect);
  // With endless normal young only the clear mate is left as an explanation.
  const limit = prior.times(clear).over(prior.times(clear).plus(prior.complement()));
  for (let normal = 0; normal <= MOST_YOUNG; normal++) {
    if (carrierAfterNormals(suspect, mate, normal).compare(target) <= 0) return normal;
    if (limit.compare(target) >= 0) return null;
  }
  return null;
}

/** Normal young after which a true carrier would have shown itself with probability `confidence`; null as above. */
export function youngToDoubt(mate: TestMate, confidence: Chance): number | null {
  const wanted = Fraction.parse(confidence).complement();
  const clear = Fraction.parse(mate.visual).plus(Fraction.parse(mate.het)).complement();
  for (let normal = 0; normal <= MOST_YOUNG; normal++) {
    if (allNormal(mate, normal).compare(wanted) <= 0) return normal;
    if (clear.compare(wanted) >= 0) return null;
  }
  return null;
}

/** Chance that a carrier and such a mate have only normal young. */
function allNormal(mate: TestMate, normal: number): Fraction {
  const visual = Fraction.parse(mate.visual);
  const het = Fraction.parse(mate.het);
  return visual
    .times(Fraction.half.power(normal))
    .plus(het.times(Fraction.of(3, 4).power(normal)))
    .plus(visual.plus(het).complement());
}
