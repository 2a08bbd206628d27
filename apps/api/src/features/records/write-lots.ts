import { randomUUID } from 'node:crypto';
import type { EntryOf } from '@scutewright/commands';
import { dateColumns } from '../../db/date-columns.js';
import { counted, type EntryBook, listed, type Named } from './entry-book.js';
import { makeAnimals, refuseTakenCodes } from './make-animals.js';

type ChangeKind =
  | 'HATCHED'
  | 'FOUND'
  | 'BOUGHT'
  | 'SPLIT'
  | 'MERGED'
  | 'PROMOTED'
  | 'DIED'
  | 'LOST'
  | 'LEFT'
  | 'COUNTED';
type Lot = Named & { species: string };

/** One line in a lot's book. `count` under 0 takes out; the lot never goes below zero. */
export async function changeLot(
  book: EntryBook,
  lot: Named,
  change: { kind: ChangeKind; count: number; clutchId?: string | null; animalId?: string },
): Promise<void> {
  if (change.count === 0) return;
  const before = await countOf(book, lot);
  if (before + change.count < 0) {
    throw book.fault(
      `There ${before === 1 ? 'is' : 'are'} ${before} in lot ${lot.code}, so ${-change.count} cannot leave it.`,
      'lot',
      'Correct the number, or count the lot anew first.',
      lot.code,
    );
  }
  await book.tx.lotChange.create({
    data: {
      programId: book.programId,
      id: randomUUID(),
      lotId: lot.id,
      note: book.note,
      ...dateColumns('date', book.on),
      ...change,
    },
  });
}

async function countOf(book: EntryBook, lot: Named): Promise<number> {
  const { tx, programId } = book;
  const sum = await tx.lotChange.aggregate({
    where: { programId, lotId: lot.id },
    _sum: { count: true },
  });
  return sum._sum.count ?? 0;
}

/** Young join a lot of this code, which is made where there is none. */
export async function addToLot(
  book: EntryBook,
  into: { code: string; species: string; clutchId: string | null; kind: ChangeKind; count: number },
): Promise<Lot> {
  const { tx, programId } = book;
  const { code, species, ...change } = into;
  const known = await tx.lot.findUnique({ where: { programId_code: { programId, code } } });
  const lot =
    known ?? (await tx.lot.create({ data: { programId, id: randomUUID(), code, species } }));
  if (lot.species !== species) {
    throw book.fault(
      `Lot ${code} is of ${lot.species}.`,
      'lot',
      'Put another species in a lot of its own.',
      code,
    );
  }
  await changeLot(book, lot, change);
  return lot;
}

/** One thing that happened to a lot; its book always balances. */
export async function writeLot(book: EntryBook, entry: EntryOf<'lot'>): Promise<string> {
  book.refuseFuture('Written');
  const lot = await book.lot(entry.lot, 'lot');
  const acts = [entry.counted, entry.died, entry.lost, entry.split, entry.mergeInto, entry.promote];
  if (acts.filter((act) => act !== undefined).length !== 1) {
    throw book.fault(
      'Say one thing that happened to the lot.',
      'lot',
      'Count it, split it, merge it, or write who died.',
      lot.code,
    );
  }
  if (entry.counted !== undefined) {
    const before = await countOf(book, lot);
    await changeLot(book, lot, { kind: 'COUNTED', count: entry.counted - before });
    await book.observe('headcount', { count: entry.counted }, { lotId: lot.id });
    if (entry.counted !== before)
      book.remarks.push(`The book said ${before}; it now says ${entry.counted}.`);
    return `Lot ${lot.code}: ${entry.counted} counted${book.when}`;
  }
  if (entry.died !== undefined || entry.lost !== undefined) {
    const count = entry.died ?? entry.lost ?? 0;
    await changeLot(book, lot, { kind: entry.died === undefined ? 'LOST' : 'DIED', count: -count });
    if (entry.died !== undefined) {
      await book.observe(
        'lot-death',
        { count, cause: entry.cause ?? 'UNKNOWN' },
        { lotId: lot.id },
      );
    }
    return `Lot ${lot.code}: ${count} ${entry.died === undefined ? 'lost' : 'died'}${book.when}`;
  }
  if (entry.split) {
    const { count, into } = entry.split;
    if (into === lot.code)
      throw book.fault(
        'A lot cannot be split into itself.',
        'split.into',
        'Give the new lot another code.',
        into,
      );
    const clutchId = await onlyClutch(book, lot);
    await changeLot(book, lot, { kind: 'SPLIT', count: -count, clutchId });
    await addToLot(book, { code: into, species: lot.species, clutchId, kind: 'SPLIT', count });
    return `${count} of lot ${lot.code} became lot ${into}${book.when}`;
  }
  if (entry.mergeInto !== undefined) {
    const into = await book.lot(entry.mergeInto, 'mergeInto');
    if (into.id === lot.id)
      throw book.fault(
        'A lot cannot be merged into itself.',
        'mergeInto',
        'Name another lot.',
        lot.code,
      );
    const count = await countOf(book, lot);
    const clutchId = await onlyClutch(book, lot);
    await changeLot(book, lot, { kind: 'MERGED', count: -count, clutchId });
    await addToLot(book, {
      code: into.code,
      species: lot.species,
      clutchId,
      kind: 'MERGED',
      count,
    });
    return `Lot ${lot.code} joined lot ${into.code}${book.when}`;
  }
  return promote(book, lot, entry.promote ?? []);
}

/** Some of a lot get codes and become animals, of the lot's clutch or of one of its clutches. */
async function promote(book: EntryBook, lot: Lot, codes: readonly string[]): Promise<string> {
  const { tx, programId } = book;
  if (codes.length === 0)
    throw book.fault(
      'No codes were given.',
      'promote',
      'Give a code for each that becomes an animal.',
    );
  await refuseTakenCodes(book, codes, 'promote');
  const sources = await tx.lotChange.groupBy({
    by: ['clutchId'],
    where: { programId, lotId: lot.id, count: { gt: 0 } },
    _sum: { count: true },
    _min: { date: true },
  });
  const known = sources.flatMap(({ clutchId, _sum }) =>
    clutchId ? { clutchId, count: _sum.count ?? 0 } : [],
  );
  const only = sources.length === 1 ? sources[0].clutchId : null;
  const hatched = await tx.lotChange.findFirst({
    where: { programId, lotId: lot.id, kind: 'HATCHED' },
    orderBy: { dateEarliest: 'asc' },
    select: { date: true },
  });
  const made = await makeAnimals(book, codes, {
    species: lot.species,
    clutchId: only,
    hatchedText: sources.length === 1 ? (hatched?.date ?? null) : null,
  });
  for (const { id } of made) {
    await changeLot(book, lot, { kind: 'PROMOTED', count: -1, clutchId: only, animalId: id });
  }
  if (!only) {
    const total = sources.reduce((sum, { _sum }) => sum + (_sum.count ?? 0), 0);
    await tx.possibleClutch.createMany({
      data: made.flatMap(({ id }) =>
        known.map(({ clutchId, count }) => ({
          programId,
          id: randomUUID(),
          animalId: id,
          clutchId,
          probability: count / total,
        })),
      ),
    });
  }
  const stay = await tx.stay.findFirst({
    where: { programId, lotId: lot.id, to: null },
    select: { penId: true, from: true },
  });
  if (stay) {
    await tx.stay.createMany({
      data: made.map(({ id }) => ({
        programId,
        id: randomUUID(),
        animalId: id,
        penId: stay.penId,
        ...dateColumns('from', book.on?.text ?? stay.from),
      })),
    });
  }
  return `${listed(codes)} out of lot ${lot.code} (${counted(await countOf(book, lot), 'left', 'left')})${book.when}`;
}

/** The clutch that a lot is of, where it is of one alone; null where it is of several or none. */
async function onlyClutch(book: EntryBook, lot: Named): Promise<string | null> {
  const { tx, programId } = book;
  const sources = await tx.lotChange.findMany({
    where: { programId, lotId: lot.id, count: { gt: 0 } },
    distinct: ['clutchId'],
    select: { clutchId: true },
  });
  return sources.length === 1 ? sources[0].clutchId : null;
}
