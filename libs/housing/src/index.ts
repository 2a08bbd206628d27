export {
  type CandidateSires,
  type ContactInput,
  candidateSires,
  type SireTimelineInput,
} from './candidate-sires.js';
export {
  ARIZONA,
  type AreaRule,
  arizonaFloor,
  type FloorArea,
  GERMANY_1997,
  germanFloor,
  SWITZERLAND_2001,
  swissFloor,
} from './floor-area.js';
export {
  daysAt,
  fitRateLine,
  type HatchWindow,
  hatchWindow,
  type IncubationRecord,
  type RateLine,
} from './incubation.js';
export { type ConflictDates, maleConflict } from './male-conflict.js';
export type { StayInput } from './occupancy.js';
export {
  fitSexCurve,
  type SexCount,
  type SexCurve,
  type SexFit,
  shareOfMales,
  transitionalRange,
} from './sex-by-temperature.js';
