export type { GenotypesTogether } from './case-of-pairs.js';
export { type Clashes, clashingRecords } from './clashing-records.js';
export {
  combinedExclusion,
  type ExclusionCase,
  exclusionProbability,
} from './exclusion-probability.js';
export { type Explanation, explainClash, type SlipRates, USUAL_SLIPS } from './explain-clash.js';
export { type GenotypePosteriors, genotypePosteriors } from './genotype-posteriors.js';
export { type InferenceSettings, inferProgram } from './infer-program.js';
export { type JointGenotypes, jointGenotypes, PairGenotypes } from './joint-genotypes.js';
export { type NextStep, nextSteps, type StepSettings } from './next-steps.js';
export { paternityIndex, paternityIndexByLocus, paternityProbability } from './paternity-index.js';
export type { Candidates, Effort, Posteriors, SireCombination } from './posteriors.js';
export type {
  Allelism,
  Clutch,
  CountGroup,
  Find,
  Linkage,
  Paternity,
  Program,
  ProgramRecord,
} from './program.js';
export type { ProgramInput } from './program-input.js';
export { type NamedProgram, readProgram } from './read-program.js';
export { carrierAfterNormals, type TestMate, youngToClear, youngToDoubt } from './test-mating.js';
export { type RecordWeight, type Why, whyGenotype } from './why.js';
