import { z } from 'zod';
import { idSchema } from './vocabulary.js';

export const cancelJobSchema = z
  .object({ jobId: idSchema })
  .meta({ id: 'CancelJobInput', description: 'A job to stop' });
