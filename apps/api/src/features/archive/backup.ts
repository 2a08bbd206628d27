import { createHash, randomUUID } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { mkdir, open, readdir, readFile, rename, rm, stat, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { ArchiveFault } from '@scutewright/commands';
import { z } from 'zod';
import { Links } from '../../auth/links.js';
import { Database } from '../../db/database.js';
import { accessToAll, acrossPrograms, type ProgramAccess } from '../../db/in-program.js';
import { prepareDatabase } from '../../db/prepare-database.js';
import { UserError } from '../../graphql/errors.js';
import type { JobRun } from '../../jobs/job-runner.js';
import { VERSION } from '../../version.js';
import { archiveName } from './archive-name.js';
import { readSchemaNumber } from './archive-tables.js';
import { restoreArchive } from './restore-archive.js';
import { writeArchive } from './write-archive.js';

// A backup is a folder with an archive of each program, as an owner downloads it: any of them
// comes back by itself. Accounts and passwords are not in it.

const NAME = /^scutewright-\d{4}-\d\d-\d\dT\d\d-\d\d-\d\dZ$/;
const LIST_FILE = 'backup.json';

const listSchema = z.object({
  version: z.string(),
  schema: z.number(),
  programs: z.array(
    z.object({ file: z.string().regex(/^[\w.-]+\.zip$/), bytes: z.number(), sha256: z.string() }),
  ),
});

export interface BackupMade {
  readonly folder: string;
  readonly name: string;
  readonly programs: number;
  readonly bytes: number;
}

/**
 * Writes a backup under a temporary name, gives it its name when it is whole, and removes all but
 * the newest `kept`. Throws UserError where the folder cannot be used.
 */
export async function makeBackup(
  database: Database,
  folder: string,
  kept: number,
  run: JobRun,
): Promise<BackupMade> {
  const at = new Date();
  const name = `scutewright-${at.toISOString().slice(0, 19).replaceAll(':', '-')}Z`;
  const making = join(folder, `.${name}.making`);
  return inWords(folder, async () => {
    await mkdir(making, { recursive: true });
    try {
      const rights = await everyProgram(database);
      const programs: z.infer<typeof listSchema>['programs'] = [];
      for (const { right, title } of rights) {
        run.report(programs.length / rights.length, `Copying ${title}`);
        run.stopIfAsked();
        const file = `${programs.length + 1}-${archiveName(title, at)}`;
        await writeArchive(database, right, join(making, file));
        const { size } = await stat(join(making, file));
        programs.push({ file, bytes: size, sha256: await digestOf(join(making, file)) });
      }
      const schema = await readSchemaNumber(database);
      const list = { version: VERSION, schema, programs };
      await writeFile(join(making, LIST_FILE), `${JSON.stringify(list, null, 2)}\n`);
      await rename(making, join(folder, name));
      for (const old of (await listBackups(folder)).slice(kept)) {
        await rm(join(folder, old), { recursive: true });
      }
      const bytes = programs.reduce((sum, each) => sum + each.bytes, 0);
      return { folder, name, programs: programs.length, bytes };
    } finally {
      await rm(making, { recursive: true, force: true });
    }
  });
}

export interface BackupChecked {
  readonly name: string;
  readonly programs: number;
  readonly rows: number;
}

/**
 * Restores the newest backup into a database of its own, archives what came of it once more,
 * compares the two byte by byte, and drops that database. Throws UserError in words where anything is amiss.
 */
export async function checkBackup(
  database: Database,
  url: string,
  folder: string,
  run: JobRun,
): Promise<BackupChecked> {
  const [name] = await inWords(folder, () => listBackups(folder));
  if (!name) throw unsound(`There is no backup in ${folder}.`);
  const scratch = `scutewright_check_${randomUUID().slice(0, 8)}`;
  try {
    await database.pool.query(`CREATE DATABASE ${scratch}`);
  } catch (error) {
    throw new UserError(
      'CONFLICT',
      `No database could be made to try the backup in (${error instanceof Error ? error.message : error}).`,
      { remedy: 'Let the user of DATABASE_URL make databases: ALTER ROLE ... CREATEDB.' },
    );
  }
  try {
    const scratchUrl = new URL(url);
    scratchUrl.pathname = `/${scratch}`;
    await prepareDatabase(scratchUrl.href);
    const target = new Database(scratchUrl.href, 'scutewright-jobs', 4);
    try {
      return await tryOut(database, target, join(folder, name), name, run);
    } finally {
      await target.close();
    }
  } finally {
    await database.pool.query(`DROP DATABASE ${scratch} WITH (FORCE)`);
  }
}

async function tryOut(
  database: Database,
  target: Database,
  path: string,
  name: string,
  run: JobRun,
): Promise<BackupChecked> {
  const list = listSchema.parse(JSON.parse(await readFile(join(path, LIST_FILE), 'utf8')));
  // Accounts stay behind when a program moves; what refers to them is compared too, so they are lent.
  const { rows: accounts } = await database.pool.query('SELECT id, name FROM account');
  await target.pool.query(
    `INSERT INTO account (id, name, email)
     SELECT id, name, id || '@no-address.invalid' FROM jsonb_to_recordset($1::jsonb) AS a(id uuid, name text)`,
    [JSON.stringify(accounts)],
  );
  const accountId = await new Links(target).newAccount('Check of the backup');
  const isOfToday = list.version === VERSION && list.schema === (await readSchemaNumber(database));
  let rows = 0;
  for (const [i, { file, sha256 }] of list.programs.entries()) {
    run.report(i / list.programs.length, `Trying ${file}`);
    run.stopIfAsked();
    const archive = join(path, file);
    if ((await digestOf(archive)) !== sha256) {
      throw unsound(`${file} of the backup ${name} is not as it was written.`);
    }
    const programId = randomUUID();
    const handle = await open(archive);
    try {
      const { size } = await handle.stat();
      const read = async (offset: number, length: number) => {
        const bytes = new Uint8Array(length);
        const { bytesRead } = await handle.read(bytes, 0, length, offset);
        return bytes.subarray(0, bytesRead);
      };
      const unwatched = { report() {}, stopIfAsked: () => run.stopIfAsked() };
      rows += (await restoreArchive(target, { accountId, programId }, { size, read }, unwatched))
        .rows;
    } catch (error) {
      if (error instanceof ArchiveFault) throw unsound(`${file} of ${name}: ${error.message}`);
      throw error;
    } finally {
      await handle.close();
    }
    // A newer version writes more than the older one did; what it restored counts then.
    if (!isOfToday) continue;
    const again = join(path, '..', `.${file}.again`);
    try {
      const right = (await accessToAll(target, accountId)).find(
        (each) => each.programId === programId,
      );
      if (!right) throw new Error('A restored program has no owner');
      await writeArchive(target, right, again);
      if ((await digestOf(again)) !== sha256) {
        throw unsound(`${file} of the backup ${name} does not come back as it was.`);
      }
    } finally {
      await rm(again, { force: true });
    }
  }
  return { name, programs: list.programs.length, rows };
}

function unsound(message: string): UserError {
  return new UserError('CONFLICT', message, {
    remedy: 'Make a backup now, into another folder if this one is damaged.',
  });
}

/** Names of the whole backups in a folder, newest first; empty where there is no such folder. */
export async function listBackups(folder: string): Promise<string[]> {
  const names = await readdir(folder).catch((error) => {
    if (error.code === 'ENOENT') return [];
    throw error;
  });
  return names
    .filter((name) => NAME.test(name))
    .sort()
    .reverse();
}

/** A right to each program of the installation, by any of its members: the service has no right of its own. */
async function everyProgram(
  database: Database,
): Promise<{ right: ProgramAccess; title: string }[]> {
  const accounts = await database.prisma.account.findMany({ select: { id: true } });
  const found = new Map<string, { right: ProgramAccess; title: string }>();
  for (const { id } of accounts) {
    const rights = await accessToAll(database, id);
    const programs = await acrossPrograms(database, id, (tx) => tx.program.findMany());
    for (const right of rights) {
      const title = programs.find((program) => program.id === right.programId)?.name ?? 'program';
      if (!found.has(right.programId)) found.set(right.programId, { right, title });
    }
  }
  return [...found.values()];
}

async function digestOf(file: string): Promise<string> {
  const hash = createHash('sha256');
  for await (const piece of createReadStream(file)) hash.update(piece);
  return hash.digest('hex');
}

const REASONS: Readonly<Record<string, string>> = {
  EACCES: 'it may not be written to',
  EPERM: 'it may not be written to',
  EROFS: 'it can only be read',
  ENOSPC: 'its disk is full',
  ENOTDIR: 'it is not a folder',
  EEXIST: 'it is not a folder',
  ENOENT: 'it is not there',
};

async function inWords<Result>(folder: string, work: () => Promise<Result>): Promise<Result> {
  try {
    return await work();
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? String(error.code) : '';
    const reason = REASONS[code];
    if (!reason) throw error;
    throw new UserError(
      'CONFLICT',
      `The folder for backups, ${folder}, cannot be used: ${reason}.`,
      {
        remedy: 'Mend that, or set SCUTEWRIGHT_BACKUP_FOLDER to another folder.',
      },
    );
  }
}
