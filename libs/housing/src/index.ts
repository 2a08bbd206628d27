export {
  type CandidateSires,
  type ContactInput,
  candidateSires,
  type SireTimelineInput,
} from './candidate-sires.js';
export { type DayRanges, daysFrom, intersection, union, without } from './day-ranges.js';
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
  type AmongMates,
  amongMates,
  forecastSize,
  type GrowthRecord,
  growthRecord,
  type MaturityRange,
  type Measurement,
  maturityRange,
  type NoForecast,
  type SizeForecast,
} from './growth-forecast.js';
export { ifMoved, type PenIfMoved } from './if-moved.js';
export {
  daysAt,
  fitRateLine,
  type HatchWindow,
  hatchWindow,
  type IncubationRecord,
  type RateLine,
  wideHatchWindow,
} from './incubation.js';
export { type ConflictDates, maleConflict } from './male-conflict.js';
export type { StayInput } from './occupancy.js';
export { type MatureFrom, readMatureFrom, readStays, type Stay, together } from './occupancy.js';
export { PEN_RULES, penConflicts } from './pen-conflicts.js';
export {
  DEFAULT_FATHER_RULE,
  type FatherRule,
  type FathersInput,
  type PossibleFather,
  type PossibleFathers,
  possibleFathers,
} from './possible-fathers.js';
export {
  fitSexCurve,
  type SexCount,
  type SexCurve,
  type SexFit,
  shareOfMales,
  transitionalRange,
} from './sex-by-temperature.js';
export {
  type Confidence,
  isShippedSpecies,
  SETTABLE_FACTS,
  type SettableFact,
  type SpeciesFact,
  speciesFacts,
  withoutSubspecies,
} from './species-facts.js';
export { SPECIES_TEMPERATURES, type SpeciesTemperatures } from './species-temperatures.js';
export {
  DEFAULT_PEN_SETTINGS,
  type PenFlag,
  type PenRule,
  type PenSettings,
  type Yard,
  type YardAnimal,
  type YardPen,
} from './yard.js';
