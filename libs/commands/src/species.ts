import { z } from 'zod';
import { commandIdSchema } from './vocabulary.js';

export const speciesFactKeySchema = z
  .enum([
    'EGGS_PER_CLUTCH',
    'CLUTCHES_PER_SEASON',
    'MATURE_YEARS',
    'PIVOTAL_CELSIUS',
    'INCUBATION_DAYS',
    'STORAGE_YEARS',
  ])
  .meta({ id: 'SpeciesFactKey', description: 'What a program may set of a species' });
export type SpeciesFactKey = z.infer<typeof speciesFactKeySchema>;

/** What a program sets of a species, by fact: one figure, or a range of two, and why. Kept in `species_setting.overrides`. */
export const speciesOverridesSchema = z.partialRecord(
  speciesFactKeySchema,
  z.object({ numbers: z.array(z.number()).min(1).max(2), reason: z.string() }),
);
export type SpeciesOverrides = z.infer<typeof speciesOverridesSchema>;

export const setSpeciesFactSchema = z
  .object({
    commandId: commandIdSchema,
    species: z.string().trim().min(1).max(120),
    fact: speciesFactKeySchema,
    numbers: z.array(z.number()).max(2).meta({
      description: 'One figure, or a range of two; an empty list goes back to what is shipped',
    }),
    reason: z
      .string()
      .trim()
      .max(400, 'At most 400 characters.')
      .optional()
      .meta({ description: 'Why; needed with figures' }),
  })
  .refine(({ numbers, reason }) => numbers.length === 0 || reason, {
    path: ['reason'],
    message: 'Say why: your own records, a paper, a breeder you asked.',
  })
  .meta({ id: 'SetSpeciesFactInput', description: 'What the program sets of a species' });
export type SetSpeciesFactInput = z.infer<typeof setSpeciesFactSchema>;
