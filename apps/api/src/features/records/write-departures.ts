import { randomUUID } from 'node:crypto';
import { dayText } from '@scutewright/basics';
import type { EntryOf, TransferWay } from '@scutewright/commands';
import { dateColumns } from '../../db/date-columns.js';
import { today } from '../../snapshot/today.js';
import { type BookAnimal, counted, type EntryBook, type Named } from './entry-book.js';
import { refuseTakenCodes } from './make-animals.js';
import { refuseGone, refuseUnhatched } from './presence.js';
import { changeLot } from './write-lots.js';
import { leavePens, putInPen } from './write-moves.js';

export async function writeDied(
  book: EntryBook,
  { animal: ref, cause }: EntryOf<'died'>,
): Promise<string> {
  book.refuseFuture('Died');
  const animal = await book.animal(ref, 'animal');
  refuseUnhatched(book, animal, 'animal');
  const before = await book.tx.observation.findFirst({
    where: { programId: book.programId, animalId: animal.id, kind: 'death' },
    select: { date: true },
  });
  if (before) {
    throw book.fault(
      `${animal.code} is written down as dead already${before.date ? ` (${before.date})` : ''}.`,
      'animal',
      'Take that record back first if it was wrong.',
      animal.code,
    );
  }
  await refuseGone(book, [animal], 'animal', true);
  await book.observe('death', { cause: cause ?? 'UNKNOWN' }, { animalId: animal.id });
  await leavePens(book, [animal], book.on?.text ?? dayText(today()));
  return `${animal.code} died${cause && cause !== 'UNKNOWN' ? ` (${cause.toLowerCase().replace('_', ' ')})` : ''}${book.when}`;
}

/** An animal escaped, or came back. One that came back belongs in quarantine, known by its mark or photo. */
export async function writeGone(
  book: EntryBook,
  { animal: ref, isBack, pen, knownBy }: EntryOf<'gone'>,
): Promise<string> {
  book.refuseFuture(isBack ? 'Came back' : 'Escaped');
  const animal = await book.animal(ref, 'animal');
  if (!isBack) {
    await refuseGone(book, [animal], 'animal');
    await book.observe('escape', {}, { animalId: animal.id });
    await leavePens(book, [animal], book.on?.text ?? dayText(today()));
    return `${animal.code} escaped${book.when}`;
  }
  await book.observe('return', { knownBy: knownBy ?? null }, { animalId: animal.id });
  const target = pen ? await book.pen(pen, 'pen') : null;
  if (target) {
    await putInPen(book, { animals: [animal] }, target, book.on?.text ?? dayText(today()));
    await remindOfQuarantine(book, target);
  }
  if (!knownBy)
    book.remarks.push(
      'Write down by which mark or photo it was known: another tortoise may look like it.',
    );
  return `${animal.code} came back${target ? ` to ${target.code}` : ''}${book.when}`;
}

const WAYS: Record<TransferWay, { words: string; isIn: boolean }> = {
  BOUGHT: { words: 'bought', isIn: true },
  RECEIVED: { words: 'received', isIn: true },
  CAME_BACK: { words: 'came back', isIn: true },
  BORROWED: { words: 'borrowed', isIn: true },
  SOLD: { words: 'sold', isIn: false },
  GIVEN_AWAY: { words: 'given away', isIn: false },
  LENT: { words: 'lent out', isIn: false },
  SENT_BACK: { words: 'sent back', isIn: false },
};

/** An animal, or some of a lot, arrived or left. The person's name is kept apart from the history. */
export async function writeTransferred(
  book: EntryBook,
  entry: EntryOf<'transferred'>,
): Promise<string> {
  const { tx, programId } = book;
  const { words, isIn } = WAYS[entry.way];
  book.refuseFuture(words[0].toUpperCase() + words.slice(1));
  if ([entry.animal, entry.lot, entry.newcomer].filter(Boolean).length !== 1) {
    throw book.fault('Who arrived or left?', 'animal', 'Name one animal or one lot.');
  }
  if (entry.newcomer && !isIn) {
    throw book.fault(
      `${entry.newcomer.code} is not in the books, so it cannot leave.`,
      'newcomer.code',
      'Name an animal of the register.',
      entry.newcomer.code,
    );
  }
  const animal = entry.newcomer
    ? await addNewcomer(book, entry.newcomer)
    : entry.animal
      ? await book.animal(entry.animal, 'animal')
      : null;
  const lot = entry.lot ? await book.lot(entry.lot, 'lot') : null;
  const count = lot ? (entry.count ?? 1) : 1;
  if (animal && !isIn) await refuseGone(book, [animal], 'animal');
  if (animal) refuseUnhatched(book, animal, 'animal');
  if (lot)
    await changeLot(book, lot, { kind: isIn ? 'BOUGHT' : 'LEFT', count: isIn ? count : -count });
  await tx.transfer.create({
    data: {
      programId,
      // A newcomer has the entry's id already.
      id: entry.newcomer ? randomUUID() : book.entryId,
      animalId: animal?.id ?? null,
      lotId: lot?.id ?? null,
      count,
      way: entry.way,
      ...dateColumns('date', book.on),
      contactId: entry.contact ? await contactOf(book, entry.contact) : null,
      note: book.note,
    },
  });
  const on = book.on?.text ?? dayText(today());
  if (animal && !isIn) await leavePens(book, [animal], on);
  const target = isIn && entry.pen ? await book.pen(entry.pen, 'pen') : null;
  if (animal && target) await putInPen(book, { animals: [animal] }, target, on);
  if (animal && isIn) await remindOfQuarantine(book, target);
  if (!isIn) await remindOfSize(book, animal?.id ?? null);
  return `${animal ? animal.code : `${counted(count, 'young', 'young')} of lot ${lot?.code}`} ${words}${book.when}`;
}

/** An animal that is not in the books yet; it gets the entry's id, so that a phone can go on writing of it without signal. */
async function addNewcomer(
  book: EntryBook,
  newcomer: NonNullable<EntryOf<'transferred'>['newcomer']>,
): Promise<BookAnimal> {
  const { tx, programId } = book;
  const { code, name, sex } = newcomer;
  await refuseTakenCodes(book, [code], 'newcomer.code');
  const species = newcomer.species || (await onlySpecies(book));
  const hatched = dateColumns('hatched', newcomer.hatched || null);
  await tx.animal.create({
    data: {
      programId,
      id: book.entryId,
      code,
      name: name || null,
      species,
      origin: 'ACQUIRED',
      ...hatched,
    },
  });
  if (sex && sex !== 'UNKNOWN') {
    await book.observe(
      'sex',
      { sex, confidence: 'SURE' },
      { animalId: book.entryId, method: 'looked at' },
    );
  }
  return {
    id: book.entryId,
    code,
    species,
    clutchId: null,
    hatchedEarliest: hatched.hatchedEarliest,
  };
}

async function onlySpecies(book: EntryBook): Promise<string> {
  const { tx, programId } = book;
  const known = await tx.animal.findMany({
    where: { programId },
    distinct: ['species'],
    select: { species: true },
    take: 2,
  });
  if (known.length === 1) return known[0].species;
  throw book.fault(
    'Of which species is it?',
    'newcomer.species',
    'Give the species, for example Testudo hermanni.',
  );
}

async function remindOfQuarantine(book: EntryBook, pen: Named | null): Promise<void> {
  if (!pen) return;
  const { isQuarantine } = await book.tx.pen.findUniqueOrThrow({
    where: { programId_id: { programId: book.programId, id: pen.id } },
    select: { isQuarantine: true },
  });
  if (!isQuarantine)
    book.remarks.push(
      'It was outside: keep it apart until you know that it is well; ask a veterinarian.',
    );
}

async function contactOf(book: EntryBook, name: string): Promise<string> {
  const { tx, programId } = book;
  const known = await tx.contact.findUnique({
    where: { programId_name: { programId, name } },
    select: { id: true },
  });
  if (known) return known.id;
  const id = randomUUID();
  await tx.contact.create({ data: { programId, id, name } });
  return id;
}

async function remindOfSize(book: EntryBook, animalId: string | null): Promise<void> {
  const last = animalId
    ? await book.tx.observation.findFirst({
        where: { programId: book.programId, animalId, kind: 'scl' },
        orderBy: [{ dateLatest: { sort: 'desc', nulls: 'last' } }],
        select: { value: true },
      })
    : null;
  const mm = (last?.value as { mm?: number } | undefined)?.mm;
  if (mm !== undefined && mm >= 102) return;
  book.remarks.push(
    `United States: viable eggs and live animals under 4 inches (102 mm) may not be sold or publicly distributed (21 CFR 1240.62), with exceptions; ${mm === undefined ? 'no shell length is written down' : `it was last measured at ${mm} mm`}. Other places have rules of their own: ask the authority.`,
  );
}
