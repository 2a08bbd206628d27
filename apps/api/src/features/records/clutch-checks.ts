import type { Tx } from '../../db/database.js';
import { counted, dayOf, type EntryBook } from './entry-book.js';

export type ClutchRow = Awaited<ReturnType<EntryBook['clutch']>>;

/** Refuses a thing done with eggs or young of a clutch before it was laid. */
export function refuseBeforeLaying(book: EntryBook, clutch: ClutchRow, place: string): void {
  if (!book.on || !clutch.laidEarliest || book.on.latest >= dayOf(clutch.laidEarliest)) return;
  throw book.fault(
    `${clutch.code} was laid on ${clutch.laid}, after ${book.on.text}.`,
    place,
    'Correct the day, or the laying date of the clutch.',
    clutch.code ?? undefined,
  );
}

/** Eggs that could hatch; null where nobody counted. */
export function eggsToSet({ eggs, broken, notSet }: ClutchRow): number | null {
  return eggs === null ? null : eggs - (broken ?? 0) - (notSet ?? 0);
}

/** Eggs of a clutch of which somebody wrote what became: hatched, dead in the shell, infertile, lost. */
export async function accountedFor(tx: Tx, programId: string, clutchId: string): Promise<number> {
  const animals = await tx.animal.count({
    where: { programId, clutchId, lotChanges: { none: { kind: 'PROMOTED' } } },
  });
  const inLots = await tx.lotChange.aggregate({
    where: { programId, clutchId, kind: { in: ['HATCHED', 'FOUND'] } },
    _sum: { count: true },
  });
  const losses = await tx.observation.findMany({
    where: { programId, clutchId, kind: 'eggs' },
    select: { value: true },
  });
  const lost = losses.reduce((sum, { value }) => {
    const { infertile, diedEarly, diedLate, lost: gone } = value as Record<string, number>;
    return sum + infertile + diedEarly + diedLate + gone;
  }, 0);
  return animals + (inLots._sum.count ?? 0) + lost;
}

/** Hatched, dead and lost together cannot be more than the eggs laid. */
export async function refuseMoreThanEggs(
  book: EntryBook,
  clutch: ClutchRow,
  more: number,
  place: string,
): Promise<void> {
  const room = eggsToSet(clutch);
  if (room === null) return;
  const before = await accountedFor(book.tx, book.programId, clutch.id);
  if (before + more <= room) return;
  throw book.fault(
    `${clutch.code} had ${counted(room, 'egg')} to hatch; ${before} are accounted for, so it cannot be ${more} more.`,
    place,
    'Correct the number, or the eggs of the clutch.',
    clutch.code ?? undefined,
  );
}

export async function speciesOf(
  book: EntryBook,
  clutch: { id: string; species: string | null },
): Promise<string> {
  if (clutch.species) return clutch.species;
  const { tx, programId } = book;
  const dam = await tx.candidate.findFirst({
    where: { programId, clutchId: clutch.id, parent: 'DAM' },
    select: { animal: { select: { species: true } } },
  });
  const known =
    dam?.animal.species ??
    (await tx.animal.findFirst({ where: { programId }, select: { species: true } }))?.species;
  if (known) return known;
  throw book.fault(
    'Of which species?',
    'clutch',
    'Name the mother of the clutch, or add an animal of the species first.',
  );
}
