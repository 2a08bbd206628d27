import { randomUUID } from 'node:crypto';
import { readFileSync, statSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import {
  addAnimal,
  asAdmin,
  type Client,
  newProgram,
  startService,
  type TestService,
} from './service.js';

// N+1 queries show as a number of statements that grows with the number of animals.
const log = process.env.TEST_POSTGRES_LOG ?? '';
let service: TestService;
let owner: Client;
beforeAll(async () => {
  service = await startService();
  // Only connections made after this write what they are asked into the server's log.
  await asAdmin(service.databaseName, (client) =>
    client.query(`ALTER DATABASE ${service.databaseName} SET log_statement = 'all'`),
  );
  owner = (await service.owner()).at(await service.another());
});
afterAll(() => service.stop());

/** A program of so many animals: a tenth founders, the others of two parents some rows before them. */
async function programOf(count: number): Promise<string> {
  const founders = Math.ceil(count / 10);
  const rows = Array.from({ length: count }, (_, i) => {
    const [sire, dam] = [(i - founders) * 2, (i - founders) * 2 + 1].map((n) => n % founders);
    const parents = i < founders ? ',' : `${code(sire - (sire % 2))},${code(dam | 1)}`;
    return `${code(i)},Testudo graeca,${i % 2 === 0 ? 'm' : 'f'},${1970 + Math.floor((40 * i) / count)},${parents}`;
  });
  const programId = await newProgram(owner, `${count} animals`);
  const { uploadId } = await owner.upload(
    programId,
    `code,species,sex,hatched,sire,dam\n${rows.join('\n')}\n`,
  );
  await owner.data(
    'mutation($programId: ID!, $input: ImportProgramFileInput!) { importProgramFile(programId: $programId, input: $input) { created } }',
    { programId, input: { commandId: randomUUID(), uploadId, isDryRun: false } },
  );
  return programId;
}
const code = (i: number) => `A-${String(i).padStart(5, '0')}`;

/** Statements that the service sends while `work` runs. */
async function statementsOf(work: () => Promise<unknown>): Promise<number> {
  const before = statSync(log).size;
  await work();
  const written = readFileSync(log, 'utf8').slice(before).split('\n');
  return written.filter(
    (line) =>
      line.startsWith(`${service.databaseName}:scutewright:`) &&
      /LOG: {2}(statement|execute)/.test(line),
  ).length;
}

const OPERATIONS: Record<string, string> = {
  register:
    'query($p: ID!) { animals(programId: $p, first: 100) { totalCount edges { node { code sex { sex } sire { candidates { animal { code } } } inbreeding { value } } } } }',
  animal: `query($p: ID!) { animal(programId: $p, code: "A-00200") { code notes clutch { animals { code } } inbreeding { value completeness } } }`,
  history:
    'query($p: ID!) { history(programId: $p, first: 50) { totalCount edges { node { sentence by undone } } } }',
  health: 'query($p: ID!) { programHealth(programId: $p) { sentence } }',
  pens: 'query($p: ID!) { penConflicts(programId: $p) { sentence } }',
};

describe('the number of SQL statements', () => {
  it('is the same for 300 and for 5,000 animals, in every operation', async () => {
    const counts: Record<string, number>[] = [];
    for (const size of [300, 5000]) {
      const p = await programOf(size);
      const found: Record<string, number> = {};
      for (const [name, query] of Object.entries(OPERATIONS)) {
        // Once with a snapshot that has to be read anew, so that its statements count too.
        await addAnimal(owner, p, { code: `NEW-${name}` });
        found[name] = await statementsOf(() => owner.data(query, { p }));
        const began = performance.now();
        await owner.data(query, { p });
        console.log(
          `${size} animals, ${name}: ${found[name]} statements, then ${Math.round(performance.now() - began)} ms warm`,
        );
      }
      counts.push(found);
    }
    expect(counts[1]).toEqual(counts[0]);
    for (const count of Object.values(counts[0])) {
      expect(count).toBeGreaterThan(3);
      expect(count).toBeLessThan(40);
    }
  }, 240_000);
});
