import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { chmodSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const start = fileURLToPath(new URL('../../../apps/start/start.mjs', import.meta.url));

/** A folder that stands for somebody's data folder. */
export function temporaryHome(): string {
  const home = mkdtempSync(join(tmpdir(), 'scutewright-home-'));
  chmodSync(home, 0o755);
  return home;
}

export interface Launched {
  readonly process: ChildProcess;
  /** What it has printed up to now. */
  output(): string;
  /** Waits until it prints this; rejects when it ends before. */
  until(words: string): Promise<void>;
  /** Exit code; null when it was killed. */
  readonly ended: Promise<number | null>;
}

/** `npm start` as a process of its own. */
export function launch(home: string, env: NodeJS.ProcessEnv = {}, args: string[] = []): Launched {
  const child = spawn(process.execPath, [start, ...args], {
    env: {
      ...process.env,
      NODE_OPTIONS: '',
      DATABASE_URL: undefined,
      SCUTEWRIGHT_HOME: home,
      SCUTEWRIGHT_BIND: '127.0.0.1',
      ...env,
    },
  });
  let text = '';
  const listeners = new Set<() => void>();
  const hear = (chunk: Buffer): void => {
    text += chunk.toString();
    for (const listener of listeners) listener();
  };
  child.stdout.on('data', hear);
  child.stderr.on('data', hear);
  const ended = new Promise<number | null>((resolve) => {
    child.once('close', (code) => {
      resolve(code);
      for (const listener of listeners) listener();
    });
  });
  return {
    process: child,
    output: () => text,
    ended,
    until: (words) =>
      new Promise((resolve, reject) => {
        const look = (): void => {
          if (text.includes(words)) resolve();
          else if (child.exitCode !== null || child.signalCode !== null) {
            reject(new Error(`Ended before '${words}':\n${text}`));
          } else return;
          listeners.delete(look);
        };
        listeners.add(look);
        look();
      }),
  };
}

/** Process id of the PostgreSQL on this data folder, null where none runs. */
export function postgresPid(home: string): number | null {
  try {
    const pid = Number(
      readFileSync(join(home, 'postgres', 'postmaster.pid'), 'utf8').split('\n')[0],
    );
    process.kill(pid, 0);
    return pid;
  } catch {
    return null;
  }
}

/** Processes that are children of `pid`. */
export function childrenOf(pid: number | undefined): number[] {
  const listed = spawnSync('ps', ['-o', 'pid=', '--ppid', String(pid)], { encoding: 'utf8' });
  return listed.stdout.split('\n').filter(Boolean).map(Number);
}

/** Ends whatever still runs on the folder and removes it. */
export async function clear(home: string, launched: Launched[]): Promise<void> {
  for (const each of launched) {
    each.process.kill('SIGKILL');
    await each.ended;
  }
  const pid = postgresPid(home);
  if (pid) {
    process.kill(pid, 'SIGQUIT');
    while (postgresPid(home)) await new Promise((resolve) => setTimeout(resolve, 50));
  }
  rmSync(home, { recursive: true, force: true });
}
