export { type ClutchInput, MOST_EGGS, type PaternityInput } from './clutch-input.js';
export { type AtLeastOne, type ClutchOdds, clutchOdds } from './clutch-odds.js';
export { type CrossInput, readCross } from './cross-input.js';
export {
  type Chances,
  type CrossOdds,
  type CrossOddsInput,
  crossOdds,
  type Look,
  type TraitOdds,
} from './cross-odds.js';
export type { EggsNeeded } from './eggs-needed.js';
export {
  copiesIn,
  type Genotype,
  genotypeRange,
  pairPosition,
  parseAlleles,
  parseGenotype,
  singlePosition,
  transmissionTable,
  type YoungGenotype,
  youngGenotypes,
} from './genotype.js';
export {
  type GenotypeLook,
  genotypeLooks,
  type LookGap,
  lookGaps,
  type ShownTrait,
} from './genotype-looks.js';
export { chiSquareTail, type Fit, goodnessOfFit, togetherFit } from './goodness-of-fit.js';
export { type GroupInput, type GroupOdds, groupOdds } from './group-odds.js';
export { type KeepersInput, type KeepersNeeded, keepersNeeded } from './keepers-needed.js';
export {
  type CarrierOdds,
  type LabelBasis,
  saidOdds,
  type TraitLabel,
  traitLabel,
  wholePerCentOf,
} from './label.js';
export {
  type Inheritance,
  type Locus,
  type LocusInput,
  MOST_ALLELES,
  readLoci,
  type Sex,
} from './locus.js';
export { type NaturalFrequency, outOf, simplestFrequency } from './natural-frequency.js';
export type { GenotypesInput, MixtureInput, ParentsInput } from './parents-input.js';
export { isNearlyOne, readProbability } from './probability.js';
export {
  type FourCounts,
  recombinationFromF2,
  recombinationFromTestCross,
} from './recombination.js';
export {
  ALWAYS,
  all,
  any,
  genotypeRule,
  type Known,
  NEVER,
  not,
  type Rule,
  type RuleInput,
  type RuleSubjects,
  readRule,
  settle,
  subjectsOf,
  unknownGenotype,
} from './rule.js';
export { readRuleText, writeRuleText } from './rule-text.js';
export {
  decidedClass,
  formKey,
  type Looked,
  readTraits,
  settleClasses,
  type Trait,
  type TraitInput,
  traitClass,
} from './trait.js';
