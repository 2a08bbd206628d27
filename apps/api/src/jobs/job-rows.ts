import type { Database } from '../db/database.js';
import type { JobState } from '../generated/prisma/client.js';

/** Without a sign of life for so long, whoever ran a job is believed gone and the job is taken up again. */
export const LEASE_SECONDS = 30;
/** A job that ended its process so often is not tried again. */
const MOST_ATTEMPTS = 4;

export interface NewJob {
  readonly id: string;
  readonly kind: string;
  /** Null where the service starts it by itself. */
  readonly accountId: string | null;
  readonly programId: string | null;
  readonly input: object;
}

/** What a job that ended badly tells its owner. */
export interface JobError {
  readonly code: string;
  readonly message: string;
  readonly remedy: string;
  readonly place?: string;
}

export interface JobRow extends NewJob {
  readonly state: JobState;
  readonly progress: number;
  readonly sentence: string;
  readonly result: unknown;
  readonly error: JobError | null;
  readonly cancelAsked: boolean;
  readonly createdAt: Date;
  readonly finishedAt: Date | null;
}

/** Rows of `job`. Of no program, so read here outside any program's door; who may see one is asked in `Jobs`. */
export class JobRows {
  constructor(private readonly database: Database) {}

  /** False where a job of this id is there already, or one of the service's own of this kind is still open. */
  async add(job: NewJob): Promise<boolean> {
    const { count } = await this.database.prisma.job.createMany({
      data: [{ ...job, input: { ...job.input } }],
      skipDuplicates: true,
    });
    return count === 1;
  }

  async find(id: string): Promise<JobRow | null> {
    const row = await this.database.prisma.job.findUnique({ where: { id } });
    return row && { ...row, input: row.input as object, error: row.error as JobError | null };
  }

  /** The last finished job of a kind, or null. */
  async last(kind: string): Promise<JobRow | null> {
    const row = await this.database.prisma.job.findFirst({
      where: { kind, finishedAt: { not: null } },
      orderBy: { finishedAt: 'desc' },
      select: { id: true },
    });
    return row && this.find(row.id);
  }

  /** Takes the job for one runner: null where another has it, or it ended. */
  async claim(id: string): Promise<JobRow | null> {
    const claimed = await this.database.prisma.$executeRaw`
      UPDATE job SET state = 'RUNNING', attempts = attempts + 1, progress = 0, sentence = '',
        lease_until = now() + make_interval(secs => ${LEASE_SECONDS})
      WHERE id = ${id}::uuid AND (state = 'QUEUED' OR state = 'RUNNING' AND lease_until < now())`;
    return claimed === 1 ? this.find(id) : null;
  }

  /** A sign of life; answers whether somebody asked to stop. */
  async keep(id: string, progress: number, sentence: string): Promise<boolean> {
    const [row] = await this.database.prisma.$queryRaw<{ cancel_asked: boolean }[]>`
      UPDATE job SET lease_until = now() + make_interval(secs => ${LEASE_SECONDS}),
        progress = ${progress}, sentence = ${sentence}
      WHERE id = ${id}::uuid AND state = 'RUNNING' RETURNING cancel_asked`;
    return row?.cancel_asked ?? true;
  }

  /** Gives jobs up that will not be ended here. */
  async release(ids: readonly string[]): Promise<void> {
    await this.database.prisma.job.updateMany({
      where: { id: { in: [...ids] }, state: 'RUNNING' },
      data: { leaseUntil: new Date(0), attempts: { decrement: 1 } },
    });
  }

  async finish(
    id: string,
    end: { state: JobState; result?: object; error?: JobError },
  ): Promise<void> {
    await this.database.prisma.job.updateMany({
      where: { id, state: 'RUNNING' },
      data: {
        state: end.state,
        finishedAt: new Date(),
        leaseUntil: null,
        ...(end.state === 'DONE' && { progress: 1 }),
        ...(end.result && { result: { ...end.result } }),
        ...(end.error && { error: { ...end.error } }),
      },
    });
  }

  /** One that waits ends at once; one that runs is asked to stop. */
  async cancel(id: string): Promise<void> {
    await this.database.prisma.$executeRaw`
      UPDATE job SET cancel_asked = true,
        state = CASE WHEN state = 'QUEUED' THEN 'CANCELLED'::job_state ELSE state END,
        finished_at = CASE WHEN state = 'QUEUED' THEN now() ELSE finished_at END
      WHERE id = ${id}::uuid AND state IN ('QUEUED', 'RUNNING')`;
  }

  /**
   * Ids of jobs to be sent out: the service's own that wait, those whose runner is gone, and those
   * that wait although they were sent long ago. Gives up on one that took its process down each time.
   */
  async waiting(): Promise<string[]> {
    const error: JobError = {
      code: 'INTERNAL',
      message: `The service ended ${MOST_ATTEMPTS} times while it worked on this.`,
      remedy: 'Look at the last words of the service; try it with a smaller file.',
    };
    await this.database.prisma.$executeRaw`
      UPDATE job SET state = 'FAILED', finished_at = now(), error = ${JSON.stringify(error)}::jsonb
      WHERE state = 'RUNNING' AND lease_until < now() AND attempts >= ${MOST_ATTEMPTS}`;
    const rows = await this.database.prisma.$queryRaw<{ id: string }[]>`
      UPDATE job SET state = 'QUEUED', lease_until = NULL, created_at = now()
      WHERE state = 'RUNNING' AND lease_until < now()
        OR state = 'QUEUED' AND (account_id IS NULL OR created_at < now() - interval '20 seconds')
      RETURNING id`;
    return rows.map(({ id }) => id);
  }

  /** Ends of the account's long ago are forgotten. */
  async forgetOld(): Promise<void> {
    await this.database.prisma.$executeRaw`
      DELETE FROM job WHERE finished_at < now() - interval '60 days'`;
  }
}
