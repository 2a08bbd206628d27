import { parsePartialDate } from '@scutewright/basics';
import { stayDays } from '../../snapshot/stay-days.js';
import { dayOf, type EntryBook, type Named } from './entry-book.js';

const WORDS_OUT: Record<string, string> = {
  SOLD: 'was sold',
  GIVEN_AWAY: 'was given away',
  LENT: 'was lent out',
  SENT_BACK: 'was sent back',
};

/**
 * Refuses a thing done with animals that had died, left or escaped before that day. Two statements, however many animals.
 * Without a day, the present counts.
 */
export async function refuseGone(
  book: EntryBook,
  animals: readonly Named[],
  place: string,
  /** One that escaped may be found dead. */
  mayHaveEscaped = false,
): Promise<void> {
  const { tx, programId } = book;
  const animalId = { in: animals.map(({ id }) => id) };
  const ends = await tx.observation.findMany({
    where: { programId, animalId, kind: { in: ['death', 'escape', 'return'] } },
    select: { animalId: true, kind: true, date: true, dateLatest: true },
  });
  const transfers = await tx.transfer.findMany({
    where: { programId, animalId },
    select: { animalId: true, way: true, date: true, dateLatest: true },
  });
  if (ends.length + transfers.length === 0) return;
  const on = book.on?.latest ?? Number.POSITIVE_INFINITY;
  for (const animal of animals) {
    const events = [
      ...ends.map((end) => ({
        ...end,
        word: { death: 'died', escape: 'escaped', return: '' }[end.kind] ?? '',
      })),
      ...transfers.map((transfer) => ({ ...transfer, word: WORDS_OUT[transfer.way] ?? '' })),
    ]
      .filter((event) => event.animalId === animal.id)
      .map((event) => ({
        ...event,
        day: event.dateLatest ? dayOf(event.dateLatest) : Number.NEGATIVE_INFINITY,
      }))
      .sort((a, b) => a.day - b.day);
    // On the day itself both may be true: weighed in the morning, sold in the afternoon.
    const last = events.filter(({ day }) => day < on).at(-1);
    const died = events.find(({ word, day }) => word === 'died' && day < on);
    const end = died ?? last;
    if (!end?.word || (mayHaveEscaped && end.word === 'escaped')) continue;
    throw book.fault(
      `${animal.code} ${end.word}${end.date ? ` on ${end.date}` : ''}, so it cannot be ${DONE[book.kind] ?? 'written about'}${book.when}.`,
      place,
      'Correct the day or the animal; if it came back, write that down first.',
      animal.code,
    );
  }
}

/**
 * Refuses what was done in a pen with animals that surely were in another one all that day. On the day of a move both pens may be right.
 */
export async function refuseElsewhere(
  book: EntryBook,
  animals: readonly Named[],
  pen: Named,
  place: string,
): Promise<void> {
  const { tx, programId, on } = book;
  if (!on) return;
  const rows = await tx.stay.findMany({
    where: { programId, animalId: { in: animals.map(({ id }) => id) } },
    select: { animalId: true, penId: true, from: true, to: true, pen: { select: { name: true } } },
  });
  for (const animal of animals) {
    const stays = rows
      .filter(({ animalId }) => animalId === animal.id)
      .map((row) => ({ ...row, days: stayDays(row.from, row.to) }));
    const mayBeHere = stays.some(
      ({ penId, days }) => penId === pen.id && days.first <= on.latest && on.earliest <= days.last,
    );
    const elsewhere = stays.find(
      ({ penId, days }) =>
        penId !== pen.id && days.sureFirst <= on.earliest && on.latest < days.sureLast,
    );
    if (mayBeHere || !elsewhere) continue;
    throw book.fault(
      `${animal.code} was in ${elsewhere.pen.name}${book.when}, not in ${pen.code}.`,
      place,
      'Correct the animal, the day or the pen; if it was moved, write the move first. Where it got in by itself, leave the pen empty.',
      animal.code,
    );
  }
}

const DONE: Record<string, string> = {
  move: 'moved',
  measured: 'measured',
  seen: 'seen',
  mating: 'seen mating',
  laid: 'the mother of eggs laid',
  transferred: 'handed over',
  died: 'found dead',
  colour: 'looked at',
  gone: 'missing',
};

/** Refuses something on an animal before it hatched. */
export function refuseUnhatched(
  book: EntryBook,
  animal: Named & { hatchedEarliest: Date | null },
  place: string,
): void {
  if (!book.on || !animal.hatchedEarliest || book.on.latest >= dayOf(animal.hatchedEarliest))
    return;
  throw book.fault(
    `${animal.code} had not hatched${book.when}.`,
    place,
    'Correct the day, or the hatching date of the animal.',
    animal.code,
  );
}

/** The sex that the records add up to, as `sexFinding` reads it from a snapshot; null where not known. */
export async function recordedSex(
  book: EntryBook,
  animalId: string,
): Promise<'MALE' | 'FEMALE' | null> {
  const { tx, programId } = book;
  const laid = await tx.candidate.findFirst({
    where: { programId, animalId, parent: 'DAM', probability: 1 },
    select: { id: true },
  });
  if (laid) return 'FEMALE';
  const records = await tx.observation.findMany({
    where: { programId, animalId, kind: 'sex' },
    orderBy: [{ dateEarliest: { sort: 'asc', nulls: 'first' } }, { id: 'asc' }],
    select: { value: true },
  });
  const sex = (records.at(-1)?.value as { sex?: string } | undefined)?.sex;
  return sex === 'MALE' || sex === 'FEMALE' ? sex : null;
}

/** Reads a partial date that zod already accepted. */
export function dateOf(text: string) {
  const date = parsePartialDate(text);
  if (!date) throw new Error(`'${text}' was accepted as a date and is none`);
  return date;
}
