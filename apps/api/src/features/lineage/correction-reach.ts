import type { Tx } from '../../db/database.js';
import { NONE, type Snapshot } from '../../snapshot/snapshot.js';
import { Animal } from '../animals/animal.types.js';
import { youngOf } from '../genes/gene-finding.js';
import type { CorrectionReach, LeftUs } from './reach.types.js';

const OUT: Record<string, string> = {
  SOLD: 'sold',
  GIVEN_AWAY: 'given away',
  LENT: 'lent out',
  SENT_BACK: 'sent back',
};

/**
 * Whom a correction of a clutch's parents reaches: its young, all that descend from them, and those of both that left, with
 * the people who were told otherwise. Cost: descendants, and two statements.
 */
export async function correctionReach(
  tx: Tx,
  snapshot: Snapshot,
  clutch: number,
): Promise<CorrectionReach> {
  const { animals, season, clutches, programId } = snapshot;
  const young = new Set<number>();
  for (let i = 0; i < animals.count; i++) if (isOf(snapshot, i, clutch)) young.add(i);
  const all = new Set(young);
  for (const one of all) for (const next of youngOf(snapshot, one)) all.add(next);
  const lots = season.lots.filter(({ clutches: of }) => of.has(clutch));
  const rows = await tx.transfer.findMany({
    where: {
      programId,
      way: { in: ['SOLD', 'GIVEN_AWAY', 'LENT', 'SENT_BACK'] },
      OR: [
        { animalId: { in: [...all].map((i) => animals.ids[i]) } },
        { lotId: { in: lots.map(({ id }) => id) } },
      ],
    },
    orderBy: [{ dateEarliest: { sort: 'asc', nulls: 'first' } }, { id: 'asc' }],
  });
  const people = await tx.contact.findMany({
    where: { programId, id: { in: rows.flatMap(({ contactId }) => contactId ?? []) } },
    select: { id: true, name: true },
  });
  const nameOf = new Map(people.map(({ id, name }) => [id, name]));
  const left = rows.map((row): LeftUs => {
    const animal = row.animalId ? animals.positionById.get(row.animalId) : undefined;
    return {
      id: row.id,
      animal: animal === undefined ? null : new Animal(snapshot, animal),
      lot: lots.find(({ id }) => id === row.lotId)?.code ?? null,
      count: row.count,
      how: OUT[row.way] ?? '',
      date: row.date,
      contact: row.contactId ? (nameOf.get(row.contactId) ?? null) : null,
    };
  });
  const later = [...all].filter((i) => !young.has(i));
  return {
    sentence: sentenceOf(clutches.codes[clutch] ?? 'This clutch', young.size, later.length, left),
    young: [...young].map((i) => new Animal(snapshot, i)),
    descendants: later.map((i) => new Animal(snapshot, i)),
    left,
  };
}

function isOf({ animals, season }: Snapshot, animal: number, clutch: number): boolean {
  if (animals.clutch[animal] !== NONE) return animals.clutch[animal] === clutch;
  return season.possibleClutches.get(animal)?.some((each) => each.clutch === clutch) ?? false;
}

function sentenceOf(code: string, young: number, later: number, left: readonly LeftUs[]): string {
  if (young + later + left.length === 0) return `Nothing else rests on the parents of ${code} yet.`;
  const people = new Set(left.flatMap(({ contact }) => contact ?? []));
  const gone = left.reduce((sum, { count }) => sum + count, 0);
  const told =
    people.size > 0 ? `: tell ${[...people].join(', ')}` : gone > 0 ? ', nobody wrote to whom' : '';
  const descending = later > 0 ? ` and ${later} descending from them` : '';
  return `The parents of ${code} stand behind ${young} young${descending}; ${gone === 0 ? 'none of them left' : `${gone} of them left`}${told}.`;
}
