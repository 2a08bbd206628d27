import { Worker } from 'node:worker_threads';
import { Injectable, Logger, type OnApplicationShutdown } from '@nestjs/common';
import { Config } from '../config.js';
import { Database } from '../db/database.js';
import { accessTo } from '../db/in-program.js';
import { notFound } from '../graphql/errors.js';
import { type JobRow, JobRows, type NewJob } from './job-rows.js';

const log = new Logger('Jobs');
const IDLE_START_MS = 10_000;

/**
 * Long work, done by a thread of this process that takes part in the dispatch: the thread may
 * block on a large file without keeping any request waiting.
 */
@Injectable()
export class Jobs implements OnApplicationShutdown {
  readonly rows: JobRows;
  private thread: Worker | null = null;
  private isStopping = false;
  private readonly waiting = new Map<string, () => void>();

  constructor(
    private readonly database: Database,
    private readonly config: Config,
  ) {
    this.rows = new JobRows(database);
  }

  /**
   * Called once the service listens. The thread starts at the first job, or a little later for
   * what was left over, so that it does not hold up the first requests.
   */
  begin(): void {
    setTimeout(() => this.startThread(), IDLE_START_MS).unref();
  }

  private startThread(): void {
    if (this.thread || this.isStopping) return;
    const thread = new Worker(new URL('../job-thread.js', import.meta.url), {
      workerData: { ...this.config },
    });
    this.thread = thread;
    thread.on('message', ({ ended }: { ended: string }) => this.waiting.get(ended)?.());
    thread.on('error', (error) => log.error(`The thread of the jobs ended: ${error.stack}`));
    thread.once('exit', () => {
      this.thread = null;
      // What it worked on is taken up again when its lease runs out.
      if (!this.isStopping) setTimeout(() => this.startThread(), 1000).unref();
    });
  }

  /** Puts a job into the queue; the same id again starts nothing anew. Answers its row. */
  async start(job: NewJob): Promise<JobRow> {
    await this.rows.add(job);
    this.startThread();
    this.thread?.postMessage({ send: job.id });
    const row = await this.rows.find(job.id);
    if (row && row.accountId === job.accountId && row.programId === job.programId) return row;
    throw notFound('such job', 'input.commandId', 'Make a new id for each act.');
  }

  /** Waits for the job to end, also where another process runs it. */
  async ended(id: string): Promise<JobRow> {
    for (;;) {
      const told = new Promise<void>((resolve) => {
        this.waiting.set(id, resolve);
        setTimeout(resolve, 1000).unref();
      });
      const row = await this.rows.find(id);
      if (!row) throw notFound('such job', 'jobId', 'Start it anew.');
      if (row.finishedAt) {
        this.waiting.delete(id);
        return row;
      }
      await told;
    }
  }

  /** A job of this account. Of a program: only as long as the account is a member. Throws NOT_FOUND. */
  async find(accountId: string, id: string): Promise<JobRow> {
    const row = await this.rows.find(id);
    const isTheirs =
      row?.accountId === accountId &&
      (row.programId === null || (await accessTo(this.database, accountId, row.programId)));
    if (row && isTheirs) return row;
    throw notFound('such job among yours', 'jobId', 'Start it anew.');
  }

  async onApplicationShutdown(): Promise<void> {
    this.isStopping = true;
    const { thread } = this;
    if (!thread) return;
    const gone = new Promise((resolve) => thread.once('exit', resolve));
    thread.postMessage({ stop: true });
    const late = setTimeout(() => void thread.terminate(), 3000);
    await gone;
    clearTimeout(late);
  }
}
