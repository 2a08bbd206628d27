import { CaseInference } from './infer-case.js';
import { type AllelismCase, mixCases } from './mix-cases.js';
import type { Posteriors } from './posteriors.js';
import type { Program } from './program.js';

export interface InferenceSettings {
  /** Table entries that may be computed, as a power of two: 24 (134 MB) while somebody waits, 27 (1 GB) in a worker. */
  readonly budgetBits?: number;
  readonly seed?: number;
  /** Most rounds of the sampler, where it comes to that; it ends earlier once its error is small. */
  readonly rounds?: number;
  /** Also list the joint chances of the sires of a clutch's young. */
  readonly jointSires?: boolean;
  /** By record, 1: leave it out. */
  readonly without?: Uint8Array | null;
}

/**
 * Posterior of every genotype and of every uncertain parent from all records at once. Exact: one network over all loci that
 * share an uncertain parent, a trait or a chromosome; allelism hypotheses are weighed by solving each case.
 */
export function inferProgram(program: Program, settings: InferenceSettings = {}): Posteriors {
  const cases = allelismCases(program);
  const found = cases.map((oneGene) => new CaseInference(program, oneGene, settings).run());
  return mixCases(program, cases, found);
}

export function allelismCases(program: Program): AllelismCase[] {
  let cases: AllelismCase[] = [{ oneGene: [], prior: 1 }];
  for (const { probability } of program.allelism) {
    cases = cases.flatMap(({ oneGene, prior }) => [
      { oneGene: [...oneGene, false], prior: prior * (1 - probability) },
      { oneGene: [...oneGene, true], prior: prior * probability },
    ]);
  }
  return cases.filter(({ prior }) => prior > 0);
}
