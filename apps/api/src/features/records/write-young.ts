import { randomUUID } from 'node:crypto';
import type { EntryOf } from '@scutewright/commands';
import {
  type ClutchRow,
  refuseBeforeLaying,
  refuseMoreThanEggs,
  speciesOf,
} from './clutch-checks.js';
import { counted, type EntryBook, listed } from './entry-book.js';
import { makeAnimals, refuseTakenCodes, shares } from './make-animals.js';
import { addToLot } from './write-lots.js';
import { putInPen } from './write-moves.js';

/** Young hatched: those with a code become animals, the others join a lot. */
export async function writeHatched(book: EntryBook, entry: EntryOf<'hatched'>): Promise<string> {
  book.refuseFuture('Hatched');
  const clutch = await book.clutch(entry.clutch, 'clutch');
  refuseBeforeLaying(book, clutch, 'clutch');
  const codes = entry.codes ?? [];
  if (codes.length > entry.count) {
    throw book.fault(
      `${codes.length} codes for ${counted(entry.count, 'hatchling')}.`,
      'codes',
      'Correct the number, or leave codes out.',
    );
  }
  await refuseTakenCodes(book, codes, 'codes');
  await refuseMoreThanEggs(book, clutch, entry.count, 'count');
  const species = await speciesOf(book, clutch);
  const pen = entry.pen ? await book.pen(entry.pen, 'pen') : null;
  const made = await makeAnimals(book, codes, { species, clutchId: clutch.id, hatched: book.on });
  const rest = entry.count - codes.length;
  const lot =
    rest > 0
      ? await addToLot(book, {
          code: entry.lot ?? `${clutch.code}`,
          species,
          clutchId: clutch.id,
          kind: 'HATCHED',
          count: rest,
        })
      : null;
  if (pen && book.on)
    await putInPen(book, { animals: made, lots: lot ? [lot] : [] }, pen, book.on.text);
  const where = [codes.length > 0 ? listed(codes) : '', lot ? `${rest} in lot ${lot.code}` : '']
    .filter(Boolean)
    .join(', ');
  return `${clutch.code}: ${entry.count} hatched (${where})${book.when}`;
}

/** Young found in the grass, or out of a dropped box: of one of several clutches, or of none that is known. */
export async function writeFound(book: EntryBook, entry: EntryOf<'found'>): Promise<string> {
  const { tx, programId } = book;
  book.refuseFuture('Found');
  await refuseTakenCodes(book, entry.codes, 'codes');
  const clutches: ClutchRow[] = [];
  for (const [i, { ref }] of (entry.clutches ?? []).entries())
    clutches.push(await book.clutch(ref, `clutches.${i}.ref`));
  const weights = shares(book, entry.clutches ?? [], 'clutches');
  const only = clutches.length === 1 && weights[0] === 1 ? clutches[0] : null;
  const species = entry.species || (clutches[0] ? await speciesOf(book, clutches[0]) : '');
  if (!species)
    throw book.fault(
      'Of which species?',
      'species',
      'Give the species, for example Testudo hermanni.',
    );
  const hatched = entry.hatched ?? null;
  const made = await makeAnimals(book, entry.codes, {
    species,
    clutchId: only?.id ?? null,
    hatchedText: hatched,
  });
  if (!only) {
    await tx.possibleClutch.createMany({
      data: made.flatMap(({ id }) =>
        clutches.map((clutch, i) => ({
          programId,
          id: randomUUID(),
          animalId: id,
          clutchId: clutch.id,
          probability: weights[i],
        })),
      ),
    });
  }
  const of = clutches.length > 0 ? `, of ${clutches.map(({ code }) => code).join(' or ')}` : '';
  return `Found ${listed(entry.codes)}${of}${book.when}`;
}
