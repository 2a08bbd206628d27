import type { EntryOf } from '@scutewright/commands';
import { counted, type EntryBook, listed } from './entry-book.js';
import { recordedSex, refuseGone, refuseUnhatched } from './presence.js';

/** The sex of an animal was told; a mother of a certain clutch stays female whatever is written. */
export async function writeSexed(
  book: EntryBook,
  { animal: ref, sex, method, confidence }: EntryOf<'sexed'>,
): Promise<string> {
  book.refuseFuture('Sexed');
  const animal = await book.animal(ref, 'animal');
  refuseUnhatched(book, animal, 'animal');
  const before = await recordedSex(book, animal.id);
  await book.observe(
    'sex',
    { sex, confidence: confidence ?? 'SURE' },
    { animalId: animal.id, method: method || 'looked at' },
  );
  if (before && sex !== 'UNKNOWN' && before !== sex) {
    book.remarks.push(`It was recorded as ${before.toLowerCase()} before.`);
  }
  return `${animal.code} is ${sex === 'UNKNOWN' ? 'of unknown sex' : sex.toLowerCase()}${book.when}`;
}

/** Somebody looked at the colour: of one animal, or by count of a clutch or lot. */
export async function writeColour(book: EntryBook, entry: EntryOf<'colour'>): Promise<string> {
  book.refuseFuture('Looked at');
  const about = [entry.animal, entry.clutch, entry.lot].filter(Boolean).length;
  if (about !== 1)
    throw book.fault('Whose colour?', 'animal', 'Name one animal, one clutch or one lot.');
  if (entry.animal) return ofAnimal(book, entry, entry.animal);
  const counts: { traitId: string; count: number }[] = [];
  const words: string[] = [];
  for (const [i, { trait: ref, count }] of (entry.counts ?? []).entries()) {
    const trait = await book.trait(ref, `counts.${i}.trait`);
    counts.push({ traitId: trait.id, count });
    words.push(`${count} ${trait.code}`);
  }
  const showed = counts.reduce((sum, { count }) => sum + count, 0);
  const { looked } = entry;
  if (looked !== undefined && counts.some(({ count }) => count > looked)) {
    throw book.fault(
      `More showed it than the ${looked} that were looked at.`,
      'looked',
      'Correct one of the two numbers.',
    );
  }
  if (looked === undefined && showed === 0) {
    throw book.fault(
      'Nothing was seen and nobody was counted.',
      'looked',
      'Write how many were looked at.',
    );
  }
  const value = { looked: looked ?? showed, counts, parts: entry.parts ?? null };
  const clutch = entry.clutch ? await book.clutch(entry.clutch, 'clutch') : null;
  const lot = entry.lot ? await book.lot(entry.lot, 'lot') : null;
  await book.observe('colour-count', value, { clutchId: clutch?.id, lotId: lot?.id });
  const seen = words.length > 0 ? listed(words) : 'none showed anything';
  return `${clutch?.code ?? `Lot ${lot?.code}`}: ${counted(value.looked, 'young', 'young')} looked at, ${seen}${book.when}`;
}

async function ofAnimal(book: EntryBook, entry: EntryOf<'colour'>, ref: string): Promise<string> {
  const animal = await book.animal(ref, 'animal');
  refuseUnhatched(book, animal, 'animal');
  await refuseGone(book, [animal], 'animal');
  const traits = [];
  for (const [i, trait] of (entry.seen ?? []).entries())
    traits.push(await book.trait(trait, `seen.${i}`));
  const missing = await traitsNotSeen(book, entry, traits);
  await book.observe(
    'colour-check',
    {
      seen: traits.map(({ id }) => id),
      absent: missing.map(({ id }) => id),
      ...(entry.parts ? { parts: entry.parts } : {}),
      ...(entry.confidence ? { confidence: entry.confidence } : {}),
    },
    { animalId: animal.id, method: 'looked at' },
  );
  const codes = (list: readonly { code: string }[]) => listed(list.map(({ code }) => code));
  const told = [
    ...(traits.length > 0 ? [codes(traits)] : []),
    ...(entry.absent?.length ? [`not ${codes(missing)}`] : []),
  ];
  return `${animal.code}: ${told.join('; ') || 'shows no trait'}${book.when}`;
}

/** What was looked for in vain: as told, or, where nothing was seen, all that can be looked for now. A trait of later says nothing. */
async function traitsNotSeen(
  book: EntryBook,
  { absent }: EntryOf<'colour'>,
  seen: readonly { id: string; code: string }[],
): Promise<{ id: string; code: string }[]> {
  if (!absent || absent.length === 0) return seen.length > 0 ? [] : allTraits(book);
  const missing = [];
  for (const [i, ref] of absent.entries()) {
    const trait = await book.trait(ref, `absent.${i}`);
    if (seen.some(({ id }) => id === trait.id)) {
      throw book.fault(
        `${trait.code} was both seen and not seen.`,
        `absent.${i}`,
        'Take it out of one of the two lists.',
        trait.code,
      );
    }
    missing.push(trait);
  }
  return missing;
}

async function allTraits({ tx, programId }: EntryBook): Promise<{ id: string; code: string }[]> {
  const traits = await tx.trait.findMany({
    where: { programId },
    select: { id: true, name: true },
  });
  return traits.map(({ id, name }) => ({ id, code: name }));
}

const SIZES = [
  { field: 'sclMm', kind: 'scl', unit: 'mm', word: 'shell length' },
  { field: 'plastronMm', kind: 'plastron', unit: 'mm', word: 'plastron' },
  { field: 'curvedMm', kind: 'curved', unit: 'mm', word: 'length over the curve' },
  { field: 'massG', kind: 'mass', unit: 'g', word: 'weight' },
] as const;
/** A figure this many times the last one, or this part of it, is asked about: a slipped decimal point. Chosen by us: no source. */
const OFF = 5;

export async function writeMeasured(book: EntryBook, entry: EntryOf<'measured'>): Promise<string> {
  book.refuseFuture('Measured');
  const animal = await book.animal(entry.animal, 'animal');
  refuseUnhatched(book, animal, 'animal');
  await refuseGone(book, [animal], 'animal');
  const taken = SIZES.flatMap((size) => {
    const value = entry[size.field];
    return value === undefined ? [] : [{ ...size, value }];
  });
  if (taken.length === 0)
    throw book.fault('Nothing was measured.', 'sclMm', 'Write a length or a weight.', animal.code);
  for (const { kind, unit, value, word, field } of taken) {
    if (!entry.isSure) {
      const last = await book.tx.observation.findFirst({
        where: { programId: book.programId, animalId: animal.id, kind },
        orderBy: [{ dateLatest: { sort: 'desc', nulls: 'last' } }, { id: 'desc' }],
        select: { value: true, date: true },
      });
      const before = (last?.value as Record<string, number> | undefined)?.[unit];
      if (before && (value >= before * OFF || value <= before / OFF)) {
        throw book.fault(
          `${animal.code}: ${word} ${value} ${unit} after ${before} ${unit}${last?.date ? ` on ${last.date}` : ''}. Is a digit missing or too many?`,
          field,
          'Correct it, or say that you are sure.',
          animal.code,
        );
      }
    }
    await book.observe(
      kind,
      { [unit]: value },
      { animalId: animal.id, method: entry.method ?? null },
    );
  }
  return `${animal.code}: ${taken.map(({ value, unit, word }) => `${word} ${value.toLocaleString('en')} ${unit}`).join(', ')}${book.when}`;
}

/** A mark is never a key: chips get lost, and are mistyped. */
export async function writeMarked(
  book: EntryBook,
  { animal: ref, scheme, text, isLost }: EntryOf<'marked'>,
): Promise<string> {
  book.refuseFuture('Marked');
  const animal = await book.animal(ref, 'animal');
  const written = scheme === 'CHIP' ? text.replace(/[\s-]/g, '') : text;
  if (scheme === 'CHIP') {
    const doubt = chipDoubt(written);
    if (doubt) book.remarks.push(doubt);
  }
  const others = await book.tx.observation.findMany({
    where: {
      programId: book.programId,
      kind: 'mark',
      NOT: { animalId: animal.id },
      value: { path: ['text'], equals: written },
    },
    select: { animal: { select: { code: true } } },
    take: 3,
  });
  if (others.length > 0 && !isLost) {
    book.remarks.push(
      `The same mark stands with ${listed(others.flatMap((other) => other.animal?.code ?? []))}: check both animals.`,
    );
  }
  await book.observe(
    'mark',
    { scheme, text: written, isLost: isLost ?? false },
    { animalId: animal.id },
  );
  if (!isLost) {
    const second = await book.tx.observation.count({
      where: { programId: book.programId, kind: 'mark', animalId: animal.id },
    });
    if (second < 2)
      book.remarks.push(
        'Chips get lost and paint wears off: write down a second mark or a photo too.',
      );
  }
  return `${animal.code}: ${scheme.toLowerCase()} ${written}${isLost ? ' lost or not to be read' : ''}${book.when}`;
}

/** ISO 11784: 15 digits; a country or manufacturer code of three, then twelve. 999 is for tests. Warns, never refuses. */
export function chipDoubt(text: string): string | null {
  if (!/^\d{15}$/.test(text))
    return `A chip by ISO 11784 has 15 digits; this has ${text.length} characters. Read it again.`;
  const code = Number(text.slice(0, 3));
  if (code === 999)
    return 'A number that begins with 999 is for testing readers, not for animals. Read it again.';
  if (code === 0) return 'No country or maker has the code 000. Read it again.';
  return null;
}

export async function writeTested(book: EntryBook, entry: EntryOf<'tested'>): Promise<string> {
  book.refuseFuture('Tested');
  const animal = await book.animal(entry.animal, 'animal');
  const locus = await knownAlleles(book, entry.locus, entry.alleles);
  await book.observe(
    'test',
    {
      alleles: entry.alleles,
      errorRate: entry.errorRate ?? 0.01,
      laboratory: entry.laboratory ?? null,
    },
    { animalId: animal.id, locusId: locus.id, method: 'DNA test' },
  );
  return `${animal.code}: tested ${entry.alleles.join('/')} at ${locus.code}${book.when}`;
}

export async function writeSaid(book: EntryBook, entry: EntryOf<'said'>): Promise<string> {
  const animal = await book.animal(entry.animal, 'animal');
  const locus = await knownAlleles(book, entry.locus, entry.alleles);
  const value = {
    alleles: entry.alleles,
    trust: entry.trust ?? 0.9,
    ...(entry.by ? { by: entry.by } : {}),
  };
  await book.observe('declaration', value, {
    animalId: animal.id,
    locusId: locus.id,
    method: 'seller said',
  });
  return `Said of ${animal.code}: ${entry.alleles.join('/')} at ${locus.code}${book.when}`;
}

async function knownAlleles(book: EntryBook, ref: string, alleles: readonly string[]) {
  const locus = await book.locus(ref, 'locus');
  const known = (locus.definition as { alleles: string[] }).alleles;
  const unknown = alleles.find((allele) => !known.includes(allele));
  if (unknown) {
    throw book.fault(
      `${locus.code} has no allele '${unknown}'.`,
      'alleles',
      `Choose among ${known.join(', ')}.`,
      unknown,
    );
  }
  return locus;
}

export async function writeHealth(
  book: EntryBook,
  { animal: ref, what, byVeterinarian }: EntryOf<'health'>,
): Promise<string> {
  book.refuseFuture('Seen');
  const animal = await book.animal(ref, 'animal');
  await book.observe(
    'health',
    { what, byVeterinarian: byVeterinarian ?? false },
    { animalId: animal.id },
  );
  return `${animal.code}: ${what}${byVeterinarian ? ' (veterinarian)' : ''}${book.when}`;
}

export async function writeIncident(book: EntryBook, entry: EntryOf<'incident'>): Promise<string> {
  book.refuseFuture('Happened');
  const animal = await book.animal(entry.animal, 'animal');
  const other = entry.other ? await book.animal(entry.other, 'other') : null;
  if (other?.id === animal.id)
    throw book.fault('These are the same animal.', 'other', 'Name the other animal.', animal.code);
  await book.observe(
    'incident',
    { what: entry.what },
    { animalId: animal.id, otherAnimalId: other?.id },
  );
  const what = entry.what === 'OTHER' ? 'incident' : entry.what.toLowerCase();
  return `${animal.code}: ${what}${other ? ` with ${other.code}` : ''}${book.when}`;
}

export async function writeMating(book: EntryBook, entry: EntryOf<'mating'>): Promise<string> {
  book.refuseFuture('Seen mating');
  const male = await book.animal(entry.male, 'male');
  const female = await book.animal(entry.female, 'female');
  await refuseGone(book, [male, female], 'male');
  if (male.id === female.id)
    throw book.fault('These are the same animal.', 'female', 'Name two animals.', male.code);
  for (const [animal, wrong, place] of [
    [male, 'FEMALE', 'male'],
    [female, 'MALE', 'female'],
  ] as const) {
    if ((await recordedSex(book, animal.id)) === wrong) {
      throw book.fault(
        `${animal.code} is recorded as ${wrong.toLowerCase()}.`,
        place,
        'Change the two over, or correct the sex first.',
        animal.code,
      );
    }
  }
  await book.observe('mating', {}, { animalId: male.id, otherAnimalId: female.id });
  return `${male.code} mated ${female.code}${book.when}`;
}

export async function writeNoted(book: EntryBook, entry: EntryOf<'noted'>): Promise<string> {
  const animal = entry.animal ? await book.animal(entry.animal, 'animal') : null;
  const clutch = entry.clutch ? await book.clutch(entry.clutch, 'clutch') : null;
  const lot = entry.lot ? await book.lot(entry.lot, 'lot') : null;
  const pen = entry.pen ? await book.pen(entry.pen, 'pen') : null;
  if (!animal && !clutch && !lot && !pen)
    throw book.fault('A note on what?', 'animal', 'Name an animal, clutch, lot or pen.');
  await book.observe(
    'note',
    { text: entry.text },
    { animalId: animal?.id, clutchId: clutch?.id, lotId: lot?.id, penId: pen?.id },
  );
  const of = animal?.code ?? clutch?.code ?? pen?.code ?? `lot ${lot?.code}`;
  return `Note on ${of}: ${entry.text.length > 60 ? `${entry.text.slice(0, 57)}...` : entry.text}`;
}
