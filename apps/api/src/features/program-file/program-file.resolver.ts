import { Args, ID, Mutation, Parent, Query, ResolveField, Resolver } from '@nestjs/graphql';
import { type ImportProgramFileInput, importProgramFileSchema } from '@scutewright/commands';
import { Access, Ctx, Right, rightTo } from '../../auth/access.js';
import { Sessions } from '../../auth/sessions.js';
import { Database } from '../../db/database.js';
import type { ProgramAccess } from '../../db/in-program.js';
import type { RequestContext } from '../../graphql/context.js';
import { Input } from '../../graphql/input-from-zod.js';
import { Job, toJob } from '../../jobs/job.types.js';
import { readProgramRow } from '../programs/programs.resolver.js';
import { exportText } from './export-program.js';
import { IMPORT_KIND, Imports } from './import-job.js';
import { ImportPayload, type ImportResult } from './program-file.types.js';

@Resolver(() => Job)
export class ProgramFileResolver {
  constructor(
    private readonly database: Database,
    private readonly sessions: Sessions,
    private readonly imports: Imports,
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
