import { randomUUID } from 'node:crypto';
import { evenShares, type PartialDate, parsePartialDate } from '@scutewright/basics';
import { dateColumns } from '../../db/date-columns.js';
import { type EntryBook, type Named } from './entry-book.js';

export async function refuseTakenCodes(
  book: EntryBook,
  codes: readonly string[],
  place: string,
): Promise<void> {
  const { tx, programId } = book;
  const twice = codes.find((code, i) => codes.indexOf(code) !== i);
  if (twice)
    throw book.fault(`${twice} stands twice in the list.`, place, 'Give each its own code.', twice);
  const taken = await tx.animal.findFirst({
    where: { programId, code: { in: [...codes] } },
    select: { code: true },
  });
  if (taken) {
    throw book.fault(
      `Another animal already has the code ${taken.code}.`,
      place,
      'Choose another code.',
      taken.code,
    );
  }
}

/** Makes an animal of each code, all alike. */
export async function makeAnimals(
  book: EntryBook,
  codes: readonly string[],
  like: {
    species: string;
    clutchId: string | null;
    hatched?: PartialDate | null;
    hatchedText?: string | null;
  },
): Promise<Named[]> {
  const hatched = like.hatched ?? (like.hatchedText ? parsePartialDate(like.hatchedText) : null);
  const made = codes.map((code) => ({ id: randomUUID(), code }));
  await book.tx.animal.createMany({
    data: made.map((animal) => ({
      programId: book.programId,
      ...animal,
      species: like.species,
      clutchId: like.clutchId,
      origin: 'HATCHED_HERE' as const,
      ...dateColumns('hatched', hatched),
      notes: book.note,
    })),
  });
  return made;
}

/** The probabilities of a list; those left out share evenly what is left to 1. */
export function shares(
  book: EntryBook,
  list: readonly { readonly probability?: number }[],
  place: string,
): number[] {
  const found = evenShares(list.map(({ probability }) => probability));
  if (!found) {
    throw book.fault(
      'The probabilities sum to more than 1.',
      place,
      'Lower them; what is missing to 1 is one that nobody recorded.',
    );
  }
  return found;
}
