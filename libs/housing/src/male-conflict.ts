import { dayText, type Fault, FaultsError } from '@scutewright/basics';
import { daysFrom, intersection } from './day-ranges.js';
import {
  type MatureFrom,
  readDate,
  readMatureFrom,
  readStays,
  type Stay,
  type StayInput,
  together,
} from './occupancy.js';

/** From when to when two animals stand in each other's way; texts YYYY-MM-DD. */
export interface ConflictDates {
  /** First day on which it may be; null: never before the horizon. */
  readonly possibleFrom: string | null;
  /** First day on which it surely is. */
  readonly certainFrom: string | null;
  /** First day after it is over; null when there is none or it still stands at the horizon. */
  readonly overOn: string | null;
}

/**
 * From when two males in one pen may fight, from when both surely are mature and together, and until when. Conflict starts when
 * both may be mature: a range of dates, not a switch (common practice, no source). Days as in `Stay`; `horizon` is the first
 * day no longer looked at. Throws FaultsError.
 */
export function maleConflict(input: {
  readonly males: readonly {
    readonly id: string;
    readonly mature_from?: string | readonly [string, string] | null;
  }[];
  readonly stays: readonly StayInput[];
  readonly horizon: string;
}): ConflictDates {
  const faults: Fault[] = [];
  const stays = readStays(input.stays, faults);
  const mature = input.males.map(({ id, mature_from }) => readMatureFrom(mature_from, id, faults));
  const horizon = readDate(input.horizon, 'The horizon', faults).earliest;
  if (input.males.length !== 2) {
    faults.push({
      code: 'BAD_PAIR',
      message: `A conflict is between two males, not ${input.males.length}.`,
      remedy: 'Ask for each pair.',
      ids: input.males.map(({ id }) => id),
    });
  }
  if (faults.length > 0) throw new FaultsError(faults);
  const [a, b] = input.males;
  return conflictDates(stays, [a.id, mature[0]], [b.id, mature[1]], horizon);
}

/** Both mature and in one pen, before the horizon. */
export function conflictDates(
  stays: readonly Stay[],
  [a, matureA]: readonly [string, MatureFrom],
  [b, matureB]: readonly [string, MatureFrom],
  horizon: number,
): ConflictDates {
  const met = together(stays, a, b);
  const possible = intersection(
    met.possible,
    daysFrom(Math.max(matureA.possible, matureB.possible), horizon),
  );
  const certain = intersection(
    met.certain,
    daysFrom(Math.max(matureA.certain, matureB.certain), horizon),
  );
  const end = possible.at(-1)?.[1];
  return {
    possibleFrom: possible.length > 0 ? startText(possible[0][0]) : null,
    certainFrom: certain.length > 0 ? startText(certain[0][0]) : null,
    overOn: end !== undefined && end < horizon ? dayText(end) : null,
  };
}

/** An open start has no day; the year before any that can be written stands for 'from the beginning'. */
function startText(day: number): string {
  return Number.isFinite(day) ? dayText(day) : '0000-01-01';
}
