export type { AnimalIndex, Branded, Grams, Millimetres } from './brand.js';
export { chanceWords } from './chance-words.js';
export { evenShares } from './even-shares.js';
export { type Fault, FaultsError } from './faults.js';
export { Fraction } from './fraction.js';
export { invariant } from './invariant.js';
export { nearest } from './nearest.js';
export {
  dayNumber,
  dayText,
  type PartialDate,
  parsePartialDate,
} from './partial-date.js';
export { type Random, seededRandom } from './random.js';
