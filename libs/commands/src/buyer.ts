import { z } from 'zod';
import { codeSchema, idSchema, probabilitySchema, sexSchema } from './vocabulary.js';

// What a buyer says of their own animals before a sale. It is asked about, never written.

const buyerParentSchema = z
  .object({
    code: codeSchema.optional().meta({ description: "One of the buyer's animals, by their code" }),
    animalId: idSchema.optional().meta({ description: 'One of ours' }),
    probability: probabilitySchema
      .optional()
      .meta({ description: '0 to 1; left out, the candidates share what is left evenly' }),
  })
  .refine(({ code, animalId }) => (code === undefined) !== (animalId === undefined), {
    message: "Name one of the buyer's animals by code, or one of ours by id, not both.",
  })
  .meta({ id: 'BuyerParentInput', description: "A possible parent of a buyer's animal" });

export const buyerAnimalSchema = z
  .object({
    code: codeSchema,
    sex: sexSchema.optional(),
    isAsked: z
      .boolean()
      .optional()
      .meta({ description: 'Compared with ours; else it is only known as a forebear' }),
    ourAnimalId: idSchema
      .optional()
      .meta({ description: 'It is this animal of our books; what we know of it counts' }),
    clutch: z.string().trim().max(60).optional(),
    sires: z.array(buyerParentSchema).max(50).optional(),
    dams: z.array(buyerParentSchema).max(50).optional(),
  })
  .meta({ id: 'BuyerAnimalInput', description: "One animal of the buyer's" });
export type BuyerAnimal = z.infer<typeof buyerAnimalSchema>;

export const MOST_BUYER_ANIMALS = 2000;
export const buyerSchema = z
  .array(buyerAnimalSchema)
  .max(MOST_BUYER_ANIMALS, `At most ${MOST_BUYER_ANIMALS} animals of a buyer.`);
