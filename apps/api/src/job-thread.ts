import 'reflect-metadata';
import { parentPort, workerData } from 'node:worker_threads';
import type { ComputePool } from './compute/compute-pool.js';
import runTask, { type TaskName } from './compute/worker.js';
import type { Config } from './config.js';
import { Database } from './db/database.js';
import { RESTORE_KIND, restoreWork } from './features/archive/archive-job.js';
import { backupWorks, queueDueBackups } from './features/archive/backup-jobs.js';
import { IMPORT_KIND, importWork } from './features/program-file/import-job.js';
import { Dispatch } from './jobs/dispatch.js';
import { JobRows } from './jobs/job-rows.js';
import { JobRunner } from './jobs/job-runner.js';

// The thread that does the jobs: composes the work of each kind, as app.module.ts composes the
// service. It has connections of its own, and may block on one job as long as its lease.

const SWEEP_MS = 5_000;

const config = workerData as Config;
const database = new Database(config.databaseUrl, 'scutewright-jobs', 6);
const rows = new JobRows(database);
const dispatch = new Dispatch(config.databaseUrl);
// Nobody waits for this thread, so what the service gives to worker threads is done here.
const inPlace = {
  run: async (name: TaskName, input: unknown) => runTask({ name, input }),
} as Pick<ComputePool, 'run'>;

const runner = new JobRunner(
  rows,
  {
    [IMPORT_KIND]: importWork(database, inPlace),
    [RESTORE_KIND]: restoreWork(database),
    ...backupWorks(database, config),
  },
  (jobId) => parentPort?.postMessage({ ended: jobId }),
);

/** Also what waited while no process ran: the queue and the rows are brought together again. */
async function sweep(): Promise<void> {
  await queueDueBackups(rows, config, new Date());
  for (const id of await rows.waiting()) await dispatch.send(id);
  await rows.forgetOld();
}

await dispatch.start();
await dispatch.work((jobId) => runner.run(jobId));
await sweep();
const timer = setInterval(() => {
  sweep().catch((error) => console.error(`Jobs could not be looked through: ${error}`));
}, SWEEP_MS);

parentPort?.on('message', async (message: { send?: string; stop?: boolean }) => {
  if (message.send) await dispatch.send(message.send);
  if (!message.stop) return;
  clearInterval(timer);
  await runner.abandon().catch((error) => console.error(`Jobs were not given up: ${error}`));
  // Ends this thread alone; what it was writing is rolled back with its connection.
  process.exit(0);
});
