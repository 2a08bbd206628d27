import { z } from 'zod';
import { commandIdSchema, idSchema, partialDateSchema } from './vocabulary.js';

/** A larger photograph is refused; the console makes them smaller before it sends them. */
export const MOST_PHOTO_BYTES = 5 * 2 ** 20;
/** What all photographs of a program may take together. */
export const PHOTO_ROOM_BYTES = 500 * 2 ** 20;

const captionSchema = z
  .string()
  .trim()
  .max(300, 'A caption has at most 300 characters.')
  .meta({ description: 'What is to be seen on it' });

export const addPhotoSchema = z
  .object({
    commandId: commandIdSchema,
    uploadId: idSchema.meta({ description: 'What the upload of the picture answered' }),
    animalId: idSchema,
    date: partialDateSchema.nullish(),
    caption: captionSchema.nullish(),
  })
  .meta({ id: 'AddPhotoInput', description: 'A photograph of an animal: JPEG, PNG or WebP' });
export type AddPhotoInput = z.infer<typeof addPhotoSchema>;

export const removePhotoSchema = z
  .object({ commandId: commandIdSchema, photoId: idSchema })
  .meta({ id: 'RemovePhotoInput', description: 'A photograph to be taken away' });
export type RemovePhotoInput = z.infer<typeof removePhotoSchema>;
