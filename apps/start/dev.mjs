/**
 * `npm run dev`: compiles on every change and starts the service anew, with the web console
 * served by its own development server. The database is the one of `npm start`.
 */
import { spawn } from 'node:child_process';
import { join } from 'node:path';
import { build, install } from './build.mjs';
import { homeFolder, repository } from './home.mjs';

install();
build();
const { startPostgres } = await import('./postgres.mjs');
const { makeServiceDatabase } = await import('./service-database.mjs');
const { prepareDatabase } = await import('../api/dist/db/prepare-database.js');
const { firstRun } = await import('../api/dist/first-run.js');
const home = homeFolder();
const postgres = await startPostgres(home);
const url = await makeServiceDatabase(home, postgres);
await prepareDatabase(url);
const { linkSecret } = await firstRun(url, { demo: true });
if (linkSecret) console.log(`Sign in once: http://localhost:5173/enter#token=${linkSecret}`);

const bin = (path) => join(repository, 'node_modules', path);
const env = { ...process.env, DATABASE_URL: url, PORT: process.env.PORT ?? '4310' };
const processes = [
  spawn(
    process.execPath,
    [bin('typescript/bin/tsc'), '-b', '-w', '--preserveWatchOutput', 'apps/api'],
    { cwd: repository, stdio: 'inherit' },
  ),
  spawn(process.execPath, ['--watch', 'apps/api/dist/main.js'], {
    cwd: repository,
    stdio: 'inherit',
    env,
  }),
  spawn(process.execPath, [bin('vite/bin/vite.js')], {
    cwd: join(repository, 'apps/web'),
    stdio: 'inherit',
    env,
  }),
];
process.on('SIGINT', () => {
  for (const child of processes) child.kill('SIGTERM');
  postgres.stop();
  process.exit(0);
});
