import { z } from 'zod';
import { commandIdSchema, idSchema } from './vocabulary.js';

/** The changes that can be supposed, looked at, and then written as one act. */
export const suppositionKindSchema = z
  .enum(['FATHER', 'OTHER_FATHER', 'NOT_OF_CLUTCH', 'STRIKE_RECORD'])
  .meta({ id: 'SuppositionKind', description: 'What is supposed' });
export type SuppositionKind = z.infer<typeof suppositionKindSchema>;

export const suppositionSchema = z
  .object({
    kind: suppositionKindSchema.meta({
      description:
        'FATHER: the father of animalId is fatherId (left out: a male nobody recorded). OTHER_FATHER: the fathers named leave room for a male nobody recorded, and clutch mates may differ. NOT_OF_CLUTCH: the young was mixed up, its parents are not known. STRIKE_RECORD: recordId was misread or mistold',
    }),
    animalId: idSchema.nullish().meta({ description: 'The young; for all but STRIKE_RECORD' }),
    fatherId: idSchema.nullish(),
    recordId: z
      .string()
      .max(100)
      .nullish()
      .meta({ description: 'As why and contradictions name it; for STRIKE_RECORD' }),
  })
  .meta({ id: 'SuppositionInput', description: 'One change that nobody has written yet' });
export type SuppositionInput = z.infer<typeof suppositionSchema>;

export const acceptSuppositionSchema = z
  .object({ commandId: commandIdSchema, supposition: suppositionSchema })
  .meta({ id: 'AcceptSuppositionInput', description: 'A supposition to be written' });
export type AcceptSuppositionInput = z.infer<typeof acceptSuppositionSchema>;

/** How two founders may be related; nothing is written. */
export const founderKinSchema = z
  .object({
    founderId: idSchema,
    otherFounderId: idSchema,
    kinship: z.enum(['FULL', 'HALF']).meta({
      id: 'FounderKinship',
      description:
        'FULL: full brother and sister, or parent and young (relatedness 1/2). HALF: half brother and sister (1/4)',
    }),
  })
  .meta({ id: 'FounderKinInput', description: 'Two founders that are supposed to be related' });
export type FounderKinInput = z.infer<typeof founderKinSchema>;
