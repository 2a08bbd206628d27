import { type ChildProcess, fork } from 'node:child_process';
import { randomUUID } from 'node:crypto';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from '@jest/globals';
import { asAdmin, type Client, type Data, newProgram, startService } from '#tests/api/service.js';

const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));
const JOB =
  'query($jobId: ID!) { job(jobId: $jobId) { state progress sentence error { code message } import { created commandId program { animalCount } } } }';
const START = `mutation($programId: ID!, $input: ImportProgramFileInput!) {
  startImport(programId: $programId, input: $input) { id state }
}`;

/** An invented file. */
function animals(count: number): string {
  const lines = ['code,species,sex,hatched,pen,sire,dam'];
  for (let i = 0; i < count; i++) {
    const parents = i < 2 ? ',' : 'K-0,K-1';
    lines.push(
      `K-${i},Testudo hermanni,${i % 2 ? 'f' : 'm'},${i < 2 ? 1990 : 2010},Yard,${parents}`,
    );
  }
  return `${lines.join('\n')}\n`;
}

async function until(client: Client, jobId: string, isThere: (job: Data) => boolean) {
  for (let tries = 0; tries < 2000; tries++) {
    const answer = await client.ask(JOB, { jobId }).catch(() => null);
    if (answer?.data?.job && isThere(answer.data.job)) return answer.data.job;
    await pause(100);
  }
  throw new Error('The job did not come so far');
}

const hasEnded = (job: Data) => ['DONE', 'FAILED', 'CANCELLED'].includes(job.state);
const isWriting = (job: Data) => job.progress > 0.3 || hasEnded(job);

/** Holds every import up in the middle of its writing, before the last of its tables, until let go. Reading goes on. */
async function holdUp(databaseName: string): Promise<() => Promise<void>> {
  let letGo = () => {};
  const gone = new Promise<void>((resolve) => {
    letGo = resolve;
  });
  let held = () => {};
  const isHeld = new Promise<void>((resolve) => {
    held = resolve;
  });
  const done = asAdmin(databaseName, async (client) => {
    await client.query('BEGIN; LOCK TABLE stay IN SHARE MODE');
    held();
    await gone;
    await client.query('ROLLBACK');
  });
  await isHeld;
  return () => {
    letGo();
    return done;
  };
}

/** What an import leaves: nothing, or everything with one command. */
const traces = (databaseName: string, programId: string) =>
  asAdmin(databaseName, async (client) => {
    const { rows } = await client.query(
      `SELECT (SELECT count(*)::int FROM animal WHERE program_id = $1) AS animals,
        (SELECT count(*)::int FROM clutch WHERE program_id = $1) AS clutches,
        (SELECT count(*)::int FROM change WHERE program_id = $1 AND table_name = 'animal') AS changes,
        (SELECT count(*)::int FROM command WHERE program_id = $1 AND kind = 'import-program-file') AS imports`,
      [programId],
    );
    return rows[0];
  });

async function launch(databaseUrl: string): Promise<{ child: ChildProcess; url: string }> {
  const child = fork(fileURLToPath(import.meta.resolve('@scutewright/api/main')), {
    env: { ...process.env, DATABASE_URL: databaseUrl, PORT: '0', SCUTEWRIGHT_BIND: '127.0.0.1' },
    execArgv: [],
  });
  const port = await new Promise((resolve) =>
    child.once('message', (message) => resolve((message as { port: number }).port)),
  );
  return { child, url: `http://127.0.0.1:${port}` };
}

describe('an import that runs as a job', () => {
  const COUNT = 60;

  it('is taken up again after a kill, and is done once and whole', async () => {
    const service = await startService();
    await service.owner();
    await service.stop();
    const first = await launch(service.databaseUrl);
    const owner = (await service.owner()).at(first.url);
    const programId = await newProgram(owner);
    const { uploadId } = await owner.upload(programId, animals(COUNT));
    const commandId = randomUUID();
    const input = { commandId, uploadId, isDryRun: false, makesProposed: true };
    const letGo = await holdUp(service.databaseName);
    const { startImport } = await owner.data(START, { programId, input });
    const met = await until(owner, startImport.id, isWriting);
    first.child.kill('SIGKILL');
    await letGo();
    expect(met.state).toBe('RUNNING');
    expect((await traces(service.databaseName, programId)).animals).toBe(0);
    // As if the time of the lease had passed: waiting for it would only make the test longer.
    await asAdmin(service.databaseName, (client) =>
      client.query("UPDATE job SET lease_until = now() - interval '1 second'"),
    );

    const second = await launch(service.databaseUrl);
    const again = owner.at(second.url);
    // Sent again by a client that got no answer: still the same job.
    const sent = await again.data(START, { programId, input });
    expect(sent.startImport.id).toBe(startImport.id);
    const done = await until(again, startImport.id, hasEnded);
    expect(done).toMatchObject({
      state: 'DONE',
      progress: 1,
      import: { created: COUNT, commandId, program: { animalCount: COUNT } },
    });
    expect(await traces(service.databaseName, programId)).toEqual({
      animals: COUNT,
      clutches: COUNT - 2,
      changes: COUNT,
      imports: 1,
    });

    // Killed after the write but before the end was noted: the second run finds it done.
    await asAdmin(service.databaseName, (client) =>
      client.query(
        "UPDATE job SET state = 'RUNNING', result = NULL, finished_at = NULL, lease_until = now() - interval '1 second'",
      ),
    );
    const repeated = await until(again, startImport.id, hasEnded);
    expect(repeated.import).toEqual(done.import);
    expect((await traces(service.databaseName, programId)).imports).toBe(1);
    const ended = new Promise((resolve) => second.child.once('exit', resolve));
    second.child.kill('SIGTERM');
    await ended;
  }, 300_000);

  it('leaves nothing when it is stopped in the middle', async () => {
    const service = await startService();
    const owner = await service.owner();
    const programId = await newProgram(owner);
    const { uploadId } = await owner.upload(programId, animals(COUNT));
    const input = { commandId: randomUUID(), uploadId, isDryRun: false, makesProposed: true };
    const letGo = await holdUp(service.databaseName);
    const { startImport } = await owner.data(START, { programId, input });
    await until(owner, startImport.id, isWriting);
    await owner.data(
      'mutation($input: CancelJobInput!) { cancelJob(input: $input) { cancelAsked } }',
      { input: { jobId: startImport.id } },
    );
    // The runner hears of it at its next sign of life.
    await pause(1500);
    await letGo();
    const ended = await until(owner, startImport.id, hasEnded);
    expect(ended).toMatchObject({ state: 'CANCELLED', import: null });
    expect(await traces(service.databaseName, programId)).toEqual({
      animals: 0,
      clutches: 0,
      changes: 0,
      imports: 0,
    });
    await service.stop();
  }, 300_000);
});
