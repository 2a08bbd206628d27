import type { Places } from './read-season.js';
import { at, type Rows } from './read-snapshot.js';
import type { LotRow, SeasonRecords } from './snapshot.js';

/** The lots with their counts: the sums of their books. */
export async function readLots(
  rows: Rows,
  { clutches, pens }: Places,
): Promise<Pick<SeasonRecords, 'lots' | 'lotStays'>> {
  const lots = (await rows('SELECT id, code, species FROM lot ORDER BY code')) as [
    string,
    string,
    string,
  ][];
  const changes = (await rows(
    'SELECT lot_id, clutch_id, sum(count)::int, sum(count) FILTER (WHERE count > 0)::int FROM lot_change GROUP BY lot_id, clutch_id',
  )) as [string, string | null, number, number | null][];
  const stays = (await rows(
    'SELECT lot_id, pen_id, "from", "to" FROM stay WHERE lot_id IS NOT NULL ORDER BY from_earliest NULLS FIRST, id',
  )) as [string, string, string | null, string | null][];
  const lotAt = new Map(lots.map(([id], i) => [id, i]));
  const counts = lots.map(() => 0);
  const of = lots.map(() => new Map<number, number>());
  for (const [lotId, clutchId, sum, came] of changes) {
    const lot = at(lotAt, lotId);
    counts[lot] += sum;
    if (clutchId && came) of[lot].set(at(clutches, clutchId), came);
  }
  return {
    lots: lots.map(
      ([id, code, species], i): LotRow => ({
        id,
        code,
        species,
        count: counts[i],
        clutches: of[i],
      }),
    ),
    lotStays: stays.map(([lotId, penId, from, to]) => ({
      lot: at(lotAt, lotId),
      pen: at(pens, penId),
      from,
      to,
    })),
  };
}
