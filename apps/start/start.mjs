/**
 * `npm start`: from a fresh clone to a running service. Installs, builds, starts the
 * database, migrates, makes the demo on first start, serves, and prints how to get in.
 * `npm start -- --link` prints a new one-time sign-in link.
 */
import { fork } from 'node:child_process';
import { createServer } from 'node:net';
import { networkInterfaces } from 'node:os';
import { join } from 'node:path';
import { build, install } from './build.mjs';
import { certificateSettings } from './certificate.mjs';
import {
  fullDisk,
  homeFolder,
  readNote,
  repository,
  StartFailure,
  step,
  writeNote,
} from './home.mjs';

const home = homeFolder();
const api = (path) => import(new URL(`../api/dist/${path}`, import.meta.url));

try {
  const [major, minor] = process.versions.node.split('.').map(Number);
  if (major < 20 || (major === 20 && minor < 19)) {
    throw new StartFailure(
      `Scutewright needs Node 20.19 or newer, and this is ${process.versions.node}. Install a newer Node from nodejs.org.`,
    );
  }
  install();
  if (process.argv.includes('--link')) await printLink();
  else await start();
} catch (error) {
  fail(error);
}

function fail(error) {
  const mendable = error instanceof StartFailure || /Refused$/.test(error?.constructor?.name ?? '');
  const known = error?.code === 'ENOSPC' ? fullDisk(home) : error;
  console.error(mendable || known !== error ? `\n${known.message}\n` : error);
  process.exitCode = 1;
}

async function start() {
  build();
  const port = Number(process.env.PORT ?? 4310);
  const external = process.env.DATABASE_URL || null;
  const running = external ? null : await startOwnDatabase();
  try {
    await serve(port, external, running);
  } catch (error) {
    running?.postgres.stop();
    throw error;
  }
}

/** Starts PostgreSQL in the data folder and takes the lock that keeps a second start out. */
async function startOwnDatabase() {
  const { startPostgres } = await import('./postgres.mjs');
  const { makeServiceDatabase } = await import('./service-database.mjs');
  const { default: pg } = await import('pg');
  const postgres = await step('Starting PostgreSQL', () => startPostgres(home));
  const lock = await connectWhenUp(pg, postgres.adminUrl);
  const { rows } = await lock.query('SELECT pg_try_advisory_lock(726512) AS free');
  if (!rows[0].free) {
    await lock.end();
    const note = readNote(home, 'running');
    throw new StartFailure(
      `Scutewright already runs on the data in ${home}${note ? `: open ${note.address}, or stop process ${note.pid} first` : '; stop that first'}. For a second installation set SCUTEWRIGHT_HOME to another folder and PORT to another port.`,
    );
  }
  const url = await makeServiceDatabase(home, postgres);
  return { postgres, lock, url };
}

/** A connection as soon as the server takes one: after a kill it first replays its log. */
async function connectWhenUp(pg, connectionString) {
  for (let tries = 0; ; tries++) {
    const client = new pg.Client({ connectionString });
    // What to do about a lost connection is decided later; until then it must not end the process.
    client.on('error', () => {});
    try {
      await client.connect();
      return client;
    } catch (error) {
      if (error.code !== '57P03' || tries >= 240) throw error;
      await new Promise((resolve) => setTimeout(resolve, 250));
    }
  }
}

async function serve(port, external, running) {
  const url = external ?? running.url;
  const { prepareDatabase } = await api('db/prepare-database.js');
  await step('Bringing the tables up to date', () => prepareDatabase(url));
  const { firstRun } = await api('first-run.js');
  const demo = process.env.SCUTEWRIGHT_DEMO !== '0';
  const first = await step('Looking for an owner', () =>
    firstRun(url, {
      demo,
      email: process.env.SCUTEWRIGHT_OWNER_EMAIL,
      password: process.env.SCUTEWRIGHT_OWNER_PASSWORD,
    }),
  );
  await refuseTakenPort(port);
  const certificate = await certificateSettings(home);
  const start = () => startService(url, port, certificate);
  const service = await step('Starting the service', start);
  const scheme = certificate.SCUTEWRIGHT_CERT ? 'https' : 'http';
  const address =
    process.env.SCUTEWRIGHT_PUBLIC_URL?.replace(/\/+$/, '') ?? `${scheme}://localhost:${port}`;
  writeNote(home, 'running', { pid: process.pid, address });
  await greet(address, lanAddress(scheme, port), first);
  if (certificate.SCUTEWRIGHT_AUTHORITY) {
    console.log(
      "HTTPS by a local authority. On each phone, once: open the address above with /authority.crt behind it,\ninstall that certificate in the phone's settings, and trust it. Keep the data folder to yourself: who holds its key\ncan pose as any site to these phones.",
    );
  }
  console.log('Ctrl-C stops it.');
  stayUntilStopped(service, running, url, start);
}

/** The service as a process of its own; it ends when this one is gone. */
function startService(url, port, certificate) {
  const service = fork(join(repository, 'apps/api/dist/main.js'), {
    env: {
      // Libraries check more than they need elsewhere: graphql every value it hands out.
      NODE_ENV: 'production',
      ...process.env,
      ...certificate,
      DATABASE_URL: url,
      PORT: String(port),
      SCUTEWRIGHT_WEB: join(repository, 'apps/web/dist'),
      SCUTEWRIGHT_BACKUP_FOLDER: process.env.SCUTEWRIGHT_BACKUP_FOLDER ?? join(home, 'backups'),
    },
  });
  return new Promise((resolve, reject) => {
    service.once('message', () => resolve(service));
    service.once('exit', (code) =>
      reject(
        new StartFailure(
          `The service ended before it was ready (code ${code}); its last words stand above.`,
        ),
      ),
    );
  });
}

function stayUntilStopped(first, running, url, start) {
  let service = first;
  let stopping = false;
  let restarts = 0;
  const watch = () =>
    service.once('exit', async (code, signal) => {
      if (stopping) return;
      if (restarts++ >= 5) {
        console.error(
          `The service ended again (${signal ?? code}). Look at its last words above, then start anew.`,
        );
        stop(1);
        return;
      }
      console.error(
        `The service ended (${signal ?? code}) and is started again; nothing that was saved is lost.`,
      );
      try {
        service = await start();
        watch();
      } catch (error) {
        fail(error);
        stop(1);
      }
    });
  watch();

  const stop = async (code) => {
    if (stopping) return;
    stopping = true;
    const late = setTimeout(() => service.kill('SIGKILL'), 10_000);
    if (service.exitCode === null && service.signalCode === null) {
      await new Promise((resolve) => {
        service.once('exit', resolve);
        service.kill('SIGTERM');
      });
    }
    clearTimeout(late);
    await running?.lock.end().catch(() => {});
    running?.postgres.stop();
    process.exit(code);
  };
  process.on('SIGINT', () => stop(0));
  process.on('SIGTERM', () => stop(0));
  const watchDatabase = () =>
    running.lock.once('end', async () => {
      if (stopping) return;
      console.error('PostgreSQL ended and is started again; nothing that was saved is lost.');
      try {
        Object.assign(running, await startOwnDatabase());
        if (running.url !== url) {
          throw new StartFailure(
            'PostgreSQL came back under another port; start Scutewright anew.',
          );
        }
        watchDatabase();
      } catch (error) {
        fail(error);
        stop(1);
      }
    });
  if (running) watchDatabase();
}

async function greet(address, ownAddress, first) {
  console.log(`\nScutewright is ready: ${address}`);
  if (first.linkSecret)
    console.log(
      `Sign in once by this link (good for a day): ${address}/enter#token=${first.linkSecret}`,
    );
  if (first.madeDemo)
    console.log('It holds an invented demo program: no real animal, place or keeper.');
  const lan = process.env.SCUTEWRIGHT_PUBLIC_URL ?? ownAddress;
  if (lan) {
    const { default: qrcode } = await import('qrcode');
    console.log(`\nFrom a phone on the same network: ${lan}`);
    console.log(await qrcode.toString(lan, { type: 'utf8' }));
  }
}

function lanAddress(scheme, port) {
  for (const list of Object.values(networkInterfaces())) {
    for (const { family, internal, address } of list ?? []) {
      if (family === 'IPv4' && !internal) return `${scheme}://${address}:${port}`;
    }
  }
  return null;
}

/** A new one-time link for the owner of a running installation. */
async function printLink() {
  const { serviceUrl } = await import('./service-database.mjs');
  const port = readNote(home, 'database')?.port;
  const url = process.env.DATABASE_URL || (port ? serviceUrl(home, port) : null);
  const { newOwnerLink } = await api('first-run.js').catch(() => ({}));
  if (!url || !newOwnerLink)
    throw new StartFailure(
      'There is no installation here yet. Start it by npm start: it prints a link.',
    );
  let secret;
  try {
    secret = await newOwnerLink(url);
  } catch (error) {
    throw new StartFailure(
      `The database does not answer (${error.message}). Start Scutewright by npm start, then ask for the link again.`,
    );
  }
  if (!secret)
    throw new StartFailure('There is no owner yet. Start it by npm start: it prints a link.');
  const address =
    readNote(home, 'running')?.address ?? `http://localhost:${process.env.PORT ?? 4310}`;
  console.log(`Sign in once by this link (good for a day): ${address}/enter#token=${secret}`);
}

function refuseTakenPort(port) {
  return new Promise((resolve, reject) => {
    const probe = createServer();
    probe.once('error', (error) =>
      reject(
        new StartFailure(
          error.code === 'EADDRINUSE'
            ? `Port ${port} is taken by another program. Stop that program, or start with another port: PORT=${port + 1} npm start.`
            : `Port ${port} cannot be used (${error.code}). Start with another port: PORT=4311 npm start.`,
        ),
      ),
    );
    probe.listen(port, process.env.SCUTEWRIGHT_BIND ?? '0.0.0.0', () => probe.close(resolve));
  });
}
