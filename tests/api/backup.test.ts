import { randomUUID } from 'node:crypto';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import {
  asAdmin,
  type Client,
  type Data,
  newProgram,
  startService,
  type TestService,
} from './service.js';

let service: TestService;
let owner: Client;
let programId: string;
const folder = mkdtempSync(join(tmpdir(), 'scutewright-backup-'));
beforeAll(async () => {
  service = await startService(
    { SCUTEWRIGHT_BACKUP_FOLDER: folder, SCUTEWRIGHT_BACKUPS_KEPT: '2' },
    { demo: true },
  );
  owner = await service.owner();
  const { viewer } = await owner.data('{ viewer { memberships { program { id } } } }');
  programId = viewer.memberships[0].program.id;
  await newProgram(owner, 'A second one / ünï');
}, 60_000);
afterAll(async () => {
  await service.stop();
  rmSync(folder, { recursive: true, force: true });
});

const ASK = `query($programId: ID!) { backups(programId: $programId) {
  folder kept last { at isGood sentence } check { at isGood sentence }
} }`;
const backups = async (): Promise<Data> => (await owner.data(ASK, { programId })).backups;

async function backUp(): Promise<Data> {
  const { startBackup } = await owner.data(
    'mutation($programId: ID!, $input: StartBackupInput!) { startBackup(programId: $programId, input: $input) { id } }',
    { programId, input: { commandId: randomUUID() } },
  );
  for (;;) {
    const { job } = await owner.data(
      'query($jobId: ID!) { job(jobId: $jobId) { state error { message remedy } } }',
      { jobId: startBackup.id },
    );
    if (!['QUEUED', 'RUNNING'].includes(job.state)) return job;
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
}

/** Waits until the service has done by itself what is due. */
async function until(isThere: (state: Data) => boolean): Promise<Data> {
  for (let tries = 0; tries < 900; tries++) {
    const state = await backups();
    if (isThere(state)) return state;
    await new Promise((resolve) => setTimeout(resolve, 200));
  }
  throw new Error(`It was not done: ${JSON.stringify(await backups())}`);
}

describe('backups', () => {
  it('are made by themselves, whole, and tried out in a database of their own that goes again', async () => {
    const { check, last } = await until((state) => state.check !== null);
    expect(last).toMatchObject({ isGood: true });
    expect(last.sentence).toMatch(/^scutewright-\S+: 2 programs, /);
    expect(check.isGood).toBe(true);
    expect(check.sentence).toMatch(/was restored and is sound: 2 programs, \d+ records/);
    const names = readdirSync(folder);
    expect(names).toHaveLength(1);
    const list = JSON.parse(readFileSync(join(folder, names[0], 'backup.json'), 'utf8'));
    expect(readdirSync(join(folder, names[0])).sort()).toEqual(
      ['backup.json', ...list.programs.map(({ file }: Data) => file)].sort(),
    );
    const { rows } = await asAdmin(service.databaseName, (client) =>
      client.query("SELECT datname FROM pg_database WHERE datname LIKE 'scutewright\\_check%'"),
    );
    expect(rows).toEqual([]);
  }, 200_000);

  it('keep the newest, and leave alone what is not theirs', async () => {
    writeFileSync(join(folder, 'notes.txt'), 'mine');
    for (let i = 0; i < 2; i++) {
      // Their names hold whole seconds.
      await new Promise((resolve) => setTimeout(resolve, 1100));
      expect((await backUp()).state).toBe('DONE');
    }
    const names = readdirSync(folder);
    expect(names.filter((name) => name.startsWith('scutewright-'))).toHaveLength(2);
    expect(names).toContain('notes.txt');
    expect(names.filter((name) => name.includes('making'))).toEqual([]);
  }, 120_000);

  it('show that a check found damage, and that one failed', async () => {
    const [newest] = readdirSync(folder)
      .filter((name) => name.startsWith('scutewright-'))
      .sort()
      .reverse();
    const list = JSON.parse(readFileSync(join(folder, newest, 'backup.json'), 'utf8'));
    const archive = join(folder, newest, list.programs[0].file);
    const bytes = readFileSync(archive);
    bytes[bytes.length >> 1] ^= 0xff;
    writeFileSync(archive, bytes);
    await asAdmin(service.databaseName, (client) =>
      client.query(
        "UPDATE job SET finished_at = now() - interval '8 days' WHERE kind = 'check-backup'",
      ),
    );
    const { check } = await until((state) => state.check && !state.check.isGood);
    expect(check.sentence).toMatch(/is not as it was written\. Make a backup now/);

    rmSync(folder, { recursive: true });
    writeFileSync(folder, 'a file where the folder was');
    const job = await backUp();
    expect(job.state).toBe('FAILED');
    expect((await backups()).last).toMatchObject({ isGood: false });
    expect((await backups()).last.sentence).toMatch(
      /cannot be used: it is not a folder.*SCUTEWRIGHT_BACKUP_FOLDER/,
    );
  }, 200_000);
});
