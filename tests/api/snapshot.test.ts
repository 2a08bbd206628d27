import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import { ComputePool } from '@scutewright/api/inside/compute/compute-pool';
import { Database } from '@scutewright/api/inside/db/database';
import { accessTo, type ProgramAccess } from '@scutewright/api/inside/db/in-program';
import { ROW_TABLES } from '@scutewright/api/inside/snapshot/program-rows';
import type { Snapshot } from '@scutewright/api/inside/snapshot/snapshot';
import { Snapshots } from '@scutewright/api/inside/snapshot/snapshots';
import { ENTRY_KINDS } from '@scutewright/commands';
import { type DemoProgram, openDemo } from './demo-program.js';
import { asAdmin, type Data } from './service.js';

// A snapshot made from the one before must be the one that is read from nothing: after every kind of entry and act, after
// several at once, after an import, and while all of it is taken back. The reading from nothing is the reference.

let program: DemoProgram;
let database: Database;
let pool: ComputePool;
let access: ProgramAccess;
/** Asked after every act, and after every fifth one. */
let often: Snapshots;
let seldom: Snapshots;
const done: string[] = [];

beforeAll(async () => {
  program = await openDemo();
  database = new Database(program.service.databaseUrl);
  pool = new ComputePool();
  const { rows } = await asAdmin(program.service.databaseName, (client) =>
    client.query('SELECT account_id FROM member WHERE program_id = $1', [program.demo]),
  );
  access = (await accessTo(database, rows[0].account_id, program.demo)) as ProgramAccess;
  often = new Snapshots(database, pool);
  seldom = new Snapshots(database, pool);
}, 120_000);
afterAll(async () => {
  await pool.close();
  await database.close();
  await program.service.stop();
});

const fromNothing = () => new Snapshots(database, pool).current(access);

/** A snapshot as text: quicker to compare than its parts, of which many come from another thread. */
function textOf(snapshot: Snapshot): string {
  return JSON.stringify(snapshot, (_, value) => {
    if (value instanceof Map) return { map: [...value] };
    if (typeof value === 'number' && !Number.isFinite(value)) return String(value);
    return ArrayBuffer.isView(value) ? Array.from(value as Float64Array) : value;
  });
}

function expectSame(what: string, made: Snapshot, read: Snapshot): void {
  if (textOf(made) === textOf(read)) return;
  // Part by part, so that a difference names its place.
  for (const part of Object.keys(read) as (keyof Snapshot)[])
    expect({ what, [part]: made[part] }).toEqual({ what, [part]: read[part] });
  throw new Error(`After ${what} the snapshots differ`);
}

async function compare(what: string): Promise<Snapshot> {
  const [made, read] = [await often.current(access), await fromNothing()];
  expectSame(what, made, read);
  if (done.length % 5 === 0) expectSame(what, await seldom.current(access), read);
  return made;
}

async function act(name: string, type: string, input: object): Promise<void> {
  const commandId = randomUUID();
  await program.owner.data(
    `mutation($p: ID!, $i: ${type}!) { ${name}(programId: $p, input: $i) { __typename } }`,
    { p: program.demo, i: { commandId, ...input } },
  );
  done.push(commandId);
  await compare(name);
}

const kinds = new Set<string>();
async function record(entry: { on?: string; [kind: string]: unknown }): Promise<void> {
  const id = randomUUID();
  const { recordEntries } = await program.owner.data(
    'mutation($p: ID!, $i: RecordEntriesInput!) { recordEntries(programId: $p, input: $i) { answers { state sentence } } }',
    { p: program.demo, i: { entries: [{ id, ...entry }] } },
  );
  expect({ entry, answer: recordEntries.answers[0].state }).toEqual({ entry, answer: 'WRITTEN' });
  done.push(id);
  const kind = Object.keys(entry).find((key) => key in ENTRY_KINDS) ?? '';
  kinds.add(kind);
  await compare(kind);
}

const ask = (query: string): Promise<Data> => program.owner.data(query, { p: program.demo });

/** Every kind of entry, in an order in which they make sense; two seasons, so that possible fathers come and go. */
const ENTRIES: { on?: string; [kind: string]: unknown }[] = [
  {
    transferred: {
      newcomer: { code: 'NEW', species: 'Testudo graeca', sex: 'MALE', hatched: '1999' },
      way: 'BOUGHT',
    },
    on: '2020-03-01',
  },
  {
    transferred: {
      newcomer: { code: 'HER', species: 'Testudo graeca', sex: 'FEMALE', hatched: '1998' },
      way: 'BOUGHT',
    },
    on: '2020-03-01',
  },
  {
    transferred: {
      newcomer: { code: 'WHO', species: 'Testudo graeca', hatched: '2001' },
      way: 'BOUGHT',
    },
    on: '2020-03-01',
  },
  { stayed: { animals: ['NEW', 'HER'], pen: 'Lagoon run', from: '2020-03', to: '2022-04-01' } },
  { on: '2022-04-01', move: { animals: ['HER', 'WHO'], pen: 'Reed yard' } },
  { on: '2022-06-01', laid: { clutch: 'A', dams: [{ ref: 'HER' }], eggs: 9, seenLaying: true } },
  { on: '2023-05-01', mating: { male: 'WHO', female: 'HER' } },
  { on: '2023-06-01', laid: { clutch: 'B', dams: [{ ref: 'HER' }], eggs: 12 } },
  { on: '2023-06-02', set: { clutch: 'B', batch: '1', eggs: 10, celsius: 31 } },
  { on: '2023-06-20', warmth: { clutch: 'B', batch: '1', celsius: 31.5 } },
  {
    on: '2023-08-01',
    eggs: { clutch: 'B', infertile: 2, diedLate: 1, embryosSeen: [{ trait: 'chalk', count: 1 }] },
  },
  { on: '2023-09-01', hatched: { clutch: 'B', count: 2, codes: ['B1', 'B2'] } },
  { on: '2023-09-02', hatched: { clutch: 'B', count: 5, lot: 'L' } },
  { on: '2023-09-03', move: { lots: ['L'], pen: 'Reed yard' } },
  { on: '2023-09-20', lot: { lot: 'L', promote: ['L1'] } },
  { on: '2023-09-21', lot: { lot: 'L', died: 1, cause: 'HEAT' } },
  { on: '2023-09-30', found: { codes: ['G'], clutches: [{ ref: 'A' }, { ref: 'B' }] } },
  { on: '2023-10-01', colour: { animal: 'B1', seen: ['chalk'], absent: ['sedge'] } },
  { on: '2023-10-01', colour: { clutch: 'B', looked: 2, counts: [{ trait: 'chalk', count: 1 }] } },
  { on: '2023-10-02', measured: { animal: 'B1', sclMm: 48, massG: 31 } },
  { on: '2023-10-02', marked: { animal: 'B1', scheme: 'NOTCHES', text: '2-7' } },
  {
    on: '2023-10-03',
    tested: { animal: 'HER', locus: 'ck', alleles: ['N', 'c'], errorRate: 0.01 },
  },
  { on: '2023-10-03', said: { animal: 'NEW', locus: 'ck', alleles: ['N', 'N'], trust: 0.7 } },
  { on: '2023-10-04', sexed: { animal: 'WHO', sex: 'MALE', method: 'tail' } },
  { on: '2021-07-01', breach: { pens: ['Lagoon run', 'Reed yard'], until: '2021-07-20' } },
  { on: '2023-10-05', seen: { animals: ['HER'] } },
  { on: '2023-10-05', health: { animal: 'HER', what: 'a scratch' } },
  { on: '2023-10-06', incident: { animal: 'WHO', other: 'NEW', what: 'FIGHT' } },
  { on: '2023-10-06', noted: { animal: 'HER', text: 'digs' } },
  { on: '2024-05-01', gone: { animal: 'WHO' } },
  {
    on: '2024-05-09',
    gone: { animal: 'WHO', isBack: true, pen: 'Lagoon run', knownBy: 'a notch' },
  },
  { on: '2024-06-01', laid: { clutch: 'C', dams: [{ ref: 'WHO' }], eggs: 4, itIsFemale: true } },
  { on: '2024-06-02', transferred: { animal: 'B2', way: 'SOLD' } },
  { on: '2024-06-03', died: { animal: 'NEW', cause: 'COLD' } },
];

describe('a snapshot made from the one before', () => {
  it('is the one read from nothing, after every kind of entry', async () => {
    await compare('the demo');
    for (const entry of ENTRIES) await record(entry);
    expect([...kinds].sort()).toEqual(Object.keys(ENTRY_KINDS).sort());
    const { season } = await often.current(access);
    expect(season.derivedFathers.size).toBeGreaterThan(1);
  }, 120_000);

  it('keeps the parts that an act did not touch', async () => {
    const before = await often.current(access);
    await record({ on: '2024-07-01', noted: { animal: 'HER', text: 'basks' } });
    const after = await often.current(access);
    expect(after.revision).toBe(before.revision + 1);
    for (const part of ['animals', 'clutches', 'stays', 'sires', 'dams', 'colourChecks'] as const)
      expect(after[part]).toBe(before[part]);
    await record({ on: '2024-07-02', measured: { animal: 'HER', massG: 1100 } });
    expect((await often.current(access)).stays).toBe(before.stays);
    expect((await often.current(access)).season.measurements).not.toBe(before.season.measurements);
  });

  it('is, after acts on animals, clutches, pens, genes, settings, and an import', async () => {
    const made = await often.current(access);
    const { animals, clutches, stays } = made;
    const idOf = (code: string) => animals.ids[animals.positionByCode.get(code) ?? -1];
    const clutchId = clutches.ids[clutches.codes.indexOf('B')];
    const stay = stays.find(({ animal }) => animals.codes[animal] === 'HER');
    await act('addAnimal', 'AddAnimalInput', { code: 'AAA', species: 'Testudo graeca' });
    await act('editAnimal', 'EditAnimalInput', {
      animalId: idOf('HER'),
      hatched: '1997',
      name: 'Her',
    });
    await act('correctStay', 'CorrectStayInput', {
      stayId: stay?.id,
      from: '2020-05',
      to: '2022-03-01',
    });
    await act('editClutch', 'EditClutchInput', { clutchId, laid: '2023-05-20' });
    await act('editClutch', 'EditClutchInput', {
      clutchId,
      sires: [{ animalId: idOf('SG-001') }],
      reason: 'seen',
    });
    await act('addPen', 'AddPenInput', { name: 'A first pen', areaM2: 20 });
    await act('editPen', 'EditPenInput', { penId: made.pens[1].id, name: 'Zander yard' });
    await act('addLocus', 'AddLocusInput', {
      code: 'aa',
      name: 'first',
      inheritance: 'AUTOSOMAL',
      alleles: [{ name: 'N' }, { name: 'a' }],
      founderRule: 'ANY',
    });
    await act('addTrait', 'AddTraitInput', {
      name: 'apricot',
      shows: 'aa = a/a',
      misreadAdult: 0.02,
      misreadYoung: 0.05,
    });
    await act('changeSeasonSettings', 'SeasonSettingsInput', { yard: 'CLOSED', storageYears: 3 });
    // Settings are changed anew, not taken back.
    done.pop();
    await act('setSpeciesFact', 'SetSpeciesFactInput', {
      species: 'Testudo graeca',
      fact: 'STORAGE_YEARS',
      numbers: [2],
      reason: 'our own clutches',
    });
    const { uploadId } = await program.owner.upload(
      program.demo,
      'code,species,sex,hatched,sire,dam,traits\nI1,Testudo graeca,m,2024,SG-001,HER,none\nAAA,Testudo graeca,f,2019,,,\n',
    );
    await act('importProgramFile', 'ImportProgramFileInput', { uploadId, isDryRun: false });
    expect((await often.current(access)).animals.positionByCode.has('I1')).toBe(true);
  }, 120_000);

  it('is, while all acts are taken back from the last one on', async () => {
    const { history } = await ask(
      'query($p: ID!) { history(programId: $p, first: 200) { edges { node { id } } } }',
    );
    const mine = new Set(done);
    const ids: string[] = history.edges
      .map(({ node }: Data) => node.id)
      .filter((id: string) => mine.has(id));
    expect(ids.length).toBe(done.length);
    for (const undoes of ids) await act('undo', 'UndoInput', { undoes });
    const { season, animals } = await often.current(access);
    expect(season.derivedFathers.size).toBe(0);
    expect(animals.count).toBe(171);
  }, 120_000);
});

describe('the rows of a snapshot', () => {
  it('are of tables that keep a history of inserts, updates and deletes', async () => {
    const { rows } = await asAdmin(program.service.databaseName, (client) =>
      client.query(
        `SELECT c.relname AS name, count(*)::int AS triggers FROM pg_trigger t JOIN pg_class c ON c.oid = t.tgrelid
         WHERE t.tgname LIKE 'history_of_%' AND t.tgenabled = 'O' GROUP BY c.relname`,
      ),
    );
    const kept = rows.filter(({ triggers }) => triggers === 3).map(({ name }) => name);
    expect(kept).toEqual(expect.arrayContaining([...ROW_TABLES]));
  });
});
