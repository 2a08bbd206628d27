import { at, type Positions, positionsOf } from './positions.js';
import type { ProgramRows } from './program-rows.js';
import type { LotRow, SeasonRecords } from './snapshot.js';
import { openWhereNull } from './stay-days.js';

/** The lots with their counts: the sums of their books. */
export function lotsOf(
  lots: ProgramRows['lots'],
  sums: ProgramRows['lotSums'],
  stays: ProgramRows['lotStays'],
  promoted: ProgramRows['promoted'],
  clutches: Positions,
  pens: Positions,
): Pick<
  SeasonRecords,
  'lots' | 'lotStays' | 'promotedByClutch' | 'hatchedInLots' | 'hatchDaysInLots'
> {
  const lotAt = positionsOf(lots);
  const counts = lots.map(() => 0);
  const of = lots.map(() => new Map<number, number>());
  const hatchedInLots = new Map<number, number>();
  const hatchDaysInLots = new Map<number, readonly [number, number]>();
  for (const [lotId, clutchId, sum, came, hatched, first, last] of sums) {
    const lot = at(lotAt, lotId);
    counts[lot] += sum;
    if (!clutchId) continue;
    const clutch = at(clutches, clutchId);
    if (came) of[lot].set(clutch, came);
    if (hatched) hatchedInLots.set(clutch, (hatchedInLots.get(clutch) ?? 0) + hatched);
    if (first !== null && last !== null) {
      const [from, to] = hatchDaysInLots.get(clutch) ?? [first, last];
      hatchDaysInLots.set(clutch, [Math.min(from, first), Math.max(to, last)]);
    }
  }
  return {
    hatchedInLots,
    hatchDaysInLots,
    promotedByClutch: new Map(promoted.map(([clutchId, count]) => [at(clutches, clutchId), count])),
    lots: lots.map(
      ([id, code, species], i): LotRow => ({
        id,
        code,
        species,
        count: counts[i],
        clutches: of[i],
      }),
    ),
    lotStays: stays.map(([, first, lotId, penId, ...days]) => ({
      lot: at(lotAt, lotId),
      pen: at(pens, penId),
      days: openWhereNull(first, ...days),
    })),
  };
}
