export {
  INBREEDING_COSTS,
  type InbreedingCost,
  inbreedingSurvival,
} from './inbreeding-survival.js';
export { type PairingInput, type PairingValue, pairingValue } from './pairing-value.js';
export { type MatesInput, type RankedPairing, rankMates } from './rank-mates.js';
export { type AnimalOdds, targetChances } from './target-chances.js';
