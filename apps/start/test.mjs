/**
 * `npm test`: installs, builds, starts a PostgreSQL of its own in a temporary folder, and
 * runs every test that needs no browser. `npm run test:web` runs those that do.
 * Further words are passed on to Jest: `npm test -- tests/api`.
 */
import { spawn } from 'node:child_process';
import { chmodSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build, install } from './build.mjs';
import { repository, StartFailure, step } from './home.mjs';

const [first, ...others] = process.argv.slice(2);
const isWeb = first === 'web';
const words = isWeb ? others : process.argv.slice(2);

try {
  install();
  build({ tests: true, web: isWeb });
  process.exitCode = await withPostgres((env) => jest(env));
} catch (error) {
  if (!(error instanceof StartFailure)) throw error;
  console.error(error.message);
  process.exitCode = 1;
}

async function withPostgres(work) {
  const { startPostgres } = await import('./postgres.mjs');
  const { makeServiceDatabase } = await import('./service-database.mjs');
  const { prepareDatabase } = await import('../api/dist/db/prepare-database.js');
  const home = mkdtempSync(join(tmpdir(), 'scutewright-test-'));
  chmodSync(home, 0o755);
  // Nothing here outlives the run, so nothing waits for the disk. The log counts statements, by who asks.
  const postgres = await step('Starting PostgreSQL for the tests', () =>
    startPostgres(home, {
      fsync: 'off',
      synchronous_commit: 'off',
      full_page_writes: 'off',
      max_connections: 200,
      log_line_prefix: '%d:%a:',
    }),
  );
  const stop = () => {
    postgres.stop();
    rmSync(home, { recursive: true, force: true });
  };
  process.once('SIGINT', () => {
    stop();
    process.exit(130);
  });
  try {
    const url = await makeServiceDatabase(home, postgres);
    await prepareDatabase(url);
    await makeTemplate(postgres.adminUrl);
    return await work({
      TEST_ADMIN_URL: postgres.adminUrl,
      TEST_SERVICE_URL: url,
      TEST_POSTGRES_LOG: join(home, 'postgres.log'),
    });
  } finally {
    stop();
  }
}

/** What every test's own database is cloned from. */
async function makeTemplate(adminUrl) {
  const { default: pg } = await import('pg');
  const admin = new pg.Client({ connectionString: adminUrl });
  await admin.connect();
  await admin.query('ALTER DATABASE scutewright RENAME TO scutewright_template');
  await admin.end();
}

function jest(env) {
  const config = isWeb ? 'tests/jest.web.config.json' : 'tests/jest.config.json';
  const args = [
    '--experimental-vm-modules',
    '--no-warnings',
    'node_modules/jest/bin/jest.js',
    '-c',
    config,
    ...words,
  ];
  const child = spawn(process.execPath, args, {
    cwd: repository,
    stdio: 'inherit',
    env: { ...process.env, ...env },
  });
  return new Promise((resolve) => child.once('exit', (code) => resolve(code ?? 1)));
}
