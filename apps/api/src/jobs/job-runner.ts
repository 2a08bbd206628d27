import { randomUUID } from 'node:crypto';
import { Logger } from '@nestjs/common';
import { UserError } from '../graphql/errors.js';
import { type JobError, type JobRow, JobRows } from './job-rows.js';

/** What the work of a job is given beside its row. */
export interface JobRun {
  /** Tells how far it is, from 0 to 1, and what it does now. */
  report(progress: number, sentence: string): void;
  /** Throws where somebody asked to stop. Call it wherever stopping leaves nothing half done. */
  stopIfAsked(): void;
}

/**
 * The work of one kind of job. May run again after a kill, so whatever it writes it writes by a
 * command (once by its id). Answers plain data for the job's row.
 */
export type JobWork = (job: JobRow, run: JobRun) => Promise<object>;

class Stopped extends Error {}

const log = new Logger('Jobs');
const BEAT_MS = 500;

/** Runs jobs by their ids, one attempt each, and writes down how they ended. Never throws. */
export class JobRunner {
  private readonly running = new Map<string, NodeJS.Timeout>();

  constructor(
    private readonly rows: JobRows,
    private readonly works: Readonly<Record<string, JobWork>>,
    private readonly onEnd: (jobId: string) => void,
  ) {}

  async run(jobId: string): Promise<void> {
    const job = await this.rows.claim(jobId);
    if (!job) return;
    let progress = 0;
    let sentence = '';
    let isStopped = job.cancelAsked;
    let beating = Promise.resolve();
    const beat = () => {
      beating = beating
        .then(async () => {
          isStopped ||= await this.rows.keep(jobId, progress, sentence);
        })
        // The database may be away for a moment; the lease is longer than that.
        .catch((error) => log.warn(`Job ${jobId} could not tell its progress: ${error}`));
    };
    const timer = setInterval(beat, BEAT_MS);
    this.running.set(jobId, timer);
    const run: JobRun = {
      report(share, words) {
        progress = Math.min(1, Math.max(0, share));
        sentence = words;
      },
      stopIfAsked() {
        if (isStopped) throw new Stopped();
      },
    };
    let end: Parameters<JobRows['finish']>[1];
    try {
      const work = this.works[job.kind];
      if (!work) throw new Error(`No work is known for jobs of kind ${job.kind}`);
      run.stopIfAsked();
      end = { state: 'DONE', result: await work(job, run) };
    } catch (error) {
      end =
        error instanceof Stopped
          ? { state: 'CANCELLED' }
          : { state: 'FAILED', error: told(error, job) };
    } finally {
      clearInterval(timer);
      this.running.delete(jobId);
    }
    await beating;
    await this.rows.finish(jobId, end);
    this.onEnd(jobId);
  }

  /** Before the process ends: whoever comes next need not wait for the leases. */
  async abandon(): Promise<void> {
    for (const timer of this.running.values()) clearInterval(timer);
    await this.rows.release([...this.running.keys()]);
  }
}

function told(error: unknown, job: JobRow): JobError {
  if (error instanceof UserError) {
    const { code, remedy, place } = error.extensions;
    return {
      code: String(code),
      message: error.message,
      remedy: String(remedy ?? ''),
      ...(typeof place === 'string' && { place }),
    };
  }
  const reference = randomUUID().slice(0, 8);
  log.error(`${reference}: ${job.kind}: ${error instanceof Error ? error.stack : error}`);
  const isFull = String(error).includes('53100') || String(error).includes('ENOSPC');
  return {
    code: 'INTERNAL',
    message: isFull
      ? 'The disk of the service is full; nothing was written.'
      : 'Something went wrong on our side; nothing was written.',
    remedy: isFull
      ? 'Free some space on the computer that runs it, then start this again.'
      : `Start it again. If it fails again, look for ${reference} in the log of the service.`,
  };
}
