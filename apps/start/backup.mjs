/**
 * `npm run backup -- [folder]`: an archive of every program into a new folder there; without one,
 * where the nightly backups go. Works while the service runs, and starts PostgreSQL where it does not.
 */
import { join, resolve } from 'node:path';
import { build, install } from './build.mjs';
import { homeFolder, StartFailure } from './home.mjs';

const home = homeFolder();
const folder = resolve(
  process.argv[2] ?? (process.env.SCUTEWRIGHT_BACKUP_FOLDER || join(home, 'backups')),
);

try {
  install();
  build({ web: false });
  const made = await withDatabase(backUp);
  const programs = made.programs === 1 ? 'one program' : `${made.programs} programs`;
  console.log(
    `Backed up ${programs} (${(made.bytes / 2 ** 20).toFixed(1)} MB) into ${join(made.folder, made.name)}`,
  );
} catch (error) {
  const isMendable =
    error instanceof StartFailure || /Refused$/.test(error?.constructor?.name ?? '');
  const remedy = error?.extensions?.remedy;
  console.error(isMendable || remedy ? `${error.message} ${remedy ?? ''}` : error);
  process.exitCode = 1;
}

async function backUp(url) {
  const { prepareDatabase } = await import('../api/dist/db/prepare-database.js');
  const { Database } = await import('../api/dist/db/database.js');
  const { makeBackup } = await import('../api/dist/features/archive/backup.js');
  await prepareDatabase(url);
  const database = new Database(url);
  try {
    const kept = Number(process.env.SCUTEWRIGHT_BACKUPS_KEPT ?? 14);
    const run = { report: (_, words) => console.log(`  ${words}`), stopIfAsked() {} };
    return await makeBackup(database, folder, kept, run);
  } finally {
    await database.close();
  }
}

async function withDatabase(work) {
  if (process.env.DATABASE_URL) return work(process.env.DATABASE_URL);
  const { startPostgres } = await import('./postgres.mjs');
  const { makeServiceDatabase } = await import('./service-database.mjs');
  const postgres = await startPostgres(home);
  try {
    return await work(await makeServiceDatabase(home, postgres));
  } finally {
    if (!postgres.adopted) postgres.stop();
  }
}
