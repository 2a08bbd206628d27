import PgBoss from 'pg-boss';

/** The one queue: what is to be done stands in the job's row. */
const QUEUE = 'job';

/**
 * Hands the ids of jobs out to whichever process is free. At least once: a job's row decides
 * who really runs it (`JobRows.claim`).
 */
export class Dispatch {
  private readonly boss: PgBoss;
  private readonly workers: string[] = [];

  constructor(url: string) {
    this.boss = new PgBoss({
      connectionString: url,
      application_name: 'scutewright-jobs',
      max: 2,
      migrate: false,
      schedule: false,
    });
    // A lost connection: the next poll finds a new one.
    this.boss.on('error', () => {});
  }

  async start(): Promise<void> {
    await this.boss.start();
  }

  /** Two at a time, so that a long backup does not hold up an import. */
  async work(run: (jobId: string) => Promise<void>): Promise<void> {
    for (let i = 0; i < 2; i++) {
      this.workers.push(
        await this.boss.work<{ jobId: string }>(
          QUEUE,
          { pollingIntervalSeconds: 1, batchSize: 1 },
          async ([{ data }]) => run(data.jobId),
        ),
      );
    }
  }

  async send(jobId: string): Promise<void> {
    await this.boss.send(QUEUE, { jobId }, { expireInHours: 12, retryLimit: 0 });
    this.wake();
  }

  /** Looks for work now instead of at the next poll. */
  wake(): void {
    for (const id of this.workers) this.boss.notifyWorker(id);
  }
}

/** The dispatcher's own tables, made by the owner of the database before the service starts. */
export async function installDispatch(url: string): Promise<void> {
  const boss = new PgBoss({ connectionString: url, max: 1, supervise: false, schedule: false });
  let failure: Error | null = null;
  boss.on('error', (error) => {
    failure = error;
  });
  await boss.start();
  await boss.createQueue(QUEUE);
  await boss.stop({ graceful: false, wait: true });
  if (failure) throw failure;
}
