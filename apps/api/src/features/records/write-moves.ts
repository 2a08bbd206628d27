import { randomUUID } from 'node:crypto';
import type { EntryOf } from '@scutewright/commands';
import { dateColumns } from '../../db/date-columns.js';
import { mayHold, stayDays, surelyOverlap } from '../../snapshot/stay-days.js';
import { counted, type EntryBook, listed, type Named } from './entry-book.js';
import { dateOf, refuseGone, refuseUnhatched } from './presence.js';

const STAY = {
  id: true,
  animalId: true,
  lotId: true,
  penId: true,
  from: true,
  to: true,
  pen: { select: { name: true } },
} as const;

/** Animals and lots go into a pen or out of all pens; a day to come is a plan. */
export async function writeMove(
  book: EntryBook,
  { animals = [], lots = [], pen }: EntryOf<'move'>,
): Promise<string> {
  const movers = await book.animals(animals, 'animals');
  const groups: Named[] = [];
  for (const [i, ref] of lots.entries()) groups.push(await book.lot(ref, `lots.${i}`));
  if (movers.length + groups.length === 0) {
    throw book.fault('Nobody was named to move.', 'animals', 'Name at least one animal or lot.');
  }
  if (!book.on)
    throw book.fault('A move needs its day.', 'on', 'Write the day, month or year of the move.');
  await refuseGone(book, movers, 'animals');
  for (const animal of movers) refuseUnhatched(book, animal, 'animals');
  const target = pen ? await book.pen(pen, 'pen') : null;
  const who = { animals: movers, lots: groups };
  await putInPen(book, who, target, book.on.text);
  const names = listed([...movers, ...groups].map(({ code }) => code));
  return target ? `${names} to ${target.code}${book.when}` : `${names} out of the pens${book.when}`;
}

/**
 * Ends the stays that hold the day and begins new ones in `pen` (none: in no pen). A later stay that is already written ends
 * the new one. Set-based: the number of statements does not grow with the number of movers.
 */
export async function putInPen(
  book: EntryBook,
  who: { animals: readonly Named[]; lots?: readonly Named[] },
  pen: Named | null,
  on: string,
): Promise<void> {
  const { tx, programId } = book;
  const day = dateOf(on);
  const lots = who.lots ?? [];
  const found = await tx.stay.findMany({
    where: {
      programId,
      OR: [
        { animalId: { in: who.animals.map(({ id }) => id) } },
        { lotId: { in: lots.map(({ id }) => id) } },
      ],
    },
    select: STAY,
  });
  const stays = found.map((stay) => ({ ...stay, days: stayDays(stay.from, stay.to) }));
  const ended: string[] = [];
  const begun: { animalId: string | null; lotId: string | null; to: string | null }[] = [];
  for (const [mover, key] of [
    ...who.animals.map((animal) => [animal, 'animalId'] as const),
    ...lots.map((lot) => [lot, 'lotId'] as const),
  ]) {
    const own = stays
      .filter((stay) => stay[key] === mover.id)
      .sort((a, b) => a.days.first - b.days.first);
    const current = own.filter(({ days }) => mayHold(days, day.earliest)).at(-1);
    const next = own.find(({ days }) => days.first > day.earliest);
    if (current && pen && current.penId === pen.id && !current.to) {
      book.remarks.push(`${mover.code} was in ${pen.code} already.`);
      continue;
    }
    if (current) ended.push(current.id);
    const to = current?.to ?? next?.from ?? null;
    begun.push({
      animalId: key === 'animalId' ? mover.id : null,
      lotId: key === 'lotId' ? mover.id : null,
      to,
    });
    if (to)
      book.remarks.push(`${mover.code} is written elsewhere from ${to}; the new stay ends there.`);
  }
  await tx.stay.updateMany({
    where: { programId, id: { in: ended } },
    data: dateColumns('to', on),
  });
  if (pen) {
    await tx.stay.createMany({
      data: begun.map(({ to, ...mover }) => ({
        programId,
        id: randomUUID(),
        penId: pen.id,
        ...mover,
        ...dateColumns('from', on),
        ...dateColumns('to', to),
      })),
    });
  }
}

/** Ends whatever stay holds the day: the animal died or left. */
export function leavePens(book: EntryBook, animals: readonly Named[], on: string): Promise<void> {
  return putInPen(book, { animals }, null, on);
}

/** Who was in a pen from when to when, told afterwards. */
export async function writeStayed(
  book: EntryBook,
  { animals, pen, from, to }: EntryOf<'stayed'>,
): Promise<string> {
  const { tx, programId } = book;
  const who = await book.animals(animals, 'animals');
  const target = await book.pen(pen, 'pen');
  const start = from ? dateOf(from) : null;
  const end = to ? dateOf(to) : null;
  if (start && end && end.latest < start.earliest) {
    throw book.fault(
      `The stay ends on ${to}, before it starts on ${from}.`,
      'to',
      'Correct one of the two dates.',
      to ?? '',
    );
  }
  const stays = await tx.stay.findMany({
    where: { programId, animalId: { in: who.map(({ id }) => id) } },
    select: STAY,
  });
  const mine = stayDays(from ?? null, to ?? null);
  for (const animal of who) {
    for (const stay of stays.filter(({ animalId }) => animalId === animal.id)) {
      // 'In this pen, since nobody knows when' gives way to an era that is told to have ended.
      if (!stay.from && !stay.to && to) {
        await tx.stay.update({
          where: { programId_id: { programId, id: stay.id } },
          data: dateColumns('from', to),
        });
        book.remarks.push(`${animal.code} is taken to be in ${stay.pen.name} since ${to}.`);
        continue;
      }
      if (surelyOverlap(mine, stayDays(stay.from, stay.to))) {
        throw book.fault(
          `${animal.code} cannot be in two pens at once: it is written in ${stay.pen.name} from ${stay.from ?? 'nobody knows when'} to ${stay.to ?? 'today'}.`,
          'animals',
          'Correct the dates of one of the two stays.',
          animal.code,
        );
      }
    }
  }
  await tx.stay.createMany({
    data: who.map(({ id }) => ({
      programId,
      id: randomUUID(),
      animalId: id,
      penId: target.id,
      ...dateColumns('from', from ?? null),
      ...dateColumns('to', to ?? null),
    })),
  });
  const span = from || to ? ` ${from ?? '?'} to ${to ?? 'today'}` : '';
  return `${listed(who.map(({ code }) => code))} in ${target.code}${span}`;
}

/** Animals were seen alive, or the heads in a pen were counted. */
export async function writeSeen(
  book: EntryBook,
  { animals = [], pen, count }: EntryOf<'seen'>,
): Promise<string> {
  book.refuseFuture('Seen');
  const who = await book.animals(animals, 'animals');
  const where = pen ? await book.pen(pen, 'pen') : null;
  if (who.length === 0 && !where) {
    throw book.fault(
      'Nobody was named.',
      'animals',
      'Name the animals, or the pen whose heads were counted.',
    );
  }
  await refuseGone(book, who, 'animals');
  for (const { id } of who) await book.observe('seen', {}, { animalId: id, penId: where?.id });
  if (where && count !== undefined) await book.observe('headcount', { count }, { penId: where.id });
  if (who.length === 0) return `${where?.code}: ${counted(count ?? 0, 'head')} counted${book.when}`;
  return `Saw ${listed(who.map(({ code }) => code))}${where ? ` in ${where.code}` : ''}${book.when}`;
}

/** A gate or fence between two pens stood open: animals of one may have met those of the other. */
export async function writeBreach(
  book: EntryBook,
  { pens, until }: EntryOf<'breach'>,
): Promise<string> {
  book.refuseFuture('Open');
  const [one, other] = [await book.pen(pens[0], 'pens.0'), await book.pen(pens[1], 'pens.1')];
  if (one.id === other.id)
    throw book.fault('These are the same pen.', 'pens.1', 'Name two pens.', one.code);
  await book.observe('breach', { otherPenId: other.id, until: until ?? null }, { penId: one.id });
  return `${one.code} and ${other.code} stood open to each other${book.when}`;
}
