/**
 * `npm run check`: types, lint and format, import rules, the printed schema as committed, and
 * the web console's types. Each prints a line; the last counts them.
 */
import { spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { build, install } from './build.mjs';
import { repository, StartFailure } from './home.mjs';

const node = process.execPath;
const bin = (path) => join(repository, 'node_modules', path);

/** Name and work of each check; the work answers what is wrong, or nothing. */
const checks = [
  [
    'types of the service, the libraries and the tests',
    () => run(node, [bin('typescript/bin/tsc'), '-b']),
  ],
  [
    'types of the web console',
    () => run(node, [bin('typescript/bin/tsc'), '-p', 'apps/web', '--noEmit']),
  ],
  ['lint and format', () => run(bin('.bin/biome'), ['check', '--error-on-warnings', '.'])],
  ['the committed schema.graphql is the one the service prints', checkSchema],
  ['no download address in the lockfile', checkLockfile],
];

try {
  install();
  build({ tests: true });
} catch (error) {
  if (!(error instanceof StartFailure)) throw error;
  console.error(error.message);
  process.exit(1);
}
let failed = 0;
for (const [name, work] of checks) {
  const wrong = work();
  console.log(`${wrong ? 'FAIL' : 'ok'} ${name}`);
  if (!wrong) continue;
  failed++;
  console.log(wrong);
}
console.log(`${checks.length - failed} passed, ${failed} failed`);
process.exitCode = failed === 0 ? 0 : 1;

function run(command, args) {
  const done = spawnSync(command, args, { cwd: repository, encoding: 'utf8' });
  return done.status === 0 ? null : `${done.stdout}${done.stderr}`;
}

function checkSchema() {
  const printed = spawnSync(node, ['apps/api/dist/print-schema.js'], {
    cwd: repository,
    encoding: 'utf8',
  });
  if (printed.status !== 0) return printed.stderr;
  const file = join(repository, 'apps/api/schema.graphql');
  if (printed.stdout === readFileSync(file, 'utf8')) return null;
  if (!process.argv.includes('--write'))
    return 'It differs. npm run check -- --write writes it; look at the difference before you commit it.';
  writeFileSync(file, printed.stdout);
  return null;
}

function checkLockfile() {
  const lock = readFileSync(join(repository, 'package-lock.json'), 'utf8');
  return /"resolved": "https?:/.test(lock) ? 'Run npm install with the settings of .npmrc.' : null;
}
