import { Mutation, Parent, ResolveField, Resolver } from '@nestjs/graphql';
import { startRestoreSchema } from '@scutewright/commands';
import type { z } from 'zod';
import { Access, Ctx, rightTo } from '../../auth/access.js';
import { Sessions } from '../../auth/sessions.js';
import { Database } from '../../db/database.js';
import type { RequestContext } from '../../graphql/context.js';
import { Input } from '../../graphql/input-from-zod.js';
import { Job, toJob } from '../../jobs/job.types.js';
import { Jobs } from '../../jobs/jobs.js';
import { Program } from '../programs/program.types.js';
import { readProgramRow } from '../programs/programs.resolver.js';
import { RESTORE_KIND, type RestoreResult, startRestore } from './archive-job.js';

@Resolver(() => Job)
export class ArchiveResolver {
  constructor(
    private readonly database: Database,
    private readonly sessions: Sessions,
    private readonly jobs: Jobs,
  ) {}

  @Access('account')
  @Mutation(() => Job, {
    description:
      'Makes a new program of an uploaded archive, with the viewer as its owner: all or nothing',
  })
  async startRestore(
    @Ctx() context: RequestContext,
    @Input(startRestoreSchema) input: z.output<typeof startRestoreSchema>,
  ): Promise<Job> {
    const signedIn = await this.sessions.signedIn(context);
    if (!signedIn) throw new Error('The rule of this operation asks for a signed-in account');
    return toJob(await startRestore(this.database, this.jobs, signedIn.accountId, input));
  }

  @ResolveField(() => Program, {
    nullable: true,
    description: 'The program that a restore made; null until it is done, and for other jobs',
  })
  async restored(@Parent() job: Job, @Ctx() context: RequestContext): Promise<Program | null> {
    if (job.kind !== RESTORE_KIND || job.state !== 'DONE') return null;
    const { programId } = job.result as RestoreResult;
    const right = await rightTo(this.database, this.sessions, context, programId, 'READER');
    return readProgramRow(this.database, right);
  }
}
