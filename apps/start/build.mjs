/**
 * Installs what is missing and builds what is stale. Node built-ins only: it runs before
 * anything is installed. `--quiet` prints nothing when all is well; `--tests` builds the tests too.
 */
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { fullDisk, repository, StartFailure, step } from './home.mjs';

const stamps = join(repository, 'node_modules', '.scutewright');

/** Packages by the lockfile, without running any script of theirs. */
export function install() {
  const lock = digest(readFileSync(join(repository, 'package-lock.json')));
  if (readStamp('packages') === lock) return;
  step('Installing the packages', () => {
    const npm = process.platform === 'win32' ? 'npm.cmd' : 'npm';
    run(npm, ['ci', '--ignore-scripts', '--no-audit', '--no-fund', '--loglevel=error'], {
      remedy: 'Check that this computer reaches the npm registry, and start again.',
      shell: process.platform === 'win32',
    });
  });
  writeStamp('packages', lock);
}

/** The service and the web console; with `tests`, also the tests. */
export function build({ tests = false, web = true } = {}) {
  const prisma = fingerprint(['prisma']);
  if (readStamp('client') !== prisma) {
    step('Generating the database client', () => {
      // Prisma's own engine is a download that the client does not need: any program stands in.
      run(
        process.execPath,
        [bin('prisma/build/index.js'), 'generate', '--config', 'prisma/prisma.config.ts'],
        {
          env: { PRISMA_SCHEMA_ENGINE_BINARY: process.execPath },
        },
      );
    });
    writeStamp('client', prisma);
  }
  const sources = fingerprint([
    'libs',
    'apps/api',
    'tsconfig.json',
    'prisma/models',
    ...(tests ? ['tests', 'apps/web'] : []),
  ]);
  const key = tests ? 'service-and-tests' : 'service';
  if (readStamp(key) !== sources) {
    step(tests ? 'Building the service and the tests' : 'Building the service', () => {
      const projects = tests ? ['.'] : ['apps/api'];
      run(process.execPath, [bin('typescript/bin/tsc'), '-b', ...projects]);
    });
    writeStamp(key, sources);
  }
  if (tests && readStamp('web-tests') !== sources) {
    step('Building the tests of the web console', () => {
      run(process.execPath, [bin('gql.tada/bin/cli.js'), 'generate-output'], {
        cwd: join(repository, 'apps/web'),
      });
      run(process.execPath, [bin('typescript/bin/tsc'), '-p', 'apps/web/test']);
    });
    writeStamp('web-tests', sources);
  }
  if (!web) return;
  const pages = fingerprint([
    'apps/web',
    'apps/api/schema.graphql',
    'libs/basics',
    'libs/commands',
  ]);
  if (readStamp('web') !== pages || !existsSync(join(repository, 'apps/web/dist/index.html'))) {
    step('Building the web console', () => {
      run(process.execPath, [bin('vite/bin/vite.js'), 'build', '--logLevel', 'warn'], {
        cwd: join(repository, 'apps/web'),
      });
    });
    writeStamp('web', pages);
  }
}

function bin(path) {
  return join(repository, 'node_modules', path);
}

function run(command, args, { env = {}, remedy = '', cwd = repository, shell = false } = {}) {
  const done = spawnSync(command, args, {
    cwd,
    shell,
    encoding: 'utf8',
    env: { ...process.env, ...env },
  });
  if (done.status === 0) return;
  const words = `${done.stdout ?? ''}${done.stderr ?? ''}${done.error?.message ?? ''}`.trim();
  if (/ENOSPC|no space left/i.test(words)) throw fullDisk(repository);
  throw new StartFailure(`${words}\n'${[command, ...args].join(' ')}' failed. ${remedy}`.trim());
}

const ignored = new Set(['node_modules', 'dist', 'dist-test', 'generated', '.cache']);

/** Changes whenever a file under one of these places does: path, size and time of each. */
function fingerprint(places) {
  const hash = createHash('sha256');
  const visit = (path) => {
    const at = join(repository, path);
    if (!existsSync(at)) return;
    const about = statSync(at);
    if (!about.isDirectory()) {
      if (!path.endsWith('.tsbuildinfo')) hash.update(`${path} ${about.size} ${about.mtimeMs}\n`);
      return;
    }
    for (const entry of readdirSync(at).sort()) if (!ignored.has(entry)) visit(join(path, entry));
  };
  for (const place of places) visit(place);
  return hash.digest('hex');
}

function digest(bytes) {
  return createHash('sha256').update(bytes).digest('hex');
}

function readStamp(name) {
  const file = join(stamps, name);
  return existsSync(file) ? readFileSync(file, 'utf8') : null;
}

function writeStamp(name, value) {
  mkdirSync(stamps, { recursive: true });
  writeFileSync(join(stamps, name), value);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  try {
    install();
    build({ tests: process.argv.includes('--tests') || process.argv.includes('--quiet') });
  } catch (error) {
    if (!(error instanceof StartFailure)) throw error;
    console.error(error.message);
    process.exitCode = 1;
  }
}
