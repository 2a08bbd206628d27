import { randomUUID } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import {
  addAnimal,
  asAdmin,
  type Client,
  type Data,
  invited,
  newProgram,
  startService,
  type TestService,
} from './service.js';

// Invented program files; the reader itself is tested in libs/commands.
const file = (name: string) =>
  readFileSync(new URL(`../../../libs/commands/test/programs/${name}`, import.meta.url));

let service: TestService;
let owner: Client;
beforeAll(async () => {
  service = await startService();
  owner = await service.owner();
});
afterAll(() => service.stop());

const IMPORT = `mutation($programId: ID!, $input: ImportProgramFileInput!) {
  importProgramFile(programId: $programId, input: $input) {
    rows created changed leftAlone isBlocked faultCount commandId
    faults { code line column value message remedy }
    questions { kind name proposal }
    changes { code field before after }
    map { separator dateOrder decimalSign columns { heading field } }
    program { revision animalCount }
  }
}`;

async function send(
  programId: string,
  bytes: Uint8Array | string,
  fields: object = {},
): Promise<Data> {
  const { uploadId } = await owner.upload(programId, bytes);
  const input = { commandId: randomUUID(), uploadId, isDryRun: true, ...fields };
  return (await owner.data(IMPORT, { programId, input })).importProgramFile;
}

const records = (programId: string) =>
  asAdmin(service.databaseName, async (client) => {
    const { rows } = await client.query(
      `SELECT (SELECT count(*)::int FROM animal WHERE program_id = $1) AS animals,
        (SELECT count(*)::int FROM clutch WHERE program_id = $1) AS clutches,
        (SELECT count(*)::int FROM candidate WHERE program_id = $1) AS candidates,
        (SELECT count(*)::int FROM observation WHERE program_id = $1) AS observations,
        (SELECT count(*)::int FROM stay WHERE program_id = $1) AS stays,
        (SELECT count(*)::int FROM trait WHERE program_id = $1) AS traits`,
      [programId],
    );
    return rows[0];
  });

describe('bringing a program file in', () => {
  it('looks first, asks about what is unknown, writes after a yes, and the same file again writes nothing', async () => {
    const programId = await newProgram(owner);
    const look = await send(programId, file('harbour-group.csv'));
    expect(look).toMatchObject({
      rows: 140,
      created: 140,
      changed: 0,
      isBlocked: false,
      commandId: null,
    });
    expect(look.program.animalCount).toBe(0);
    const asked = look.questions.map((question: Data) => `${question.kind} ${question.name}`);
    expect(asked).toEqual(
      expect.arrayContaining([
        'LOCUS pl',
        'TRAIT pale',
        'TRAIT honey',
        'TRAIT smoke',
        'PEN Old orchard',
      ]),
    );

    const { uploadId } = await owner.upload(programId, file('harbour-group.csv'));
    const unasked = await owner.refusal(IMPORT, {
      programId,
      input: { commandId: randomUUID(), uploadId, isDryRun: false },
    });
    expect(unasked.extensions).toMatchObject({
      code: 'BAD_USER_INPUT',
      place: 'input.makesProposed',
    });

    const began = performance.now();
    const done = await send(programId, file('harbour-group.csv'), {
      isDryRun: false,
      makesProposed: true,
    });
    console.log(`140 animals: dry run and commit ${Math.round(performance.now() - began)} ms`);
    expect(done.program.animalCount).toBe(140);
    const before = await records(programId);
    expect(before.traits).toBe(3);

    const again = await send(programId, file('harbour-group.csv'), {
      isDryRun: false,
      makesProposed: true,
    });
    // The changes first: they say what differs, should any ever do.
    expect(again.changes.slice(0, 5)).toEqual([]);
    expect(again).toMatchObject({ created: 0, changed: 0, leftAlone: 140, commandId: null });
    expect(await records(programId)).toEqual(before);
  });

  it('takes the whole import back by one act', async () => {
    const programId = await newProgram(owner);
    await addAnimal(owner, programId, { code: 'OLD', species: 'Testudo hermanni' });
    const before = await records(programId);
    const done = await send(programId, file('harbour-group.csv'), {
      isDryRun: false,
      makesProposed: true,
    });
    expect((await records(programId)).animals).toBe(141);
    await owner.data(
      'mutation($programId: ID!, $input: UndoInput!) { undo(programId: $programId, input: $input) { command { id } } }',
      {
        programId,
        input: { commandId: randomUUID(), undoes: done.commandId },
      },
    );
    expect(await records(programId)).toEqual(before);
  });

  it('gives back the same file: export . import = identity, byte by byte', async () => {
    const first = await newProgram(owner);
    await send(first, file('harbour-group.csv'), { isDryRun: false, makesProposed: true });
    const text = await owner.data(
      'query($programId: ID!) { exportProgram(programId: $programId) }',
      { programId: first },
    );
    const second = await newProgram(owner);
    await send(second, text.exportProgram, { isDryRun: false, makesProposed: true });
    const again = await owner.data(
      'query($programId: ID!) { exportProgram(programId: $programId) }',
      { programId: second },
    );
    expect(again.exportProgram).toBe(text.exportProgram);
    const back = await send(first, text.exportProgram, { isDryRun: false });
    expect(back).toMatchObject({ created: 0, changed: 0, commandId: null });
  });

  it('lists every planted fault with its place, and writes nothing', async () => {
    const programId = await newProgram(owner);
    const planted = JSON.parse(file('harbour-messy.faults.json').toString());
    const look = await send(programId, file('harbour-messy.csv'));
    expect(look.isBlocked).toBe(true);
    const found = new Set(look.faults.map((fault: Data) => fault.line));
    const faults = Array.isArray(planted) ? planted : planted.faults;
    expect(faults.filter((fault: Data) => fault.line > 1 && !found.has(fault.line))).toEqual([]);
    for (const fault of look.faults) expect(fault.remedy.length).toBeGreaterThan(5);
    const { uploadId } = await owner.upload(programId, file('harbour-messy.csv'));
    const refused = await owner.refusal(IMPORT, {
      programId,
      input: {
        commandId: randomUUID(),
        uploadId,
        isDryRun: false,
        makesProposed: true,
        species: 'Testudo hermanni',
      },
    });
    expect(refused.message).toMatch(/The file has \d+ faults; the first: /);
    expect((await records(programId)).animals).toBe(0);
  });

  it("proposes how somebody's own spreadsheet is read", async () => {
    const programId = await newProgram(owner);
    const look = await send(programId, file('own-headings.csv'));
    expect(look.map).toMatchObject({ separator: ';', dateOrder: 'DAY_FIRST', decimalSign: ',' });
    expect(look.map.columns.filter((column: Data) => column.field).length).toBeGreaterThan(8);
  });

  it('changes only what the file says differently', async () => {
    const programId = await newProgram(owner);
    await send(
      programId,
      'code,species,sex,hatched,scl_mm\nA,Testudo graeca,m,1990,140\nB,Testudo graeca,f,1991,\n',
      { isDryRun: false },
    );
    const look = await send(programId, 'code,sex,hatched,scl_mm\nA,,1990,143\nB,m,,\n');
    expect(look.changes).toEqual([
      { code: 'A', field: 'scl_mm', before: '140', after: '143' },
      { code: 'B', field: 'sex', before: 'f', after: 'm' },
    ]);
    await send(programId, 'code,sex,hatched,scl_mm\nA,,1990,143\nB,m,,\n', { isDryRun: false });
    const { exportProgram } = await owner.data(
      'query($programId: ID!) { exportProgram(programId: $programId) }',
      { programId },
    );
    expect(exportProgram.split('\n').slice(1, 3)).toEqual([
      'A,,Testudo graeca,m,1990,,,,,,,143,,',
      'B,,Testudo graeca,m,1991,,,,,,,,,',
    ]);
  });

  it('brings 10,000 animals in within seconds', async () => {
    const programId = await newProgram(owner);
    const began = performance.now();
    await send(programId, file('large-10000.csv'));
    const looked = performance.now();
    const done = await send(programId, file('large-10000.csv'), {
      isDryRun: false,
      makesProposed: true,
    });
    console.log(
      `10,000 animals: dry run ${((looked - began) / 1000).toFixed(1)} s, commit ${((performance.now() - looked) / 1000).toFixed(1)} s`,
    );
    expect(done.program.animalCount).toBe(10_000);
    // Five seconds each on an idle machine; the suite shares it with other tests.
    expect(performance.now() - began).toBeLessThan(40_000);
  }, 90_000);

  it('refuses a stranger, a reader, a foreign form and a file that is too large', async () => {
    const programId = await newProgram(owner);
    const post = (client: Client | null, type = 'application/octet-stream') =>
      fetch(`${service.url}/files/${programId}`, {
        method: 'POST',
        headers: { 'content-type': type, ...(client && { cookie: client.cookies }) },
        body: 'code\nA\n',
      });
    expect((await post(null)).status).toBe(401);
    const reader = await invited(owner, programId, 'READER');
    expect((await post(reader)).status).toBe(403);
    expect((await post(owner, 'text/plain')).status).toBe(415);
    expect((await post(owner)).status).toBe(201);
    const download = (client: Client | null) =>
      fetch(`${service.url}/files/${programId}/program.csv`, {
        headers: client ? { cookie: client.cookies } : {},
      });
    expect((await download(null)).status).toBe(401);
    expect((await download(reader)).headers.get('content-disposition')).toContain('program.csv');
  });
});
