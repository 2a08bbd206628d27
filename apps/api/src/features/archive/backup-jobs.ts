import { randomUUID } from 'node:crypto';
import type { Config } from '../../config.js';
import type { Database } from '../../db/database.js';
import { UserError } from '../../graphql/errors.js';
import type { JobRow, JobRows } from '../../jobs/job-rows.js';
import type { JobWork } from '../../jobs/job-runner.js';
import { checkBackup, makeBackup } from './backup.js';

export const BACKUP_KIND = 'backup';
export const CHECK_KIND = 'check-backup';

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;
/** Local time: when nobody works, where the computer is on at night at all. */
const NIGHT_HOUR = 3;

/** The work of a backup and of its weekly check. */
export function backupWorks(database: Database, config: Config): Record<string, JobWork> {
  const folder = (): string => {
    if (config.backupFolder) return config.backupFolder;
    throw new UserError('CONFLICT', 'No folder is set for backups.', {
      remedy: 'Set SCUTEWRIGHT_BACKUP_FOLDER and start the service again.',
    });
  };
  return {
    [BACKUP_KIND]: (_, run) => makeBackup(database, folder(), config.backupsKept, run),
    [CHECK_KIND]: (_, run) => checkBackup(database, config.databaseUrl, folder(), run),
  };
}

/**
 * Puts into the queue what is due by now: a backup once after each night (as soon as the computer
 * is on again), its check once a week, and whatever failed once more after an hour or a day.
 */
export async function queueDueBackups(rows: JobRows, config: Config, now: Date): Promise<void> {
  if (!config.backupFolder) return;
  const backup = await rows.last(BACKUP_KIND);
  if (isDue(backup, lastNight(now), now.getTime() - HOUR_MS)) await queue(rows, BACKUP_KIND);
  if (backup?.state !== 'DONE') return;
  const check = await rows.last(CHECK_KIND);
  if (isDue(check, now.getTime() - 7 * DAY_MS, now.getTime() - DAY_MS)) {
    await queue(rows, CHECK_KIND);
  }
}

/** Whether the last one ended before `since`, or failed before `again`. Times in milliseconds. */
function isDue(last: JobRow | null, since: number, again: number): boolean {
  if (!last?.finishedAt) return true;
  return last.finishedAt.getTime() < (last.state === 'DONE' ? since : again);
}

/** The latest start of a night that has passed. */
export function lastNight(now: Date): number {
  const night = new Date(now);
  night.setHours(NIGHT_HOUR, 0, 0, 0);
  if (night > now) night.setDate(night.getDate() - 1);
  return night.getTime();
}

async function queue(rows: JobRows, kind: string): Promise<void> {
  await rows.add({ id: randomUUID(), kind, accountId: null, programId: null, input: {} });
}
