/** One straight carapace length on one day (since 1970-01-01). */
export interface Measurement {
  readonly day: number;
  readonly mm: number;
}

/** A size to come: the middle and an interval that should hold it 8 times in 10. Millimetres. */
export interface SizeForecast {
  readonly middle: number;
  readonly low: number;
  readonly high: number;
}

/** Why nothing is forecast, in words. */
export type NoForecast = {
  readonly reason: 'too few measurements' | 'too far ahead';
  readonly detail: string;
};

/** How an animal has grown, and how far ahead that may be carried on. */
export interface GrowthRecord {
  readonly last: Measurement;
  /** Days between the first and the last measurement that count. */
  readonly spanDays: number;
  readonly ratePerYear: number;
  /** Standard deviation of how the next yearly rate may differ, in mm: by the relative changes of the animal and its clutch mates. */
  readonly rateSpread: number;
  /** Changes of rate that the spread rests on. */
  readonly changes: number;
}

const YEAR = 365.25;
/** Measurements closer than this tell nothing of a rate. Chosen by us: no source. */
const LEAST_GAP_DAYS = 60;
const LEAST_SPAN_DAYS = 180;
const LEAST_MEASUREMENTS = 3;
/** Reading error of callipers in millimetres. Chosen by us: no source. */
const READING_ERROR_MM = 1;
/** Where fewer changes of rate than this are known, the spread is at least half the rate. Chosen by us: no source. */
const LEAST_CHANGES = 4;
/** Rates below this count as this, in mm a year, when changes are taken relative to them. Chosen by us: no source. */
const LEAST_RATE = 4;
/** Two-sided 80 % point of the normal. */
const EIGHTY = 1.2815515655446004;

/**
 * How an animal has grown, against its own past and its clutch mates: published curves do not fit these species (Hailey & Lambert,
 * Tropical Zoology; a von Bertalanffy curve does not fit), so none is used. The rate is that between the last three measurements that lie at
 * least 60 days apart. Too little: fewer than three such measurements over 180 days.
 */
export function growthRecord(
  own: readonly Measurement[],
  clutchMates: readonly (readonly Measurement[])[] = [],
): GrowthRecord | NoForecast {
  const kept = apart(own);
  const last = kept.at(-1);
  const spanDays = last ? last.day - kept[0].day : 0;
  if (!last || kept.length < LEAST_MEASUREMENTS || spanDays < LEAST_SPAN_DAYS) {
    return {
      reason: 'too few measurements',
      detail: `${LEAST_MEASUREMENTS} are needed, each ${LEAST_GAP_DAYS} days or more after the one before and ${LEAST_SPAN_DAYS} days from first to last; there ${kept.length === 0 ? 'are none' : kept.length === 1 ? 'is 1' : `are ${kept.length}, over ${spanDays} days`}.`,
    };
  }
  const before = kept[kept.length - LEAST_MEASUREMENTS];
  const ratePerYear = Math.max(0, ((last.mm - before.mm) / (last.day - before.day)) * YEAR);
  const changes = [kept, ...clutchMates.map(apart)].flatMap(rateChanges);
  const meanSquare =
    changes.reduce((sum, change) => sum + change * change, 0) / Math.max(1, changes.length);
  const known = Math.sqrt(meanSquare);
  const relative = changes.length < LEAST_CHANGES ? Math.max(known, 0.5) : known;
  const rateSpread = relative * Math.max(ratePerYear, LEAST_RATE);
  return { last, spanDays, ratePerYear, rateSpread, changes: changes.length };
}

/**
 * The size on a day after the last measurement. Half-width of the interval: 1.28 x sqrt(2 e^2 + (s t)^2) with reading error e, spread of
 * the rate s and t years ahead; never below the last size less the reading error (shells do not shrink). Not further ahead than the record
 * reaches back.
 */
export function forecastSize(record: GrowthRecord, day: number): SizeForecast | NoForecast {
  const ahead = day - record.last.day;
  if (ahead > record.spanDays) {
    return {
      reason: 'too far ahead',
      detail: `The record spans ${record.spanDays} days; ${ahead} days ahead are asked.`,
    };
  }
  return carriedOn(record, Math.max(0, ahead) / YEAR);
}

function carriedOn(record: GrowthRecord, years: number): SizeForecast {
  const { last, ratePerYear, rateSpread } = record;
  const middle = last.mm + ratePerYear * years;
  const half = EIGHTY * Math.sqrt(2 * READING_ERROR_MM ** 2 + (rateSpread * years) ** 2);
  const floor = last.mm - EIGHTY * READING_ERROR_MM;
  return { middle, low: Math.max(floor, middle - half), high: middle + half };
}

/** Days (since 1970-01-01) between which an animal reaches a size; null: not within what the record lets one say. */
export interface MaturityRange {
  /** First day on which it may have the smaller size. */
  readonly possibleFrom: number | null;
  /** First day on which it should have the larger. */
  readonly certainFrom: number | null;
  /** Last day that the record reaches ahead to. */
  readonly knownUntil: number;
}

/**
 * When an animal may be, and should be, mature by size: the ends of the forecast reach the smaller and the larger size at which
 * the breeder holds its sex for mature. A range, not a date; there is no default size (leave it to the user). Reached already: the last measurement's day.
 */
export function maturityRange(
  record: GrowthRecord,
  matureMm: readonly [number, number],
): MaturityRange {
  const [small, large] = [Math.min(...matureMm), Math.max(...matureMm)];
  const reaches = (size: number, of: (forecast: SizeForecast) => number): number | null => {
    for (let ahead = 0; ahead <= record.spanDays; ahead++) {
      if (of(carriedOn(record, ahead / YEAR)) >= size) return record.last.day + ahead;
    }
    return null;
  };
  return {
    possibleFrom: reaches(small, ({ high }) => high),
    certainFrom: record.last.mm >= large ? record.last.day : reaches(large, ({ low }) => low),
    knownUntil: record.last.day + record.spanDays,
  };
}

/** Where an animal stands among its clutch mates on the day of its last measurement. */
export interface AmongMates {
  /** Mates whose size on that day lies between two of their measurements. */
  readonly mates: number;
  readonly smaller: number;
  /** Own size over the median of the mates'; null without mates. */
  readonly ratioToMedian: number | null;
}

export function amongMates(
  last: Measurement,
  clutchMates: readonly (readonly Measurement[])[],
): AmongMates {
  const sizes = clutchMates
    .map((mate) => sizeOn(apart(mate), last.day))
    .filter((size) => size !== null)
    .sort((a, b) => a - b);
  const middle = sizes.length / 2;
  const median =
    sizes.length === 0 ? null : (sizes[Math.ceil(middle) - 1] + sizes[Math.floor(middle)]) / 2;
  return {
    mates: sizes.length,
    smaller: sizes.filter((size) => size < last.mm).length,
    ratioToMedian: median === null ? null : last.mm / median,
  };
}

function sizeOn(kept: readonly Measurement[], day: number): number | null {
  const after = kept.findIndex((each) => each.day >= day);
  if (after === -1) return null;
  if (kept[after].day === day) return kept[after].mm;
  if (after === 0) return null;
  const [a, b] = [kept[after - 1], kept[after]];
  return a.mm + ((b.mm - a.mm) * (day - a.day)) / (b.day - a.day);
}

/** In order of days, each at least 60 days after the one kept before; the last measurement is always kept. */
function apart(measurements: readonly Measurement[]): Measurement[] {
  const sorted = [...measurements].sort((a, b) => b.day - a.day);
  const kept: Measurement[] = [];
  for (const each of sorted) {
    const next = kept.at(-1);
    if (!next || next.day - each.day >= LEAST_GAP_DAYS) kept.push(each);
  }
  return kept.reverse();
}

/** How each rate between two measurements differs from that over the two intervals before it, relative to the latter. */
function rateChanges(kept: readonly Measurement[]): number[] {
  const rate = (a: Measurement, b: Measurement): number => ((b.mm - a.mm) / (b.day - a.day)) * YEAR;
  const changes: number[] = [];
  for (let i = LEAST_MEASUREMENTS; i < kept.length; i++) {
    const before = rate(kept[i - LEAST_MEASUREMENTS], kept[i - 1]);
    changes.push((rate(kept[i - 1], kept[i]) - before) / Math.max(before, LEAST_RATE));
  }
  return changes;
}
