import { type ChildProcess, fork } from 'node:child_process';
import { randomUUID } from 'node:crypto';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from '@jest/globals';
import { seededRandom } from '@scutewright/basics';
import { asAdmin, newProgram, startService } from '#tests/api/service.js';
import { clear, type Launched, launch, postgresPid, temporaryHome } from './launcher.js';

const ADD = `mutation($programId: ID!, $input: AddAnimalInput!) {
  addAnimal(programId: $programId, input: $input) { animal { id } }
}`;
const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

describe('a start that is killed at any point', () => {
  const home = temporaryHome();
  const launched: Launched[] = [];
  afterAll(() => clear(home, launched));

  it('is made good by the next one', async () => {
    const random = seededRandom(20260401);
    for (let round = 0; round < 6; round++) {
      const each = launch(home, { PORT: '4393' });
      launched.push(each);
      await pause(100 + random.below(2500));
      each.process.kill('SIGKILL');
      await each.ended;
      // Half of the time the database is killed too, in the middle of whatever it did.
      const pid = postgresPid(home);
      if (pid && random.below(2) === 0) process.kill(pid, 'SIGKILL');
    }
    const last = launch(home, { PORT: '4393' });
    launched.push(last);
    await last.until('Ctrl-C stops it');
    expect((await fetch('http://127.0.0.1:4393/readyz')).ok).toBe(true);
    last.process.kill('SIGTERM');
    expect(await last.ended).toBe(0);
  }, 180_000);
});

describe('a service that is killed in the middle of commands', () => {
  it('has done each acknowledged act once and whole, and no half of any other', async () => {
    const service = await startService();
    const owner = await service.owner();
    const programId = await newProgram(owner);
    const main = fileURLToPath(import.meta.resolve('@scutewright/api/main'));
    const random = seededRandom(7);
    const acknowledged = new Set<string>();
    const sent: { commandId: string; code: string }[] = [];
    let serial = 0;
    for (let round = 0; round < 4; round++) {
      const { child, url } = await launchService(main, service.databaseUrl);
      const client = owner.at(url);
      let isAlive = true;
      const writers = Array.from({ length: 6 }, async () => {
        while (isAlive && serial < 400) {
          const input = {
            commandId: randomUUID(),
            code: `K-${serial++}`,
            species: 'Testudo hermanni',
            sex: 'MALE',
          };
          sent.push(input);
          const answer = await client.ask(ADD, { programId, input }).catch(() => null);
          if (answer?.data) acknowledged.add(input.commandId);
        }
      });
      // Killed while some are answered and others are on their way, however slow the machine.
      const enough = acknowledged.size + 3 + random.below(12);
      while (acknowledged.size < enough && serial < 400) await pause(5);
      child.kill('SIGKILL');
      isAlive = false;
      await Promise.all(writers);
    }
    // Sent again, as a client does that got no answer: at most once each.
    for (const input of sent) {
      const answer = await owner.ask(ADD, {
        programId,
        input: { ...input, species: 'Testudo hermanni', sex: 'MALE' },
      });
      expect(answer.errors).toBeUndefined();
    }
    expect(acknowledged.size).toBeGreaterThan(10);
    const { rows } = await asAdmin(service.databaseName, (client) =>
      client.query(
        `SELECT (SELECT count(*)::int FROM animal WHERE program_id = $1) AS animals,
          (SELECT count(DISTINCT code)::int FROM animal WHERE program_id = $1) AS codes,
          (SELECT count(*)::int FROM observation WHERE program_id = $1) AS sexes,
          (SELECT count(*)::int FROM command WHERE program_id = $1 AND kind = 'add-animal') AS commands,
          (SELECT count(*)::int FROM change WHERE program_id = $1 AND table_name IN ('animal', 'observation')) AS changes,
          (SELECT revision FROM program WHERE id = $1) AS revision`,
        [programId],
      ),
    );
    const n = sent.length;
    expect(rows[0]).toEqual({
      animals: n,
      codes: n,
      sexes: n,
      commands: n,
      changes: 2 * n,
      revision: n,
    });
    await service.stop();
  }, 120_000);
});

describe('two processes over one database', () => {
  it('do one command sent to both at once a single time', async () => {
    const service = await startService();
    const owner = await service.owner();
    const programId = await newProgram(owner);
    const second = owner.at(await service.another());
    for (let i = 0; i < 20; i++) {
      const variables = {
        programId,
        input: { commandId: randomUUID(), code: `T-${i}`, species: 'Testudo hermanni' },
      };
      const [a, b] = await Promise.all([owner.data(ADD, variables), second.data(ADD, variables)]);
      expect(a).toEqual(b);
    }
    const { program } = await owner.data(
      'query($programId: ID!) { program(programId: $programId) { animalCount revision } }',
      { programId },
    );
    expect(program).toEqual({ animalCount: 20, revision: 20 });
    await service.stop();
  });

  it('never answer from before a write that was committed at the other', async () => {
    const service = await startService();
    const owner = await service.owner();
    const programId = await newProgram(owner);
    const second = owner.at(await service.another());
    const count = 'query($programId: ID!) { animals(programId: $programId) { totalCount } }';
    for (let i = 0; i < 40; i++) {
      const [writer, reader] = i % 2 === 0 ? [owner, second] : [second, owner];
      await writer.data(ADD, {
        programId,
        input: { commandId: randomUUID(), code: `R-${i}`, species: 'Testudo hermanni' },
      });
      const seen = await Promise.all([
        reader.data(count, { programId }),
        writer.data(count, { programId }),
      ]);
      expect(seen.map(({ animals }) => animals.totalCount)).toEqual([i + 1, i + 1]);
    }
    await service.stop();
  });
});

async function launchService(
  main: string,
  databaseUrl: string,
): Promise<{ child: ChildProcess; url: string }> {
  const child = fork(main, {
    env: { ...process.env, DATABASE_URL: databaseUrl, PORT: '0', SCUTEWRIGHT_BIND: '127.0.0.1' },
    execArgv: [],
  });
  const port = await new Promise((resolve) =>
    child.once('message', (message) => resolve((message as { port: number }).port)),
  );
  return { child, url: `http://127.0.0.1:${port}` };
}
