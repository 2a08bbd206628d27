import { randomUUID } from 'node:crypto';
import { ArchiveFault } from '@scutewright/commands';
import type { Database } from '../../db/database.js';
import { accessTo } from '../../db/in-program.js';
import { notFound, UserError } from '../../graphql/errors.js';
import type { JobRow } from '../../jobs/job-rows.js';
import type { JobWork } from '../../jobs/job-runner.js';
import type { Jobs } from '../../jobs/jobs.js';
import { dropUpload, findUpload, readUpload, type UploadRow } from '../../uploads/uploads.js';
import { restoreArchive } from './restore-archive.js';

export const RESTORE_KIND = 'restore-archive';

interface RestoreInput {
  readonly uploadId: string;
  /** Chosen when the job is started, so that it makes one program however often it runs. */
  readonly programId: string;
}

export interface RestoreResult {
  readonly programId: string;
}

/** Starts to make a new program of an uploaded archive; the same command id again starts nothing anew. */
export async function startRestore(
  database: Database,
  jobs: Jobs,
  accountId: string,
  input: { commandId: string; uploadId: string },
): Promise<JobRow> {
  await uploadOf(database, accountId, input.uploadId);
  const work: RestoreInput = { uploadId: input.uploadId, programId: randomUUID() };
  return jobs.start({
    id: input.commandId,
    kind: RESTORE_KIND,
    accountId,
    programId: null,
    input: work,
  });
}

/** The work of a restore. */
export function restoreWork(database: Database): JobWork {
  return async (job, run): Promise<RestoreResult> => {
    const { uploadId, programId } = job.input as RestoreInput;
    const accountId = job.accountId ?? '';
    // Run again after a kill between the last write and its note: it is there already.
    if (await accessTo(database, accountId, programId)) return { programId };
    const { id, size } = await uploadOf(database, accountId, uploadId);
    const bytes = {
      size,
      read: (offset: number, length: number) =>
        readUpload(database, { accountId }, id, offset, length),
    };
    try {
      await restoreArchive(database, { accountId, programId }, bytes, run);
    } catch (error) {
      if (!(error instanceof ArchiveFault)) throw error;
      throw new UserError('BAD_USER_INPUT', error.message, {
        place: 'input.uploadId',
        remedy: error.remedy,
      });
    }
    await dropUpload(database, { accountId }, id);
    return { programId };
  };
}

async function uploadOf(database: Database, accountId: string, id: string): Promise<UploadRow> {
  const upload = await findUpload(database, { accountId }, id);
  if (upload) return upload;
  throw notFound(
    'such upload',
    'input.uploadId',
    'Send the archive again; uploads are kept for a day.',
  );
}
