import { z } from 'zod';
import { parentSchema } from './animals.js';
import {
  codeSchema,
  commandIdSchema,
  idSchema,
  notesSchema,
  partialDateSchema,
} from './vocabulary.js';

// What is set up or corrected by itself, beside the entries of entries.ts.

const pointSchema = z
  .object({ x: z.number().min(-10_000).max(10_000), y: z.number().min(-10_000).max(10_000) })
  .meta({ id: 'PointInput', description: 'Metres on the plan of the yard' });

const penShape = {
  name: z
    .string()
    .trim()
    .min(1, 'Give the pen a name.')
    .max(60, 'The name of a pen has at most 60 characters.'),
  areaM2: z
    .number()
    .gt(0, 'An area is over 0.')
    .max(1_000_000, 'An area is at most 1,000,000 m2.')
    .nullish(),
  isQuarantine: z.boolean().optional(),
  capacity: z.int().min(1).max(10_000).nullish().meta({ description: 'Animals it is meant for' }),
  features: z.array(z.string().trim().min(1).max(60)).max(30).optional(),
  corners: z
    .array(pointSchema)
    .max(40)
    .optional()
    .meta({ description: 'Its outline on the plan, in metres; at least three corners' }),
  sharesFenceWith: z.array(idSchema).max(50).optional(),
};

/** What `pen.features` holds. */
export const penFeaturesSchema = z.object({
  list: z.array(z.string()).default([]),
  capacity: z.number().nullable().default(null),
  corners: z.array(z.object({ x: z.number(), y: z.number() })).default([]),
  sharesFenceWith: z.array(z.string()).default([]),
});
export type PenFeatures = z.infer<typeof penFeaturesSchema>;

export const addPenSchema = z
  .object({ commandId: commandIdSchema, ...penShape })
  .meta({ id: 'AddPenInput', description: 'A new pen' });
export type AddPenInput = z.infer<typeof addPenSchema>;

export const editPenSchema = z
  .object({
    commandId: commandIdSchema,
    penId: idSchema,
    ...penShape,
    name: penShape.name.optional(),
  })
  .meta({ id: 'EditPenInput', description: 'What to correct in a pen; what is left out stays' });
export type EditPenInput = z.infer<typeof editPenSchema>;

export const removePenSchema = z
  .object({ commandId: commandIdSchema, penId: idSchema })
  .meta({ id: 'RemovePenInput', description: 'A pen entered by mistake' });
export type RemovePenInput = z.infer<typeof removePenSchema>;

export const editClutchSchema = z
  .object({
    commandId: commandIdSchema,
    clutchId: idSchema,
    code: codeSchema.optional(),
    laid: partialDateSchema.nullish(),
    eggs: z.int().min(0).max(1000).nullish(),
    broken: z.int().min(0).max(1000).nullish(),
    notSet: z.int().min(0).max(1000).nullish(),
    dams: z.array(parentSchema).max(200).optional(),
    sires: z.array(parentSchema).max(200).nullish().meta({
      description: 'Possible fathers by hand; an empty list: they follow from who was where again',
    }),
    reason: z
      .string()
      .trim()
      .max(500)
      .optional()
      .meta({ description: 'Why, where fathers are set by hand' }),
    notes: notesSchema.nullish(),
  })
  .meta({
    id: 'EditClutchInput',
    description: 'What to correct in a clutch; what is left out stays',
  });
export type EditClutchInput = z.infer<typeof editClutchSchema>;

export const removeClutchSchema = z
  .object({ commandId: commandIdSchema, clutchId: idSchema })
  .meta({ id: 'RemoveClutchInput', description: 'A clutch entered by mistake; it has no young' });
export type RemoveClutchInput = z.infer<typeof removeClutchSchema>;

export const correctStaySchema = z
  .object({
    commandId: commandIdSchema,
    stayId: idSchema,
    from: partialDateSchema.nullish(),
    to: partialDateSchema.nullish(),
    isMistake: z.boolean().optional().meta({ description: 'Take the stay away altogether' }),
  })
  .meta({ id: 'CorrectStayInput', description: 'Corrected dates of a stay; null: open' });
export type CorrectStayInput = z.infer<typeof correctStaySchema>;

export const settleEntrySchema = z
  .object({
    commandId: commandIdSchema,
    entryId: idSchema,
    isDropped: z.boolean().meta({ description: 'Drop it; else it is tried again as it is' }),
  })
  .meta({ id: 'SettleEntryInput', description: 'What to do with an entry that waits' });
export type SettleEntryInput = z.infer<typeof settleEntrySchema>;

export const forgetContactSchema = z
  .object({ commandId: commandIdSchema, contactId: idSchema })
  .meta({
    id: 'ForgetContactInput',
    description: 'A person whose name is not to be kept any more',
  });
export type ForgetContactInput = z.infer<typeof forgetContactSchema>;

export const yardStateSchema = z
  .enum(['CLOSED', 'OPEN', 'UNKNOWN'])
  .meta({ id: 'YardState', description: 'Whether a male from outside could get in' });

/** What a program sets of its season. Kept in `program.settings.season`. */
export const seasonSettingsSchema = z.object({
  storageYears: z.number().min(0).max(15).default(4),
  yard: z.enum(['CLOSED', 'OPEN', 'UNKNOWN']).default('UNKNOWN'),
  yardSince: z.string().nullable().default(null),
  seasonStartMonth: z.int().min(1).max(12).default(1),
  colourCheckMonths: z.number().min(0).max(36).default(3),
  matureYears: z.tuple([z.number().min(0).max(60), z.number().min(0).max(60)]).default([5, 12]),
  unrecordedShare: z.number().min(0).max(0.9).nullable().default(null),
  recencyHalfYears: z.number().min(0.05).max(20).default(1),
});
export type SeasonSettings = z.infer<typeof seasonSettingsSchema>;

export const changeSeasonSettingsSchema = z
  .object({
    commandId: commandIdSchema,
    storageYears: z
      .number()
      .min(0)
      .max(15)
      .optional()
      .meta({ description: 'Years that a female may store sperm; 3 supported, 4 cautious' }),
    yard: yardStateSchema.optional(),
    yardSince: partialDateSchema.nullish(),
    seasonStartMonth: z.int().min(1).max(12).optional(),
    colourCheckMonths: z.number().min(0).max(36).optional(),
    matureYearsFrom: z.number().min(0).max(60).optional(),
    matureYearsTo: z.number().min(0).max(60).optional(),
    unrecordedShare: z.number().min(0).max(0.9).nullish(),
    recencyHalfYears: z.number().min(0.05).max(20).optional(),
  })
  .meta({
    id: 'SeasonSettingsInput',
    description: 'What the program assumes of its season; what is left out stays',
  });
export type ChangeSeasonSettingsInput = z.infer<typeof changeSeasonSettingsSchema>;
