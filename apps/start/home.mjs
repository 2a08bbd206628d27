/** Where a person's data lives, and what the launcher notes down there. Node built-ins only. */
import { mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { homedir } from 'node:os';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

export const repository = resolve(fileURLToPath(new URL('../..', import.meta.url)));

export const isRoot = process.platform !== 'win32' && process.getuid?.() === 0;

/** The data folder: SCUTEWRIGHT_HOME, else the platform's per-user data folder. */
export function homeFolder(env = process.env) {
  if (env.SCUTEWRIGHT_HOME) return resolve(env.SCUTEWRIGHT_HOME);
  if (process.platform === 'win32') {
    return join(env.LOCALAPPDATA ?? join(homedir(), 'AppData', 'Local'), 'Scutewright');
  }
  if (process.platform === 'darwin') {
    return join(homedir(), 'Library', 'Application Support', 'Scutewright');
  }
  // PostgreSQL never runs as root, and root's own folder is closed to everybody else.
  if (isRoot) return '/var/lib/scutewright';
  return join(env.XDG_DATA_HOME ?? join(homedir(), '.local', 'share'), 'scutewright');
}

/** A note in the data folder, or null where it is missing or unreadable. */
export function readNote(home, name) {
  try {
    return JSON.parse(readFileSync(join(home, `${name}.json`), 'utf8'));
  } catch {
    return null;
  }
}

/** Writes a note whole or not at all: a kill between two bytes leaves the old one. */
export function writeNote(home, name, value) {
  mkdirSync(home, { recursive: true });
  const file = join(home, `${name}.json`);
  writeFileSync(`${file}.new`, `${JSON.stringify(value, null, 2)}\n`, { mode: 0o600 });
  renameSync(`${file}.new`, file);
}

/** A failure that the person can mend: printed as its one sentence, without a trace. */
export class StartFailure extends Error {}

/** The failure that names the full disk and what to do. */
export function fullDisk(folder) {
  return new StartFailure(
    `There is no space left on the disk that holds ${folder}. Free a few hundred megabytes and start again; nothing that was saved is lost.`,
  );
}

/** Does one step and prints its line with the time it took. */
export function step(name, work) {
  const start = performance.now();
  const done = (result) => {
    console.log(`  ${name}: ${((performance.now() - start) / 1000).toFixed(1)} s`);
    return result;
  };
  const result = work();
  return result instanceof Promise ? result.then(done) : done(result);
}
