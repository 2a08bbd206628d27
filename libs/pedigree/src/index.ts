export {
  ancestralInbreeding,
  type DroppedInbreeding,
  droppedAncestralInbreeding,
} from './ancestral-inbreeding.js';
export {
  buildPedigree,
  type Candidate,
  type PedigreeOptions,
  type PedigreeRow,
  type PossibleClutch,
} from './build-pedigree.js';
export { type AncestorPath, type CommonAncestors, commonAncestors } from './common-ancestors.js';
export { type Completeness, completeness } from './completeness.js';
export {
  heterozygosityKept,
  type IndividualIncrease,
  inbreedingRate,
  neFromFamilySize,
  neFromIndividualIncrease,
  neFromSexRatio,
  neOverGenerations,
  yearlyInbreedingRate,
} from './effective-size.js';
export {
  type EffectiveAncestors,
  effectiveAncestors,
  type FounderContributions,
  founderContributions,
} from './founder-contributions.js';
export { type DeclaredKin, declareFounderKin } from './founder-kin.js';
export {
  type GenerationInterval,
  generationInterval,
  type PathAges,
  pathAges,
} from './generation-interval.js';
export { inbreeding } from './inbreeding.js';
export { geneDiversity, meanKinship } from './mean-kinship.js';
export { partialInbreeding } from './partial-inbreeding.js';
export { EACH_OWN_SIRE, MIXED, ONE_SIRE, type Paternity, TWO_SIRES } from './paternity.js';
export { type AnimalKey, type Draw, FOUND, idOf, type Pedigree, positionOf } from './pedigree.js';
export { pedigreeFromColumns } from './pedigree-from-columns.js';
export {
  type Line,
  type PedigreeLayout,
  type PlacedPair,
  pedigreeLayout,
} from './pedigree-layout.js';
export { inbreedingOfYoung, relatedness, relatednessBetween } from './relatedness.js';
export {
  type RelatednessFactors,
  relatednessFactors,
  relatednessInverse,
} from './relatedness-factors.js';
export {
  type FigureRange,
  inbreedingRange,
  type RangeOptions,
  relatednessRange,
} from './relatedness-range.js';
export {
  founderRetention,
  type GeneDropOptions,
  type GenomeEquivalents,
  genomeEquivalents,
  type Retention,
} from './retention.js';
export { sexLinkedKinship } from './sex-linked-kinship.js';
export { closeYard, type Supposition, whatIf } from './what-if.js';
