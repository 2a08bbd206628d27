import { z } from 'zod';
import {
  codeSchema,
  commandIdSchema,
  idSchema,
  nameSchema,
  notesSchema,
  originSchema,
  partialDateSchema,
  probabilitySchema,
  sexSchema,
} from './vocabulary.js';

export const parentSchema = z
  .object({
    animalId: idSchema.meta({ description: 'The animal that may be the parent' }),
    probability: probabilitySchema
      .optional()
      .meta({ description: '0 to 1; left out, the candidates share what is left evenly' }),
  })
  .meta({ id: 'ParentInput', description: 'One possible father or mother' });
export type ParentInput = z.infer<typeof parentSchema>;

const parentsSchema = z.array(parentSchema).max(200, 'At most 200 possible parents can be named.');

const speciesSchema = z
  .string()
  .trim()
  .min(1, 'Give the species, for example Testudo hermanni.')
  .max(120, 'A species name has at most 120 characters.');

const record = {
  name: nameSchema.nullish(),
  sex: sexSchema.optional(),
  origin: originSchema.optional(),
  hatched: partialDateSchema.nullish(),
  sires: parentsSchema
    .optional()
    .meta({ description: 'Possible fathers; what is missing to 1 is a male nobody recorded' }),
  dams: parentsSchema
    .optional()
    .meta({ description: 'Possible mothers; what is missing to 1 is a female nobody recorded' }),
  notes: notesSchema.nullish(),
};

export const addAnimalSchema = z
  .object({ commandId: commandIdSchema, code: codeSchema, species: speciesSchema, ...record })
  .meta({ id: 'AddAnimalInput', description: 'A new animal' });
export type AddAnimalInput = z.infer<typeof addAnimalSchema>;

export const editAnimalSchema = z
  .object({
    commandId: commandIdSchema,
    animalId: idSchema,
    code: codeSchema.optional(),
    species: speciesSchema.optional(),
    ...record,
  })
  .meta({
    id: 'EditAnimalInput',
    description: 'What to correct; what is left out stays, null empties',
  });
export type EditAnimalInput = z.infer<typeof editAnimalSchema>;

export const removeAnimalSchema = z
  .object({ commandId: commandIdSchema, animalId: idSchema })
  .meta({ id: 'RemoveAnimalInput', description: 'An animal entered by mistake' });
export type RemoveAnimalInput = z.infer<typeof removeAnimalSchema>;
