import { z } from 'zod';
import {
  codeSchema,
  idSchema,
  notesSchema,
  partialDateSchema,
  probabilitySchema,
  sexSchema,
} from './vocabulary.js';

// What happens in a yard, as it is written down: one entry is one thing that was done or seen. The set is closed; the
// phone, the desk, pasted rows and paper all send the same entries. `version` lets an old phone's queue be understood later.

export const ENTRY_VERSION = 1;

const refSchema = z.string().trim().min(1, 'Name one.').max(120).meta({
  description: 'The code of an animal, lot, clutch or trait, the name of a pen, or any id',
});
const refsSchema = z.array(refSchema).min(1, 'Name at least one.').max(500, 'At most 500 at once.');
const countSchema = z.int().min(0).max(1000, 'At most 1,000.');
const someSchema = z.int().min(1, 'At least one.').max(1000, 'At most 1,000.');
const celsiusSchema = z
  .number()
  .min(0, 'Degrees Celsius, for example 31.5.')
  .max(50, 'Degrees Celsius, for example 31.5.');
const lineSchema = z.string().trim().max(500, 'At most 500 characters.');

const named = <Shape extends z.ZodRawShape>(id: string, description: string, shape: Shape) =>
  z.object(shape).meta({ id, description });

const weighedSchema = named('WeighedRefInput', 'One of several that it may have been', {
  ref: refSchema,
  probability: probabilitySchema.optional().meta({ description: 'Left out: shares what is left' }),
});
const seenCountSchema = named('SeenCountInput', 'How many showed a trait', {
  trait: refSchema,
  count: someSchema,
});

export const lossCauseSchema = z
  .enum(['PREDATOR', 'HEAT', 'COLD', 'DROWNED', 'ILLNESS', 'INJURY', 'OLD_AGE', 'UNKNOWN'])
  .meta({ id: 'LossCause', description: 'What it died of, as far as anybody knows' });

export const transferWaySchema = z
  .enum(['BOUGHT', 'SOLD', 'GIVEN_AWAY', 'RECEIVED', 'LENT', 'CAME_BACK', 'BORROWED', 'SENT_BACK'])
  .meta({ id: 'TransferWay', description: 'How an animal arrived or left' });
export type TransferWay = z.infer<typeof transferWaySchema>;

export const markSchemeSchema = z
  .enum(['CHIP', 'NOTCHES', 'TAG', 'PAINT', 'PHOTO', 'OTHER'])
  .meta({ id: 'MarkScheme', description: 'How an animal is marked' });

export const incidentSchema = z
  .enum(['FIGHT', 'OVERTURNED', 'WOUND', 'FALL', 'STUCK', 'OTHER'])
  .meta({ id: 'Incident', description: 'What happened to an animal' });

export const confidenceSchema = z
  .enum(['SURE', 'LIKELY', 'GUESS'])
  .meta({ id: 'Confidence', description: 'How sure the observer was' });

/** Each kind of entry with what it holds. One file of writers in the service a group. */
export const ENTRY_KINDS = {
  move: named('MoveEntry', 'Animals and lots go into a pen, or out of all pens', {
    animals: refsSchema.optional(),
    lots: refsSchema.optional(),
    pen: refSchema.nullish().meta({ description: 'Left out: in no pen' }),
  }),
  stayed: named('StayedEntry', 'Who was in a pen from when to when: an era, told afterwards', {
    animals: refsSchema,
    pen: refSchema,
    from: partialDateSchema.nullish().meta({ description: 'Left out: since nobody knows when' }),
    to: partialDateSchema.nullish().meta({ description: 'Left out: still there' }),
  }),
  seen: named('SeenEntry', 'Animals were seen alive, or the heads in a pen were counted', {
    animals: refsSchema.optional(),
    pen: refSchema.nullish(),
    count: countSchema.optional().meta({ description: 'Heads counted in the pen' }),
  }),
  breach: named('BreachEntry', 'A gate or fence between two pens stood open', {
    pens: z.array(refSchema).length(2, 'Name two pens.'),
    until: partialDateSchema.nullish(),
  }),
  mating: named('MatingEntry', 'A mating was seen', { male: refSchema, female: refSchema }),
  laid: named('LaidEntry', 'A clutch was laid, or found', {
    clutch: codeSchema.optional().meta({ description: 'Its code; left out, the next one' }),
    dams: z.array(weighedSchema).max(50).optional(),
    seenLaying: z.boolean().optional(),
    eggs: someSchema.optional(),
    broken: countSchema.optional(),
    notSet: countSchema.optional().meta({ description: 'Left unset on purpose' }),
    pen: refSchema.nullish(),
    itIsFemale: z
      .boolean()
      .optional()
      .meta({ description: 'Write down as female what was recorded as male: it laid' }),
  }),
  set: named('SetEntry', 'Eggs of a clutch were set to incubate', {
    clutch: refSchema,
    batch: lineSchema.optional().meta({ description: 'Which box; left out, the clutch itself' }),
    eggs: someSchema,
    celsius: celsiusSchema.optional(),
  }),
  warmth: named('WarmthEntry', 'Eggs were kept at this temperature from then on', {
    clutch: refSchema,
    batch: lineSchema.optional(),
    celsius: celsiusSchema,
  }),
  eggs: named('EggsEntry', 'What became of eggs that did not hatch', {
    clutch: refSchema,
    infertile: countSchema.optional(),
    diedEarly: countSchema.optional(),
    diedLate: countSchema.optional(),
    lost: countSchema.optional(),
    embryosSeen: z.array(seenCountSchema).max(20).optional().meta({
      description: 'What dead young in the shell showed',
    }),
  }),
  hatched: named('HatchedEntry', 'Young hatched: animals with codes, or a lot', {
    clutch: refSchema,
    count: someSchema,
    codes: z.array(codeSchema).max(200).optional(),
    lot: codeSchema.optional().meta({ description: 'The lot that they join or make' }),
    pen: refSchema.nullish(),
  }),
  found: named('FoundEntry', 'Young found in the grass, or out of a dropped box', {
    codes: z.array(codeSchema).min(1).max(200),
    species: z.string().trim().max(120).optional(),
    clutches: z.array(weighedSchema).max(50).optional().meta({
      description: 'The clutches it may be of',
    }),
    hatched: partialDateSchema.nullish(),
  }),
  lot: named('LotEntry', 'Something happened to a lot', {
    lot: refSchema,
    counted: z.int().min(0).max(10_000).optional().meta({ description: 'So many are there' }),
    died: someSchema.optional(),
    lost: someSchema.optional(),
    cause: lossCauseSchema.optional(),
    split: named('LotSplitInput', 'Some of it become a lot of their own', {
      count: someSchema,
      into: codeSchema,
    }).optional(),
    mergeInto: refSchema.optional(),
    promote: z.array(codeSchema).max(200).optional().meta({
      description: 'Codes of those that become animals',
    }),
  }),
  sexed: named('SexedEntry', 'The sex of an animal was told', {
    animal: refSchema,
    sex: sexSchema,
    method: lineSchema.optional().meta({ description: 'plastron, tail, endoscopy, laid eggs ...' }),
    confidence: confidenceSchema.optional(),
  }),
  colour: named('ColourEntry', 'Somebody looked at the colour', {
    animal: refSchema.optional(),
    clutch: refSchema.optional(),
    lot: refSchema.optional(),
    seen: z.array(refSchema).max(20).optional().meta({
      description: 'Traits that were seen; an empty list: looked, and saw none',
    }),
    absent: z.array(refSchema).max(20).optional().meta({
      description:
        'Traits looked for on one animal and not seen; of those in neither list nothing is said. Empty where nothing was seen either: all traits there are now',
    }),
    looked: someSchema
      .optional()
      .meta({ description: 'How many of a clutch or lot were looked at' }),
    counts: z.array(seenCountSchema).max(20).optional(),
    parts: lineSchema.optional().meta({ description: 'What was seen: eye, shell, skin' }),
    confidence: confidenceSchema.optional(),
  }),
  measured: named('MeasuredEntry', 'An animal was measured or weighed', {
    animal: refSchema,
    sclMm: z.number().gt(0).max(2000).optional(),
    plastronMm: z.number().gt(0).max(2000).optional(),
    curvedMm: z.number().gt(0).max(3000).optional(),
    massG: z.number().gt(0).max(500_000).optional(),
    method: lineSchema.optional(),
    isSure: z.boolean().optional().meta({ description: 'Write it though it looks off by ten' }),
  }),
  marked: named('MarkedEntry', 'An animal carries a mark', {
    animal: refSchema,
    scheme: markSchemeSchema,
    text: z.string().trim().min(1, 'Write the mark.').max(120),
    isLost: z.boolean().optional().meta({ description: 'The mark is gone or cannot be read' }),
  }),
  tested: named('TestedEntry', 'A laboratory told a genotype', {
    animal: refSchema,
    locus: refSchema,
    alleles: z.array(z.string().trim().min(1)).min(1).max(2),
    laboratory: lineSchema.optional(),
    errorRate: z.number().min(0).max(0.5).optional(),
  }),
  said: named('SaidEntry', 'A seller or a notebook said what an animal carries', {
    animal: refSchema,
    locus: refSchema,
    alleles: z.array(z.string().trim().min(1)).min(1).max(2),
    trust: z.number().min(0).max(1).optional(),
    by: lineSchema.optional(),
  }),
  health: named('HealthEntry', 'Something about the health of an animal', {
    animal: refSchema,
    what: lineSchema.min(1, 'Say what it was.'),
    byVeterinarian: z.boolean().optional(),
  }),
  incident: named('IncidentEntry', 'A fight, a fall, a wound', {
    animal: refSchema,
    other: refSchema.optional(),
    what: incidentSchema,
  }),
  died: named('DiedEntry', 'An animal died or was found dead', {
    animal: refSchema,
    cause: lossCauseSchema.optional(),
  }),
  gone: named('GoneEntry', 'An animal escaped, or came back', {
    animal: refSchema,
    isBack: z.boolean().optional(),
    pen: refSchema.nullish().meta({ description: 'Where it is put when it came back' }),
    knownBy: lineSchema.optional().meta({ description: 'The mark or photo it was known by' }),
  }),
  transferred: named('TransferredEntry', 'An animal, or some of a lot, arrived or left', {
    animal: refSchema.optional(),
    lot: refSchema.optional(),
    count: someSchema.optional(),
    newcomer: named('NewcomerInput', 'An animal that arrives and is not in the books yet', {
      code: codeSchema,
      name: z.string().trim().max(120).optional(),
      species: z.string().trim().max(120).optional().meta({
        description: 'Left out: the species of the program, where it holds one alone',
      }),
      sex: sexSchema.optional(),
      hatched: partialDateSchema.nullish(),
    }).optional(),
    way: transferWaySchema,
    contact: z.string().trim().max(200).optional(),
    pen: refSchema.nullish(),
  }),
  noted: named('NotedEntry', 'A note', {
    animal: refSchema.optional(),
    clutch: refSchema.optional(),
    lot: refSchema.optional(),
    pen: refSchema.optional(),
    text: notesSchema.min(1, 'Write the note.'),
  }),
} as const;

export type EntryKind = keyof typeof ENTRY_KINDS;
export type EntryOf<Kind extends EntryKind> = z.infer<(typeof ENTRY_KINDS)[Kind]>;
const KINDS = Object.keys(ENTRY_KINDS) as EntryKind[];

type Optional = {
  [Kind in EntryKind]: z.ZodOptional<(typeof ENTRY_KINDS)[Kind]>;
};
const optionalKinds = Object.fromEntries(
  KINDS.map((kind) => [kind, ENTRY_KINDS[kind].optional()]),
) as Optional;

/** One entry: who made it up (its id), when it happened, and exactly one of the kinds. */
export const entrySchema = z
  .object({
    id: idSchema.meta({ description: 'Made by the phone or the page; sent twice, written once' }),
    version: z
      .int()
      .max(ENTRY_VERSION, 'This program is older than the page that made the entry.')
      .optional()
      .meta({ description: 'Of the set of kinds; 1' }),
    on: partialDateSchema.nullish().meta({
      description: 'When it happened: a day, month or year; left out where the kind says itself',
    }),
    note: notesSchema.nullish(),
    ...optionalKinds,
  })
  .refine((entry) => KINDS.filter((kind) => entry[kind]).length === 1, {
    message: 'An entry says exactly one thing.',
  })
  .meta({
    id: 'EntryInput',
    description: 'One thing that was done or seen; exactly one kind is set',
  });
export type Entry = z.infer<typeof entrySchema>;

export const recordEntriesSchema = z
  .object({
    entries: z
      .array(entrySchema)
      .min(1, 'Send at least one entry.')
      .max(500, 'At most 500 at once.'),
    keepUndecided: z.boolean().optional().meta({
      description: 'Keep what cannot be written as it is in the inbox, for somebody to decide',
    }),
  })
  .meta({ id: 'RecordEntriesInput', description: 'Entries in the order in which they were made' });
export type RecordEntriesInput = z.infer<typeof recordEntriesSchema>;

/** Which kind an entry is. */
export function kindOf(entry: Entry): EntryKind {
  return KINDS.find((kind) => entry[kind])!;
}
