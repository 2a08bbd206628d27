import { z } from 'zod';

export const emailSchema = z
  .email('This does not look like an e-mail address; it needs an @ and a domain.')
  .trim()
  .toLowerCase()
  .max(254);

export const passwordSchema = z
  .string()
  .min(12, 'A password has at least 12 characters; a short sentence is easy to keep in mind.')
  .max(256, 'A password has at most 256 characters.');

export const setPasswordSchema = z
  .object({
    email: emailSchema,
    name: z.string().trim().min(1).max(120).optional(),
    password: passwordSchema,
  })
  .meta({ id: 'SetPasswordInput', description: 'How this person signs in from now on' });

export const signInSchema = z
  .object({ email: z.string().trim().toLowerCase().max(254), password: z.string().max(256) })
  .meta({ id: 'SignInInput', description: 'E-mail and password' });
