import { parsePartialDate } from '@scutewright/basics';
import { z } from 'zod';

// The words that several commands share. `meta({ id })` is the name under which the API shows them.

export const sexSchema = z.enum(['FEMALE', 'MALE', 'UNKNOWN']).meta({
  id: 'Sex',
  description: 'What is known of the sex; UNKNOWN where nobody could tell',
});
export type Sex = z.infer<typeof sexSchema>;

export const originSchema = z.enum(['HATCHED_HERE', 'ACQUIRED', 'ANCESTOR_ONLY']).meta({
  id: 'Origin',
  description: 'Hatched in this program, acquired from elsewhere, or known only as an ancestor',
});
export type Origin = z.infer<typeof originSchema>;

export const roleSchema = z.enum(['READER', 'KEEPER', 'OWNER']).meta({
  id: 'Role',
  description: 'A reader looks; a keeper also records; an owner also manages members',
});
export type Role = z.infer<typeof roleSchema>;

export const idSchema = z.uuid('This is not an id; take it from the list instead of typing it.');

/** Made by the client: the same act sent twice is done once. */
export const commandIdSchema = idSchema.meta({
  description: 'Made by the client for this act; the same act sent again is not done again',
});

export const codeSchema = z
  .string()
  .trim()
  .min(1, 'Give a code, for example HB-012.')
  .max(60, 'A code has at most 60 characters.')
  .regex(/^[^|:;,\n\r\t]+$/, 'A code cannot hold any of | : ; , since lists of codes use them.')
  .meta({
    description: 'Unique in the program, as on the label of the animal; 1 to 60 characters',
  });

export const nameSchema = z.string().trim().max(120, 'A name has at most 120 characters.');

export const notesSchema = z.string().trim().max(20_000, 'Notes have at most 20,000 characters.');

export const partialDateSchema = z
  .string()
  .trim()
  .refine((text) => parsePartialDate(text) !== null, {
    message: 'This is not a date. Write 2011, 2011-06 or 2011-06-03, with ~ behind it for about.',
  })
  .meta({
    description: 'A year, month or day: 2011, 2011-06, 2011-06-03; with ~ behind it for about',
  });

export const probabilitySchema = z
  .number()
  .gt(0, 'A probability is over 0.')
  .max(1, 'A probability is at most 1.');
