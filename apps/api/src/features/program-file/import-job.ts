import { randomUUID } from 'node:crypto';
import { Injectable } from '@nestjs/common';
import type { ImportProgramFileInput } from '@scutewright/commands';
import type { ComputePool } from '../../compute/compute-pool.js';
import { Database } from '../../db/database.js';
import { accessTo, type ProgramAccess } from '../../db/in-program.js';
import { notFound, UserError } from '../../graphql/errors.js';
import type { JobRow } from '../../jobs/job-rows.js';
import type { JobWork } from '../../jobs/job-runner.js';
import { Jobs } from '../../jobs/jobs.js';
import { findUpload, readUpload, type UploadRow, uploadPieces } from '../../uploads/uploads.js';
import { ImportProgram } from './import-program.js';
import { type ImportResult, resultOf } from './program-file.types.js';

export const IMPORT_KIND = 'import-program-file';

/** A larger file is read and written by a job, away from the thread that answers requests. */
const SMALL_BYTES = 128 * 1024;

/** Imports of uploaded files: small ones at once, larger ones as a job. */
@Injectable()
export class Imports {
  constructor(
    private readonly database: Database,
    private readonly jobs: Jobs,
    private readonly imports: ImportProgram,
  ) {}

  /** Looks at an upload or brings it in, and waits for the end however large it is. */
  async run(right: ProgramAccess, input: ImportProgramFileInput): Promise<ImportResult> {
    const upload = await uploadOf(this.database, right, input.uploadId);
    if (upload.size <= SMALL_BYTES) {
      const bytes = await readUpload(this.database, right, upload.id, 0, upload.size);
      return resultOf(await this.imports.bring(right, input, { name: upload.name, bytes }));
    }
    const { id } = await this.start(right, input);
    const { state, result, error } = await this.jobs.ended(id);
    if (state === 'DONE') return result as ImportResult;
    if (!error || error.code === 'INTERNAL') {
      throw new UserError(
        'CONFLICT',
        error?.message ?? 'Somebody stopped it; nothing was written.',
        {
          place: 'input.uploadId',
          remedy: error?.remedy ?? 'Start it again.',
        },
      );
    }
    throw new UserError(error.code as 'BAD_USER_INPUT', error.message, error);
  }

  /** Starts the same as a job. A dry run writes nothing, so each is a job of its own. */
  async start(right: ProgramAccess, input: ImportProgramFileInput): Promise<JobRow> {
    await uploadOf(this.database, right, input.uploadId);
    const { programId, accountId } = right;
    const id = input.isDryRun ? randomUUID() : input.commandId;
    return this.jobs.start({ id, kind: IMPORT_KIND, programId, accountId, input });
  }
}

/** The work of an import job, in the thread of the jobs: reading may block it for a while. */
export function importWork(database: Database, compute: Pick<ComputePool, 'run'>): JobWork {
  const imports = new ImportProgram(database, compute as ComputePool);
  return async (job, run) => {
    const input = job.input as ImportProgramFileInput;
    // Asked again: the right may have been taken away since the job was started.
    const right = await accessTo(database, job.accountId ?? '', job.programId ?? '');
    if (!right || right.role === 'READER') {
      throw new UserError('FORBIDDEN', 'You may no longer write into this program.', {
        remedy: 'Ask an owner of the program.',
      });
    }
    run.report(0.01, 'Fetching the file');
    const upload = await uploadOf(database, right, input.uploadId);
    const file = { ...upload, pieces: () => uploadPieces(database, right, upload) };
    run.stopIfAsked();
    return resultOf(await imports.bring(right, input, file, undefined, run));
  };
}

/** A file that was sent to this program. Throws NOT_FOUND. */
export async function uploadOf(
  database: Database,
  right: ProgramAccess,
  id: string,
): Promise<UploadRow> {
  const upload = await findUpload(database, right, id);
  if (upload) return upload;
  throw notFound(
    'such upload',
    'input.uploadId',
    'Send the file again; uploads are kept for a day.',
  );
}
