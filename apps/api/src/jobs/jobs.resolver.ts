import { Args, ID, Mutation, Query, Resolver } from '@nestjs/graphql';
import { cancelJobSchema, idSchema } from '@scutewright/commands';
import type { z } from 'zod';
import { Access, Ctx } from '../auth/access.js';
import { Sessions } from '../auth/sessions.js';
import type { RequestContext } from '../graphql/context.js';
import { check, Input } from '../graphql/input-from-zod.js';
import { Job, toJob } from './job.types.js';
import { Jobs } from './jobs.js';

@Resolver(() => Job)
export class JobsResolver {
  constructor(
    private readonly jobs: Jobs,
    private readonly sessions: Sessions,
  ) {}

  @Access('account')
  @Query(() => Job, { description: 'A job that the viewer started' })
  async job(
    @Ctx() context: RequestContext,
    @Args('jobId', { type: () => ID }) jobId: string,
  ): Promise<Job> {
    return toJob(await this.find(context, check(idSchema, jobId, 'jobId')));
  }

  @Access('account')
  @Mutation(() => Job, {
    description: 'Asks a job to stop. Nothing of it is written, unless it had just ended well',
  })
  async cancelJob(
    @Ctx() context: RequestContext,
    @Input(cancelJobSchema) input: z.output<typeof cancelJobSchema>,
  ): Promise<Job> {
    const { id } = await this.find(context, input.jobId);
    await this.jobs.rows.cancel(id);
    return toJob(await this.find(context, id));
  }

  private async find(context: RequestContext, id: string) {
    const signedIn = await this.sessions.signedIn(context);
    if (!signedIn) throw new Error('The rule of this operation asks for a signed-in account');
    return this.jobs.find(signedIn.accountId, id);
  }
}
