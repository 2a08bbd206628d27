import { z } from 'zod';
import { commandIdSchema, idSchema, roleSchema } from './vocabulary.js';

export const createProgramSchema = z
  .object({
    commandId: commandIdSchema,
    name: z
      .string()
      .trim()
      .min(1, 'Give the program a name.')
      .max(120, 'A name has at most 120 characters.'),
  })
  .meta({ id: 'CreateProgramInput', description: 'A new, empty breeding program' });

export const inviteMemberSchema = z
  .object({ commandId: commandIdSchema, role: roleSchema })
  .meta({ id: 'InviteMemberInput', description: 'A one-time link for one new member' });

export const changeRoleSchema = z
  .object({ commandId: commandIdSchema, accountId: idSchema, role: roleSchema })
  .meta({ id: 'ChangeRoleInput', description: 'What a member may do from now on' });

export const removeMemberSchema = z
  .object({ commandId: commandIdSchema, accountId: idSchema })
  .meta({ id: 'RemoveMemberInput', description: 'A member who leaves the program' });

export const undoSchema = z
  .object({ commandId: commandIdSchema, undoes: idSchema })
  .meta({ id: 'UndoInput', description: 'Takes one earlier act back, if nothing stands on it' });
export type UndoInput = z.infer<typeof undoSchema>;
