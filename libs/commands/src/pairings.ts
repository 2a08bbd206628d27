import { z } from 'zod';
import { idSchema } from './vocabulary.js';

const shareSchema = z
  .number()
  .min(0, 'A share is at least 0.')
  .max(1, 'A share is at most 1; 0.9 is nine of ten.');

/** What pairings are weighed by; what is left out is taken from the species or the shipped default. */
export const pairingSettingsSchema = z
  .object({
    clutches: z
      .number()
      .min(0)
      .max(12, 'A female lays at most 12 clutches a season here.')
      .optional()
      .meta({ description: 'Clutches of a female in a season' }),
    eggsPerClutch: z
      .number()
      .min(0)
      .max(60, 'A clutch has at most 60 eggs here.')
      .optional()
      .meta({ description: 'Mean eggs of a clutch' }),
    fertility: shareSchema.optional().meta({ description: 'Share of eggs that are fertile' }),
    hatch: shareSchema.optional().meta({ description: 'Share of fertile eggs that hatch' }),
    lethalEquivalents: z
      .number()
      .min(-20)
      .max(40, 'More than 40 lethal equivalents were never published.')
      .optional()
      .meta({ description: 'Cost of inbreeding, per diploid' }),
    highestF: shareSchema
      .optional()
      .meta({ description: 'Pairings whose young would have a higher F are set apart' }),
    penId: idSchema.optional().meta({ description: 'Only mates that live in this pen' }),
    onlyKnownKin: z
      .boolean()
      .optional()
      .meta({ description: 'Leave out pairs of which one has no recorded parent' }),
  })
  .meta({ id: 'PairingSettingsInput', description: 'What pairings are weighed by' });
export type PairingSettings = z.infer<typeof pairingSettingsSchema>;
