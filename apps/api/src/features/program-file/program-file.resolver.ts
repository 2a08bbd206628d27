import { Args, ID, Mutation, Parent, Query, ResolveField, Resolver } from '@nestjs/graphql';
import {
  type ColumnMap,
  EMPTY_PROGRAM,
  type ImportProgramFileInput,
  importProgramFileSchema,
  type LookAtImportInput,
  lookAtImportSchema,
} from '@scutewright/commands';
import { Access, Ctx, Right, rightTo } from '../../auth/access.js';
import { Sessions } from '../../auth/sessions.js';
import { ComputePool } from '../../compute/compute-pool.js';
import { Database } from '../../db/database.js';
import { type ProgramAccess, readProgram } from '../../db/in-program.js';
import type { RequestContext } from '../../graphql/context.js';
import { Input } from '../../graphql/input-from-zod.js';
import { Job, toJob } from '../../jobs/job.types.js';
import { readUpload } from '../../uploads/uploads.js';
import { readProgramRow } from '../programs/programs.resolver.js';
import { exportText } from './export-program.js';
import { IMPORT_KIND, Imports, uploadOf } from './import-job.js';
import { readKeptReadings } from './kept-readings.js';
import { ImportPayload, type ImportResult } from './program-file.types.js';

@Resolver(() => Job)
export class ProgramFileResolver {
  constructor(
    private readonly database: Database,
    private readonly sessions: Sessions,
    private readonly imports: Imports,
    private readonly pool: ComputePool,
  ) {}

  @Access('KEEPER')
  @Mutation(() => ImportPayload, {
    description:
      'Looks at an uploaded program file, or brings it in: all or nothing, as one act that can be undone',
  })
  async importProgramFile(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Input(importProgramFileSchema) input: ImportProgramFileInput,
  ): Promise<ImportPayload> {
    const result = await this.imports.run(right, input);
    return { ...result, program: await readProgramRow(this.database, right) };
  }

  @Access('KEEPER')
  @Mutation(() => Job, {
    description: 'The same as importProgramFile, without waiting: ask `job` until it has finished',
  })
  async startImport(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Input(importProgramFileSchema) input: ImportProgramFileInput,
  ): Promise<Job> {
    return toJob(await this.imports.start(right, input));
  }

  @Access('KEEPER')
  @Query(() => String, {
    description: 'An uploaded file with the corrections in it (UTF-8); all else stands as it did',
  })
  async mendedFile(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Input(lookAtImportSchema) input: LookAtImportInput,
  ): Promise<string> {
    const upload = await uploadOf(this.database, right, input.uploadId);
    const read = await readProgram(this.database, right, async (client) => ({
      known: EMPTY_PROGRAM,
      kept: await readKeptReadings(client),
    }));
    return this.pool.run('mendFile', {
      bytes: await readUpload(this.database, right, upload.id, 0, upload.size),
      ...read,
      map: input.map as Partial<ColumnMap> | undefined,
      corrections: input.corrections,
      today: 0,
    });
  }

  @ResolveField('import', () => ImportPayload, {
    nullable: true,
    description: 'What an import found or did; null until it is done, and for other kinds of jobs',
  })
  async importOf(
    @Parent() job: Job,
    @Ctx() context: RequestContext,
  ): Promise<ImportPayload | null> {
    if (job.kind !== IMPORT_KIND || job.state !== 'DONE' || !job.programId) return null;
    const right = await rightTo(this.database, this.sessions, context, job.programId, 'READER');
    return {
      ...(job.result as ImportResult),
      program: await readProgramRow(this.database, right),
    };
  }

  @Access('READER')
  @Query(() => String, { description: 'The animals as a program file (CSV, UTF-8)' })
  exportProgram(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Args('formulaSafe', {
      type: () => Boolean,
      defaultValue: false,
      description: 'Puts an apostrophe before cells that a spreadsheet would run as formulas',
    })
    formulaSafe: boolean,
  ): Promise<string> {
    return exportText(this.database, right, formulaSafe);
  }
}
