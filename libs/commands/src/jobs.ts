import { z } from 'zod';
import { commandIdSchema, idSchema } from './vocabulary.js';

export const cancelJobSchema = z
  .object({ jobId: idSchema })
  .meta({ id: 'CancelJobInput', description: 'A job to stop' });

export const startRestoreSchema = z
  .object({
    commandId: commandIdSchema,
    uploadId: idSchema.meta({ description: 'What the upload of the archive answered' }),
  })
  .meta({ id: 'StartRestoreInput', description: 'An archive that is to become a new program' });

export const startBackupSchema = z
  .object({ commandId: commandIdSchema })
  .meta({ id: 'StartBackupInput', description: 'A backup of all programs, made now' });
