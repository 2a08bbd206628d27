import type {
  LocusDefinition,
  Origin,
  SeasonSettings,
  Sex,
  SpeciesOverrides,
  TraitDefinition,
} from '@scutewright/commands';
import type { PossibleFathers } from '@scutewright/housing';
import type { StayDays } from './stay-days.js';

/** No day known, in the day columns. */
export const NO_DAY = -2147483648;
/** No such row, in the position columns. */
export const NONE = -1;

/**
 * The records of one program at one revision, as columns. Rows are in the order of their
 * codes; positions 0..n-1 stand for animals and clutches everywhere behind the API's
 * border. Numbers lie on shared memory, so that worker threads read them without a copy.
 * Never changed: a later revision gets a snapshot of its own.
 */
export interface Snapshot {
  readonly programId: string;
  readonly programName: string;
  readonly isDemo: boolean;
  readonly revision: number;
  /** Of records as they would be: what is supposed. Absent: as they are. */
  readonly supposition?: string;
  readonly animals: AnimalColumns;
  readonly clutches: ClutchColumns;
  readonly sires: CandidateColumns;
  readonly dams: CandidateColumns;
  readonly loci: readonly LocusRow[];
  readonly traits: readonly TraitRow[];
  readonly locusPairs: readonly LocusPairRow[];
  readonly pens: readonly PenRow[];
  readonly stays: readonly StayRow[];
  /** Colour checks, declarations and lengths, oldest first. */
  readonly colourChecks: readonly ColourCheck[];
  readonly declarations: readonly Declaration[];
  /** Latest straight carapace length in mm by animal position; NaN where never measured. */
  readonly sclMm: Float64Array;
  /** Sex records, by animal position, oldest first. */
  readonly sexRecords: ReadonlyMap<number, readonly SexRecord[]>;
  /** What the program sets of a species in place of what is shipped, by the species' name. */
  readonly speciesSettings: ReadonlyMap<string, SpeciesOverrides>;
  readonly season: SeasonRecords;
}

/** What the seasons added: lots, eggs, who left, what was measured and seen. */
export interface SeasonRecords {
  readonly settings: SeasonSettings;
  readonly lots: readonly LotRow[];
  /** Animals promoted out of lots, by clutch position. */
  readonly promotedByClutch: ReadonlyMap<number, number>;
  /** Young that hatched into lots, by clutch position. */
  readonly hatchedInLots: ReadonlyMap<number, number>;
  /** First and last day on which they did, by clutch position; absent where nobody wrote when. */
  readonly hatchDaysInLots: ReadonlyMap<number, readonly [number, number]>;
  readonly lotStays: readonly {
    readonly lot: number;
    readonly pen: number;
    readonly days: StayDays;
  }[];
  readonly batches: readonly BatchRow[];
  /** Sums over the egg records of a clutch, by clutch position. */
  readonly eggLosses: ReadonlyMap<number, EggLosses>;
  /** Animals that died, left or escaped, by position: the last such record that no return followed. */
  readonly gone: ReadonlyMap<number, Gone>;
  /** By animal position, oldest first. */
  readonly measurements: ReadonlyMap<number, readonly MeasurementRow[]>;
  readonly marks: ReadonlyMap<
    number,
    readonly { readonly scheme: string; readonly text: string; readonly isLost: boolean }[]
  >;
  readonly matings: readonly {
    readonly male: number;
    readonly female: number;
    readonly day: number;
  }[];
  /** Two pens between which animals could pass. */
  readonly breaches: readonly {
    readonly pens: readonly [number, number];
    readonly from: string | null;
    readonly to: string | null;
  }[];
  /** Looks at a clutch or a lot by count: of `looked`, so many showed each trait. */
  readonly countedLooks: readonly CountedLook[];
  readonly tests: readonly {
    readonly id: string;
    readonly animal: number;
    readonly locus: number;
    readonly alleles: readonly string[];
    readonly errorRate: number;
  }[];
  /** Clutches that an animal may be of, where nobody can tell; by animal position. */
  readonly possibleClutches: ReadonlyMap<
    number,
    readonly { readonly clutch: number; readonly probability: number }[]
  >;
  /** Where fathers follow from who was where: the outcome of the rule with its inputs, by clutch position. */
  readonly derivedFathers: ReadonlyMap<number, PossibleFathers>;
  /** When an animal came from elsewhere, by position. */
  readonly arrivals: ReadonlyMap<number, { readonly earliest: number; readonly latest: number }>;
  /** The last day each animal was seen, measured or moved, by position; NO_DAY where never. */
  readonly lastSeen: Int32Array;
}

export interface LotRow {
  readonly id: string;
  readonly code: string;
  readonly species: string;
  readonly count: number;
  /** How many came in of each clutch, by clutch position. */
  readonly clutches: ReadonlyMap<number, number>;
}

export interface BatchRow {
  readonly id: string;
  readonly clutch: number;
  readonly label: string;
  readonly eggs: number;
  readonly setOn: string | null;
  /** Degrees Celsius from a day on, oldest first. */
  readonly warmth: readonly { readonly day: number; readonly celsius: number }[];
}

export interface EggLosses {
  readonly infertile: number;
  readonly diedEarly: number;
  readonly diedLate: number;
  readonly lost: number;
}

export interface Gone {
  readonly how: 'died' | 'left' | 'escaped';
  readonly words: string;
  readonly date: string | null;
  readonly day: number;
}

export interface MeasurementRow {
  readonly kind: 'scl' | 'plastron' | 'curved' | 'mass';
  /** Millimetres, or grams for a mass. */
  readonly value: number;
  readonly date: string | null;
  readonly day: number;
  readonly method: string | null;
}

export interface CountedLook {
  readonly id: string;
  readonly clutches: readonly number[];
  readonly looked: number;
  /** Trait position and how many showed it. */
  readonly seen: readonly (readonly [trait: number, count: number])[];
  readonly isEmbryo: boolean;
}

export interface AnimalColumns {
  readonly count: number;
  readonly ids: readonly string[];
  readonly codes: readonly string[];
  readonly names: readonly (string | null)[];
  readonly species: readonly string[];
  readonly origins: readonly Origin[];
  readonly hatched: readonly (string | null)[];
  /** Days since 1970-01-01; NO_DAY where nothing is known. */
  readonly hatchedEarliest: Int32Array;
  readonly hatchedLatest: Int32Array;
  /** Position of the clutch it hatched from; NONE for a founder. */
  readonly clutch: Int32Array;
  readonly positionById: ReadonlyMap<string, number>;
  readonly positionByCode: ReadonlyMap<string, number>;
}

export interface ClutchColumns {
  readonly count: number;
  readonly ids: readonly string[];
  readonly codes: readonly (string | null)[];
  readonly laid: readonly (string | null)[];
  /** Days since 1970-01-01; NO_DAY where nothing is known. */
  readonly laidEarliest: Int32Array;
  readonly laidLatest: Int32Array;
  /** NONE where not counted. */
  readonly eggs: Int32Array;
  readonly broken: Int32Array;
  readonly notSet: Int32Array;
  readonly pens: readonly (number | null)[];
  readonly species: readonly (string | null)[];
  readonly paternities: readonly ('ONE_SIRE' | 'EACH_OWN_SIRE' | 'MIXED' | 'TWO_SIRES')[];
  /** NaN where the paternity has no rate. */
  readonly rates: Float64Array;
}

/** Candidates of clutch c stand at `from[c] .. from[c + 1] - 1`, most probable first. */
export interface CandidateColumns {
  readonly from: Int32Array;
  readonly animal: Int32Array;
  readonly probability: Float64Array;
  readonly basis: readonly string[];
}

export interface LocusRow {
  readonly id: string;
  readonly code: string;
  readonly name: string;
  readonly definition: LocusDefinition;
}

export interface TraitRow {
  readonly id: string;
  readonly name: string;
  readonly definition: TraitDefinition;
}

/** Two loci (positions) on one chromosome, or two look-alike lines that may be one gene. */
export interface LocusPairRow {
  readonly id: string;
  readonly first: number;
  readonly second: number;
  readonly kind: 'LINKED' | 'ONE_GENE';
  /** Recombination fraction, or the probability before the records; as text, exact. */
  readonly chance: string;
  readonly reason: string | null;
}

export interface PenRow {
  readonly id: string;
  readonly name: string;
  readonly areaM2: number | null;
  readonly isQuarantine: boolean;
  readonly features: readonly string[];
  readonly capacity: number | null;
  /** Its outline in metres; empty where not drawn. */
  readonly corners: readonly { readonly x: number; readonly y: number }[];
  /** Ids of pens with a common fence. */
  readonly sharesFenceWith: readonly string[];
}

export interface StayRow {
  readonly id: string;
  readonly animal: number;
  readonly pen: number;
  readonly days: StayDays;
  readonly from: string | null;
  readonly to: string | null;
}

/** Somebody looked. Of traits in neither list nothing is known. */
export interface ColourCheck {
  readonly id: string;
  readonly animal: number;
  readonly seen: readonly number[];
  /** Looked for, and not seen. */
  readonly absent: readonly number[];
  readonly date: string | null;
  readonly day: number;
}

/** What a seller or a notebook said of an animal's alleles at a locus. */
export interface Declaration {
  readonly id: string;
  readonly animal: number;
  readonly locus: number;
  readonly alleles: readonly string[];
  readonly trust: number;
}

export interface SexRecord {
  readonly id: string;
  readonly sex: Sex;
  readonly date: string | null;
  readonly method: string | null;
}

export function sharedInt32(values: ArrayLike<number>): Int32Array {
  const column = new Int32Array(new SharedArrayBuffer(values.length * 4));
  column.set(values);
  return column;
}

export function sharedFloat64(values: ArrayLike<number>): Float64Array {
  const column = new Float64Array(new SharedArrayBuffer(values.length * 8));
  column.set(values);
  return column;
}
