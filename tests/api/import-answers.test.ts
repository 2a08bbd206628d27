import { randomUUID } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import { type Client, type Data, newProgram, startService, type TestService } from './service.js';

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
    created changed leftAlone isBlocked commandId guardedCells guesses
    faults { code line column value message remedy isFatal nearest }
    questions { kind name proposal mode } answered { kind name } known { traits pens }
    map { format dateOrder affectedTrait isGuarded words { female none } columns { heading field } }
  }
}`;

async function send(programId: string, bytes: Uint8Array | string, fields: object = {}) {
  const { uploadId } = await owner.upload(programId, bytes);
  const input = {
    commandId: randomUUID(),
    uploadId,
    isDryRun: true,
    species: 'Testudo hermanni',
    ...fields,
  };
  return {
    uploadId,
    ...(await owner.data(IMPORT, { programId, input })).importProgramFile,
  } as Data;
}

/** Questions about names; that the species is missing is asked apart. */
const named = (look: Data) => look.questions.filter(({ kind }: Data) => kind !== 'NO_SPECIES');

async function contradictions(programId: string, input: object): Promise<Data> {
  const data = await owner.data(
    `query($programId: ID!, $input: LookAtImportInput!) {
      importContradictions(programId: $programId, input: $input) { isComplete animals contradictions { records codes } }
    }`,
    { programId, input },
  );
  return data.importContradictions;
}

const traits = (programId: string) =>
  owner.data(
    `query($programId: ID!) { definitions(programId: $programId) { traits { name shows seenIn } loci { code } } }`,
    { programId },
  );

describe('what a file names and the program does not know', () => {
  it('is made as asked, taken for something known, or left out', async () => {
    const programId = await newProgram(owner);
    await send(programId, 'code,traits,pen\nA,pale,North\nB,none,North\n', {
      isDryRun: false,
      makesProposed: true,
    });
    const text =
      'code,traits,pen,genotype\nC,palle;smoky,Nort,\nD,odd,Shed,xx=X/y\nE,smoky,North,\n';
    const answers = [
      { kind: 'TRAIT', name: 'palle', act: 'USE', use: 'pale' },
      { kind: 'TRAIT', name: 'odd', act: 'LEAVE_OUT' },
      { kind: 'TRAIT', name: 'smoky', act: 'MAKE', mode: 'DOMINANT' },
      { kind: 'PEN', name: 'Nort', act: 'USE', use: 'North' },
      { kind: 'PEN', name: 'Shed', act: 'LEAVE_OUT' },
      { kind: 'LOCUS', name: 'xx', act: 'LEAVE_OUT' },
    ];
    const open = await send(programId, text);
    expect(open.questions.map((question: Data) => question.name)).toEqual(
      expect.arrayContaining(['palle', 'smoky', 'odd', 'Nort', 'Shed', 'xx']),
    );
    expect(open.known).toEqual({ traits: ['pale'], pens: ['North'] });
    const look = await send(programId, text, { answers });
    expect(named(look)).toEqual([
      expect.objectContaining({ kind: 'TRAIT', name: 'smoky', mode: 'DOMINANT' }),
    ]);
    expect(look.answered).toHaveLength(5);
    const refused = await owner.refusal(IMPORT, {
      programId,
      input: {
        commandId: randomUUID(),
        uploadId: look.uploadId,
        isDryRun: false,
        species: 'Testudo hermanni',
        answers: answers.slice(0, 2),
      },
    });
    expect(refused.extensions.place).toBe('input.makesProposed');
    // Every name is answered, so nothing is made on the quiet.
    await send(programId, text, { answers, isDryRun: false });
    const { definitions } = await traits(programId);
    expect(definitions.traits.map(({ name, seenIn }: Data) => [name, seenIn])).toEqual([
      ['pale', 2],
      ['smoky', 2],
    ]);
    expect(definitions.traits[1].shows).toMatch(/= N\/s \| s\/s$/);
    expect(definitions.loci.map(({ code }: Data) => code)).not.toContain('xx');
    const { exportProgram } = await owner.data(
      'query($programId: ID!) { exportProgram(programId: $programId) }',
      { programId },
    );
    expect(exportProgram).toContain('C,,Testudo hermanni,,,,,,pale;smoky,,North');
    expect(exportProgram).toContain('D,,Testudo hermanni,,,,,,,,,');
  });

  it('shows what could not all be true once the file is in, without calling it a fault', async () => {
    const programId = await newProgram(owner);
    const text = 'code,sex,sire,dam,traits\nM,m,,,pale\nF,f,,,pale\nY,,M,F,none\n';
    const look = await send(programId, text);
    expect(look).toMatchObject({ isBlocked: false, faults: [] });
    const { uploadId } = look;
    // Two animals with two copies each have no plain young (Mendel 1866).
    const clash = await contradictions(programId, { uploadId });
    expect(clash).toMatchObject({ isComplete: true, animals: 3 });
    expect(clash.contradictions[0].codes.toSorted()).toEqual(['F', 'M', 'Y']);
    // Where one copy shows, two showing parents may well have plain young.
    const answers = [{ kind: 'TRAIT', name: 'pale', act: 'MAKE', mode: 'DOMINANT' }];
    expect((await contradictions(programId, { uploadId, answers })).contradictions).toEqual([]);
    // The same against what the program holds already.
    await send(programId, 'code,sex,sire,dam,traits\nM,m,,,pale\nF,f,,,pale\n', {
      isDryRun: false,
      makesProposed: true,
    });
    const later = await send(programId, 'code,sire,dam,traits\nY,M,F,none\n');
    const found = await contradictions(programId, { uploadId: later.uploadId });
    expect(found.contradictions[0].records).toEqual(
      expect.arrayContaining(['M shows pale', 'Y was looked at and does not show pale']),
    );
  });
});

describe('how a file is read', () => {
  it('is remembered by its headings and proposed the next time', async () => {
    const programId = await newProgram(owner);
    const own = file('own-headings.csv');
    const first = await send(programId, own);
    const columns = first.map.columns.map(({ heading, field }: Data) => ({
      heading,
      field: field === 'name' ? 'notes' : field === 'notes' ? null : field,
    }));
    const fields = { map: { columns }, makesProposed: true, isDryRun: false };
    const written = await send(programId, own, fields);
    expect(written.commandId).toBeTruthy();
    const again = await send(programId, own);
    expect(again.guesses[0]).toMatch(/are read as on \d{4}-\d\d-\d\d/);
    expect(again.map.columns).toEqual(columns);
    expect(again.map.dateOrder).toBe('DAY_FIRST');
    // A file of other headings is proposed anew.
    expect((await send(programId, 'code,sex\nZ,m\n')).guesses).toEqual([]);
  });

  it('knows the six columns of the open pedigree convention, and asks what affected means', async () => {
    const programId = await newProgram(owner);
    const text = 'F1 1 0 0 1 1\nF1 2 0 0 2 1\nF1 3 1 2 0 2\n';
    const look = await send(programId, text);
    expect(look.map).toMatchObject({ format: 'SIX_COLUMNS', affectedTrait: null });
    expect(look.faults.map(({ code }: Data) => code)).toEqual(['PHENOTYPE_LEFT_OUT']);
    const told = await send(programId, text, { map: { affectedTrait: 'pale' } });
    expect(told.faults).toEqual([]);
    expect(named(told)).toEqual([
      expect.objectContaining({ kind: 'TRAIT', name: 'pale', mode: 'RECESSIVE' }),
    ]);
  });

  it('can be told every part of it: words, separator, guarded cells', async () => {
    const programId = await newProgram(owner);
    const text = "code|sex|notes\nA|hana|'=1+1\nB|kane|\n";
    const look = await send(programId, text);
    expect(look.guardedCells).toBe(1);
    expect(look.faults.map(({ code }: Data) => code)).toEqual(['BAD_SEX', 'BAD_SEX']);
    const words = { female: ['hana'], male: ['kane'], unknown: [], none: ['none'] };
    const told = await send(programId, text, { map: { words, isGuarded: true, separator: '|' } });
    expect(told).toMatchObject({ faults: [], guardedCells: 0 });
    expect(told.map).toMatchObject({ isGuarded: true, words: { female: ['hana'] } });
  });

  it('reads a cell as it is mended on the page, writes it so, and gives the mended file', async () => {
    const programId = await newProgram(owner);
    const text =
      'code,species,sex,sire,scl_mm\nHB-1,Testudo hermanni,m,,160\nHB-2,Testudo hermanni,x,HB_1,12O\n';
    const look = await send(programId, text);
    expect(look.isBlocked).toBe(true);
    const near = look.faults.find(({ code }: Data) => code === 'UNKNOWN_PARENT');
    expect(near).toMatchObject({ value: 'HB_1', nearest: ['HB-1'] });
    const corrections = look.faults.map(({ line, column, value }: Data) => ({
      line,
      column,
      from: value,
      to: { sire: 'HB-1', sex: 'f', scl_mm: '120' }[column as string],
    }));
    const done = await send(programId, text, { corrections, isDryRun: false });
    expect(done).toMatchObject({ isBlocked: false, created: 2, faults: [] });
    const { uploadId } = await owner.upload(programId, text);
    const { mendedFile } = await owner.data(
      'query($p: ID!, $i: LookAtImportInput!) { mendedFile(programId: $p, input: $i) }',
      { p: programId, i: { uploadId, corrections } },
    );
    expect(mendedFile).toBe(text.replace(',x,HB_1,12O', ',f,HB-1,120'));
    expect(await send(programId, mendedFile)).toMatchObject({
      created: 0,
      changed: 0,
      leftAlone: 2,
    });
  });

  it('finds every planted fault of the messy file with line, column, value and remedy', async () => {
    const programId = await newProgram(owner);
    const { faults } = await send(programId, file('harbour-messy.csv'));
    const planted = JSON.parse(file('harbour-messy.faults.json').toString('utf8'));
    const list: Data[] = Array.isArray(planted) ? planted : planted.faults;
    expect(list.length).toBeGreaterThan(10);
    for (const { line, column, value } of list.filter((each) => each.column)) {
      const found = faults.find((fault: Data) => fault.line === line && fault.column === column);
      expect({ line, column, found: found?.value, remedy: Boolean(found?.remedy) }).toEqual({
        line,
        column,
        found: value === undefined ? found?.value : expect.anything(),
        remedy: true,
      });
    }
  });
});
