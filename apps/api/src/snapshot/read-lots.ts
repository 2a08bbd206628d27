import type { Places } from './read-season.js';
import { at, type Rows, STAY_DAYS, type StayDayColumns } from './read-snapshot.js';
import type { LotRow, SeasonRecords } from './snapshot.js';
import { openWhereNull } from './stay-days.js';

/** The lots with their counts: the sums of their books. */
export async function readLots(
  rows: Rows,
  { clutches, pens }: Places,
): Promise<
  Pick<
    SeasonRecords,
    'lots' | 'lotStays' | 'promotedByClutch' | 'hatchedInLots' | 'hatchDaysInLots'
  >
> {
  const lots = (await rows('SELECT id, code, species FROM lot ORDER BY code')) as [
    string,
    string,
    string,
  ][];
  const changes = (await rows(
    `SELECT lot_id, clutch_id, sum(count)::int, sum(count) FILTER (WHERE count > 0)::int,
       sum(count) FILTER (WHERE kind IN ('HATCHED', 'FOUND'))::int,
       min(date_earliest - DATE '1970-01-01') FILTER (WHERE kind = 'HATCHED'),
       max(date_latest - DATE '1970-01-01') FILTER (WHERE kind = 'HATCHED')
     FROM lot_change GROUP BY lot_id, clutch_id`,
  )) as [
    string,
    string | null,
    number,
    number | null,
    number | null,
    number | null,
    number | null,
  ][];
  const stays = (await rows(
    `SELECT lot_id, pen_id, ${STAY_DAYS} FROM stay WHERE lot_id IS NOT NULL ORDER BY from_earliest NULLS FIRST, id`,
  )) as [string, string, ...StayDayColumns][];
  const promoted = (await rows(
    `SELECT a.clutch_id, count(*)::int FROM lot_change c JOIN animal a ON a.program_id = c.program_id AND a.id = c.animal_id
     WHERE c.kind = 'PROMOTED' AND a.clutch_id IS NOT NULL GROUP BY a.clutch_id`,
  )) as [string, number][];
  const lotAt = new Map(lots.map(([id], i) => [id, i]));
  const counts = lots.map(() => 0);
  const of = lots.map(() => new Map<number, number>());
  const hatchedInLots = new Map<number, number>();
  const hatchDaysInLots = new Map<number, readonly [number, number]>();
  for (const [lotId, clutchId, sum, came, hatched, first, last] of changes) {
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
    lotStays: stays.map(([lotId, penId, ...days]) => ({
      lot: at(lotAt, lotId),
      pen: at(pens, penId),
      days: openWhereNull(...days),
    })),
  };
}
