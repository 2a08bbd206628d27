import { randomUUID } from 'node:crypto';
import { dayText } from '@scutewright/basics';
import type { EntryOf } from '@scutewright/commands';
import { dateColumns } from '../../db/date-columns.js';
import { today } from '../../snapshot/today.js';
import { eggsToSet, refuseBeforeLaying, refuseMoreThanEggs } from './clutch-checks.js';
import { type BookAnimal, counted, type EntryBook, listed } from './entry-book.js';
import { shares } from './make-animals.js';
import { recordedSex, refuseElsewhere, refuseGone, refuseUnhatched } from './presence.js';

/** A clutch was laid, or found. Its fathers follow from who was where. */
export async function writeLaid(book: EntryBook, laid: EntryOf<'laid'>): Promise<string> {
  const { tx, programId } = book;
  book.refuseFuture('Laid');
  if (!book.on)
    throw book.fault(
      'A clutch needs the day it was laid.',
      'on',
      'Write the day, month or year; with ~ for about.',
    );
  const dams = await book.animals(
    (laid.dams ?? []).map(({ ref }) => ref),
    'dams',
  );
  await refuseGone(book, dams, 'dams');
  for (const dam of dams) await checkDam(book, dam, laid.itIsFemale ?? false);
  const { eggs, broken = 0, notSet = 0 } = laid;
  if (eggs !== undefined && broken + notSet > eggs) {
    throw book.fault(
      `${counted(broken + notSet, 'egg')} broken or not set of ${counted(eggs, 'egg')}.`,
      'eggs',
      'Count the broken and the unset among the eggs.',
    );
  }
  const code = laid.clutch ?? (await nextClutchCode(book));
  const taken = await tx.clutch.findUnique({
    where: { programId_code: { programId, code } },
    select: { id: true },
  });
  if (taken)
    throw book.fault(
      `There is a clutch ${code} already.`,
      'clutch',
      'Give this one another code.',
      code,
    );
  const pen = laid.pen ? await book.pen(laid.pen, 'pen') : null;
  if (pen) await refuseElsewhere(book, dams, pen, 'pen');
  await tx.clutch.create({
    data: {
      programId,
      id: book.entryId,
      code,
      ...dateColumns('laid', book.on),
      eggs: eggs ?? null,
      broken: laid.broken ?? null,
      notSet: laid.notSet ?? null,
      penId: pen?.id ?? null,
      notes: book.note,
    },
  });
  const weights = shares(book, laid.dams ?? [], 'dams');
  await tx.candidate.createMany({
    data: dams.map(({ id }, i) => ({
      programId,
      id: randomUUID(),
      clutchId: book.entryId,
      parent: 'DAM' as const,
      animalId: id,
      probability: weights[i],
      basis: laid.seenLaying && dams.length === 1 ? ('OBSERVED' as const) : ('ASSUMED' as const),
    })),
  });
  const whose = dams.length === 0 ? 'an unknown mother' : listed(dams.map((dam) => dam.code));
  return `${code}: ${eggs === undefined ? 'eggs' : counted(eggs, 'egg')} of ${whose}${book.when}`;
}

async function checkDam(book: EntryBook, dam: BookAnimal, itIsFemale: boolean): Promise<void> {
  refuseUnhatched(book, dam, 'dams');
  if ((await recordedSex(book, dam.id)) !== 'MALE') return;
  if (!itIsFemale) {
    throw book.fault(
      `${dam.code} is recorded as male, and males lay no eggs.`,
      'dams',
      'Choose the animal that laid; or, if it was this one, write it down as female.',
      dam.code,
    );
  }
  await book.observe('sex', { sex: 'FEMALE' }, { animalId: dam.id, method: 'laid eggs' });
  book.remarks.push(
    `${dam.code} is written down as female: it laid. It is nobody's possible father any more.`,
  );
}

async function nextClutchCode(book: EntryBook): Promise<string> {
  const { tx, programId } = book;
  const year = dayText(book.on?.earliest ?? today()).slice(0, 4);
  const known = await tx.clutch.findMany({
    where: { programId, code: { startsWith: `C${year}-` } },
    select: { code: true },
  });
  const highest = Math.max(0, ...known.map(({ code }) => Number(code?.slice(6)) || 0));
  return `C${year}-${String(highest + 1).padStart(2, '0')}`;
}

/** Eggs were set to incubate. */
export async function writeSet(book: EntryBook, set: EntryOf<'set'>): Promise<string> {
  const { tx, programId } = book;
  book.refuseFuture('Set');
  const clutch = await book.clutch(set.clutch, 'clutch');
  refuseBeforeLaying(book, clutch, 'clutch');
  const label = set.batch || (clutch.code ?? 'eggs');
  const batches = await tx.eggBatch.findMany({
    where: { programId, clutchId: clutch.id },
    select: { label: true, eggs: true },
  });
  if (batches.some((batch) => batch.label === label)) {
    throw book.fault(
      `${clutch.code} has a box '${label}' already.`,
      'batch',
      'Give this box another name.',
      label,
    );
  }
  const before = batches.reduce((sum, { eggs }) => sum + eggs, 0);
  const room = eggsToSet(clutch);
  if (room !== null && before + set.eggs > room) {
    throw book.fault(
      `${counted(before + set.eggs, 'egg')} set of a clutch of ${room} that could be.`,
      'eggs',
      'Correct the number, or the eggs of the clutch (laid, broken, not set).',
      clutch.code ?? undefined,
    );
  }
  await tx.eggBatch.create({
    data: {
      programId,
      id: book.entryId,
      clutchId: clutch.id,
      label,
      eggs: set.eggs,
      ...dateColumns('setOn', book.on),
    },
  });
  if (set.celsius !== undefined) {
    await book.observe('warmth', { label, celsius: set.celsius }, { clutchId: clutch.id });
  }
  return `${clutch.code}: ${counted(set.eggs, 'egg')} set in ${label}${set.celsius === undefined ? '' : ` at ${set.celsius} C`}${book.when}`;
}

export async function writeWarmth(
  book: EntryBook,
  { clutch: ref, batch, celsius }: EntryOf<'warmth'>,
): Promise<string> {
  const { tx, programId } = book;
  book.refuseFuture('Kept at a temperature');
  const clutch = await book.clutch(ref, 'clutch');
  const batches = await tx.eggBatch.findMany({
    where: { programId, clutchId: clutch.id },
    select: { label: true },
  });
  const labels = batch ? batches.filter(({ label }) => label === batch) : batches;
  if (labels.length === 0) {
    throw book.fault(
      batch
        ? `${clutch.code} has no box '${batch}'.`
        : `No eggs of ${clutch.code} are written down as set.`,
      'batch',
      'Write down first that its eggs were set.',
      clutch.code ?? undefined,
    );
  }
  for (const { label } of labels)
    await book.observe('warmth', { label, celsius }, { clutchId: clutch.id });
  return `${clutch.code}: ${celsius} C${book.when}`;
}

/** What became of eggs that did not hatch, with what dead young in the shell showed. */
export async function writeEggs(book: EntryBook, entry: EntryOf<'eggs'>): Promise<string> {
  book.refuseFuture('Opened');
  const clutch = await book.clutch(entry.clutch, 'clutch');
  refuseBeforeLaying(book, clutch, 'clutch');
  const { infertile = 0, diedEarly = 0, diedLate = 0, lost = 0 } = entry;
  const sum = infertile + diedEarly + diedLate + lost;
  if (sum === 0) throw book.fault('No egg was counted.', 'infertile', 'Count at least one egg.');
  await refuseMoreThanEggs(book, clutch, sum, 'infertile');
  const embryosSeen: { traitId: string; count: number }[] = [];
  for (const [i, { trait, count }] of (entry.embryosSeen ?? []).entries()) {
    const { id } = await book.trait(trait, `embryosSeen.${i}.trait`);
    if (count > diedEarly + diedLate) {
      throw book.fault(
        `${count} showed it, of ${diedEarly + diedLate} that died in the shell.`,
        `embryosSeen.${i}.count`,
        'Correct one of the two numbers.',
      );
    }
    embryosSeen.push({ traitId: id, count });
  }
  await book.observe(
    'eggs',
    { infertile, diedEarly, diedLate, lost, embryosSeen },
    { clutchId: clutch.id },
  );
  const parts = [
    infertile && `${infertile} infertile`,
    diedEarly && `${diedEarly} died early`,
    diedLate && `${diedLate} died late`,
    lost && `${lost} lost`,
  ].filter(Boolean);
  return `${clutch.code}: ${parts.join(', ')}${book.when}`;
}
