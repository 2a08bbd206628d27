import { FaultsError, type PartialDate } from '@scutewright/basics';

/** Days of incubation = K / (T - T0) at a constant temperature, within the temperatures it rests on. */
export interface RateLine {
  /** Degree-days. */
  readonly K: number;
  /** Degrees C at which development would stand still. */
  readonly T0: number;
  /** Lowest and highest temperature of the records, in degrees C. */
  readonly from: number;
  readonly to: number;
  /** Largest miss of a record, in days; null where the records are not at hand. */
  readonly largestMiss: number | null;
}

export interface IncubationRecord {
  readonly celsius: number;
  /** Mean days from laying to hatching. */
  readonly days: number;
}

/**
 * Least squares of 1/days on the temperature: 1/days = (T - T0)/K. Not for species whose embryos pause, nor beyond
 * the temperature from which the curve flattens. Throws FaultsError `BAD_RECORDS`: fewer than two temperatures, days not above 0,
 * or records in which warmth does not shorten incubation.
 */
export function fitRateLine(records: readonly IncubationRecord[]): RateLine {
  const fail = (message: string): never => {
    throw new FaultsError([
      {
        code: 'BAD_RECORDS',
        message,
        remedy: 'Give the mean days of at least two temperatures.',
        ids: [],
      },
    ]);
  };
  if (records.some(({ celsius, days }) => !(days > 0) || !Number.isFinite(celsius))) {
    fail('An incubation record has no days above 0.');
  }
  const n = records.length;
  const meanT = records.reduce((sum, { celsius }) => sum + celsius, 0) / n;
  const meanRate = records.reduce((sum, { days }) => sum + 1 / days, 0) / n;
  let [across, along] = [0, 0];
  for (const { celsius, days } of records) {
    across += (celsius - meanT) * (1 / days - meanRate);
    along += (celsius - meanT) ** 2;
  }
  if (!(along > 0)) fail('The records are all of one temperature.');
  const slope = across / along;
  if (!(slope > 0)) fail('In these records warmth does not shorten incubation.');
  const K = 1 / slope;
  const T0 = meanT - meanRate * K;
  const temperatures = records.map(({ celsius }) => celsius);
  const line = {
    K,
    T0,
    from: Math.min(...temperatures),
    to: Math.max(...temperatures),
    largestMiss: 0,
  };
  const misses = records.map(({ celsius, days }) => Math.abs(daysAt(line, celsius) - days));
  return { ...line, largestMiss: Math.max(...misses) };
}

/** The line's days at a temperature, without asking whether it holds there. */
export function daysAt(line: Pick<RateLine, 'K' | 'T0'>, celsius: number): number {
  return line.K / (celsius - line.T0);
}

/** Days since 1970-01-01 between which a clutch should hatch. */
export interface HatchWindow {
  readonly earliest: number;
  readonly latest: number;
}

/**
 * When a clutch may hatch: laid on some day of a partial date, kept between two temperatures. Widened on both sides by the largest
 * miss of the records. Null when the temperatures lie outside those of the records: nothing is known there.
 */
export function hatchWindow(
  laid: PartialDate,
  celsius: readonly [number, number],
  line: RateLine,
): HatchWindow | null {
  const [cool, warm] = [Math.min(...celsius), Math.max(...celsius)];
  if (cool < line.from || warm > line.to) return null;
  const miss = line.largestMiss ?? 0;
  return {
    earliest: laid.earliest + Math.floor(daysAt(line, warm) - miss),
    latest: laid.latest + Math.ceil(daysAt(line, cool) + miss),
  };
}

/** The window of a species whose embryos pause: all that can be said is the range ever recorded. No hatch date can be promised. */
export function wideHatchWindow(
  laid: PartialDate,
  range: { readonly fewest: number; readonly most: number },
): HatchWindow {
  return { earliest: laid.earliest + range.fewest, latest: laid.latest + range.most };
}
