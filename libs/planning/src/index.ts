export {
  INBREEDING_COSTS,
  type InbreedingCost,
  inbreedingSurvival,
} from './inbreeding-survival.js';
export { type PairingInput, type PairingValue, pairingValue } from './pairing-value.js';
export { type MatesInput, type RankedPairing, rankMates } from './rank-mates.js';
export { jointTarget, type TargetTable, targetApart, targetTable } from './target-odds.js';
