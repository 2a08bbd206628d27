import type { Tx } from '../../db/database.js';
import { sexOf } from '../../snapshot/findings.js';
import { NO_DAY, type Snapshot } from '../../snapshot/snapshot.js';
import { dayOf } from '../records/entry-book.js';
import { type Coming, type SexColumn, type StockEvent, stockOfAnimal } from './stock-book.js';

const COLUMNS = { MALE: 'males', FEMALE: 'females', UNKNOWN: 'unsexed' } as const;
const ENDINGS: Record<string, Omit<Coming, 'day'>> = {
  death: { line: 'died', isIn: false },
  escape: { line: 'lost', isIn: false },
  return: { line: 'arrived', isIn: true },
};
const WAYS_IN = ['BOUGHT', 'RECEIVED', 'CAME_BACK', 'BORROWED'];
/** How a line of a lot's book is named in the stock book; splits and merges come and go at once. */
const LOT_LINES = {
  HATCHED: 'hatched',
  FOUND: 'hatched',
  BOUGHT: 'arrived',
  SPLIT: 'corrected',
  MERGED: 'corrected',
  PROMOTED: 'corrected',
  COUNTED: 'corrected',
  DIED: 'died',
  LOST: 'lost',
  LEFT: 'left',
} as const;

/**
 * Everything that changed the stock of a program, with the number of bought animals whose arrival nobody wrote down:
 * they count from their hatching, or from before all books. Four statements.
 */
export async function readStock(
  tx: Tx,
  snapshot: Snapshot,
): Promise<{ events: StockEvent[]; withoutArrival: number }> {
  const { programId } = snapshot;
  const endings = await tx.observation.findMany({
    where: { programId, kind: { in: Object.keys(ENDINGS) }, animalId: { not: null } },
    select: { animalId: true, kind: true, dateLatest: true },
  });
  const transfers = await tx.transfer.findMany({
    where: { programId, animalId: { not: null } },
    select: { animalId: true, way: true, dateLatest: true },
  });
  const changes = await tx.lotChange.findMany({
    where: { programId },
    select: {
      kind: true,
      count: true,
      animalId: true,
      dateLatest: true,
      lot: { select: { species: true } },
    },
  });
  const dayAt = (date: Date | null) => (date ? dayOf(date) : NO_DAY);
  const comings = new Map<string, Coming[]>();
  const note = (id: string, coming: Coming) => {
    const known = comings.get(id);
    if (known) known.push(coming);
    else comings.set(id, [coming]);
  };
  for (const { animalId, kind, dateLatest } of endings)
    note(animalId!, { ...ENDINGS[kind], day: dayAt(dateLatest) });
  for (const { animalId, way, dateLatest } of transfers) {
    const isIn = WAYS_IN.includes(way);
    note(animalId!, { line: isIn ? 'arrived' : 'left', isIn, day: dayAt(dateLatest) });
  }
  const events: StockEvent[] = changes.map(({ kind, count, dateLatest, lot }) => ({
    species: lot.species,
    column: 'unsexed',
    line: LOT_LINES[kind],
    day: dayAt(dateLatest),
    count,
  }));
  const promoted = new Map(
    changes.flatMap(({ animalId, dateLatest }) =>
      animalId ? [[animalId, dayAt(dateLatest)] as const] : [],
    ),
  );
  const { animals } = snapshot;
  let withoutArrival = 0;
  for (let i = 0; i < animals.count; i++) {
    const id = animals.ids[i];
    const origin = animals.origins[i];
    if (origin === 'ANCESTOR_ONLY') continue;
    const own = comings.get(id) ?? [];
    const first = [...own].sort((a, b) => a.day - b.day)[0];
    const start = promoted.get(id);
    if (start !== undefined) own.push({ day: start, line: 'corrected', isIn: true });
    else if (origin === 'HATCHED_HERE')
      own.push({ day: animals.hatchedLatest[i], line: 'hatched', isIn: true });
    else if (!first?.isIn) {
      withoutArrival++;
      own.push({ day: animals.hatchedLatest[i], line: 'arrived', isIn: true });
    }
    // What came first on paper comes first here: on one day an animal arrives before it leaves.
    own.sort((a, b) => a.day - b.day || Number(b.isIn) - Number(a.isIn));
    const column: SexColumn = COLUMNS[sexOf(snapshot, i)];
    events.push(...stockOfAnimal(animals.species[i], column, own));
  }
  return { events, withoutArrival };
}
