import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import { InventedYard } from './invented-yard.js';
import { addAnimal, asAdmin, type Data } from './service.js';

// What may not be (an animal in two pens, eggs of a male ...) must be refused with thing, place and remedy.

let yard: InventedYard;
beforeAll(async () => {
  yard = await InventedYard.start('Records');
});
afterAll(() => yard.service.stop());

const send = (entries: object[], keepUndecided = false) => yard.send(entries, keepUndecided);
const write = (entry: object) => yard.write(entry);
const refused = (entry: object, words: RegExp, place: string) => yard.refused(entry, words, place);
const animal = (code: string) => yard.animal(code);

describe('a season, entry by entry', () => {
  it('tells an era, then who moved where', async () => {
    const era = await write({
      stayed: { animals: ['F1', 'F2', 'M1', 'M2'], pen: 'North', from: '2008', to: '2020-03-01' },
    });
    expect(era.sentence).toBe('F1, F2, M1, M2 in North 2008 to 2020-03-01');
    await write({ on: '2020-03-01', move: { animals: ['F1', 'M1'], pen: 'North' } });
    await write({ on: '2020-03-01', move: { animals: ['F2', 'M2', 'M9'], pen: 'South' } });
    await refused(
      { stayed: { animals: ['F1'], pen: 'South', from: '2010', to: '2011' } },
      /two pens at once/,
      'stayed.animals',
    );
    await refused(
      { on: '2020-05-01', move: { animals: ['F7'], pen: 'North' } },
      /no animal 'F7'. Did you mean 'F1'/,
      'move.animals.0',
    );
  });

  it('finds the possible fathers of a clutch from who was where', async () => {
    await write({
      on: '2024-05-20',
      laid: { clutch: 'N1', dams: [{ ref: 'F1' }], seenLaying: true, eggs: 12, broken: 1 },
    });
    await write({
      on: '2024-08-20',
      hatched: { clutch: 'N1', count: 3, codes: ['Y1', 'Y2'], pen: 'South' },
    });
    const young = await animal('Y1');
    expect(young).toMatchObject({
      origin: 'HATCHED_HERE',
      hatched: { text: '2024-08-20' },
      clutch: { code: 'N1' },
    });
    expect(young.dam.candidates[0]).toMatchObject({
      animal: { code: 'F1' },
      probability: 1,
      basis: 'OBSERVED',
    });
    // M2 was last with her on 1 March 2020, more than four years before: only M1, less the share of a male nobody recorded.
    expect(young.sire.candidates.map((each: Data) => each.animal.code)).toEqual(['M1']);
    expect(young.sire.candidates[0]).toMatchObject({ basis: 'HOUSED_TOGETHER' });
    expect(young.sire.unrecorded).toBeCloseTo(0.05, 9);
  });

  it('knows the father of an earlier clutch less well', async () => {
    await write({ on: '2020-06-01', laid: { clutch: 'N0', dams: [{ ref: 'F1' }], eggs: 8 } });
    await write({ on: '2020-09-01', hatched: { clutch: 'N0', count: 1, codes: ['X1'] } });
    const young = await animal('X1');
    expect(young.sire.candidates.map((each: Data) => each.animal.code)).toEqual(['M1', 'M2']);
    expect(young.sire.candidates[0].probability).toBeGreaterThan(
      young.sire.candidates[1].probability,
    );
    await write({ on: '2020-04-10', mating: { male: 'M1', female: 'F1' } });
    const after = await animal('X1');
    expect(after.sire.candidates[0].probability).toBeGreaterThan(
      young.sire.candidates[0].probability,
    );
  });

  it('drops a "male" that lays from everybody\'s possible fathers', async () => {
    await write({ on: '2024-05-25', laid: { clutch: 'S1', dams: [{ ref: 'F2' }], eggs: 10 } });
    await write({ on: '2024-08-30', hatched: { clutch: 'S1', count: 1, codes: ['Z1'] } });
    expect(
      (await animal('Z1')).sire.candidates.map((each: Data) => each.animal.code).sort(),
    ).toEqual(['M2', 'M9']);
    await refused(
      { on: '2025-06-01', laid: { dams: [{ ref: 'M9' }], eggs: 6 } },
      /M9 is recorded as male/,
      'laid.dams',
    );
    const laid = await write({
      on: '2025-06-01',
      laid: { clutch: 'S2', dams: [{ ref: 'M9' }], eggs: 6, itIsFemale: true },
    });
    expect(laid.remarks.join()).toMatch(/female/);
    expect((await animal('M9')).sex.sex).toBe('FEMALE');
    expect((await animal('Z1')).sire.candidates.map((each: Data) => each.animal.code)).toEqual([
      'M2',
    ]);
  });

  it('keeps the books of lots balanced', async () => {
    await refused(
      { on: '2024-09-01', lot: { lot: 'N1', died: 4 } },
      /There is 1 in lot N1/,
      'lot.lot',
    );
    await write({ on: '2024-08-22', hatched: { clutch: 'N1', count: 5, lot: 'N1' } });
    await write({ on: '2024-09-02', lot: { lot: 'N1', split: { count: 2, into: 'Tub B' } } });
    await write({ on: '2024-09-03', lot: { lot: 'N1', promote: ['Y3'] } });
    await write({ on: '2024-09-04', lot: { lot: 'N1', counted: 2 } });
    const [sum] = await asAdmin(yard.service.databaseName, async (client) => {
      const found = await client.query(
        "SELECT sum(c.count) FILTER (WHERE l.code = 'N1')::int AS n1, sum(c.count) FILTER (WHERE l.code = 'Tub B')::int AS b FROM lot_change c JOIN lot l ON l.id = c.lot_id",
      );
      return found.rows;
    });
    expect(sum).toEqual({ n1: 2, b: 2 });
    expect((await animal('Y3')).clutch.code).toBe('N1');
    await refused(
      { on: '2024-09-05', hatched: { clutch: 'N1', count: 4 } },
      /11 eggs to hatch; 8 are accounted for/,
      'hatched.count',
    );
  });

  it('refuses what cannot be, with thing, place and remedy', async () => {
    await refused(
      { on: '2024-05-01', hatched: { clutch: 'N1', count: 1 } },
      /N1 was laid on 2024-05-20/,
      'hatched.clutch',
    );
    await refused(
      { on: '2025-06-02', laid: { dams: [{ ref: 'F1' }], eggs: 5, pen: 'South' } },
      /F1 was in North on 2025-06-02, not in South/,
      'laid.pen',
    );
    await refused(
      { on: '2190-01-01', measured: { animal: 'F1', massG: 900 } },
      /still to come/,
      'on',
    );
    await write({ on: '2024-04-01', measured: { animal: 'F1', massG: 2310, sclMm: 240 } });
    await refused(
      { on: '2024-06-01', measured: { animal: 'F1', massG: 231 } },
      /Is a digit missing/,
      'measured.massG',
    );
    await write({ on: '2024-06-01', measured: { animal: 'F1', massG: 231, isSure: true } });
    await refused(
      { on: '2024-05-01', mating: { male: 'F1', female: 'F2' } },
      /F1 is recorded as female/,
      'mating.male',
    );
    await refused(
      { on: '2024-06-01', eggs: { clutch: 'S1', infertile: 30 } },
      /S1 had 10 eggs/,
      'eggs.infertile',
    );
    await write({
      on: '2024-07-01',
      transferred: { animal: 'M1', way: 'SOLD', contact: 'A buyer' },
    });
    await refused(
      { on: '2024-08-01', measured: { animal: 'M1', massG: 900 } },
      /M1 was sold on 2024-07-01/,
      'measured.animal',
    );
    await refused(
      { on: '2024-08-01', move: { animals: ['M1'], pen: 'South' } },
      /M1 was sold/,
      'move.animals',
    );
    await write({ on: '2024-07-02', died: { animal: 'F2', cause: 'HEAT' } });
    await refused(
      { on: '2025-05-01', laid: { dams: [{ ref: 'F2' }], eggs: 3 } },
      /F2 died on 2024-07-02/,
      'laid.dams',
    );
  });

  it('warns of a chip number that cannot be one, and takes it all the same', async () => {
    const short = await write({
      on: '2024-04-01',
      marked: { animal: 'F1', scheme: 'CHIP', text: '9001 234' },
    });
    expect(short.remarks.join()).toMatch(/15 digits/);
    const whole = await write({
      on: '2024-04-02',
      marked: { animal: 'M9', scheme: 'CHIP', text: '985 112 345 678 903' },
    });
    expect(whole.remarks.join()).not.toMatch(/15 digits/);
    const twin = await write({
      on: '2024-04-02',
      marked: { animal: 'F1', scheme: 'CHIP', text: '985112345678903' },
    });
    expect(twin.remarks.join()).toMatch(/same mark stands with M9/);
  });

  it('writes an entry once however often it is sent, and keeps the undecided', async () => {
    const entry = { id: randomUUID(), on: '2024-04-05', seen: { animals: ['M9'] } };
    const first = await send([entry, entry]);
    expect(first.map(({ state }) => state)).toEqual(['WRITTEN', 'DUPLICATE']);
    const wrong = { id: randomUUID(), on: '2024-04-05', measured: { animal: 'M99', massG: 900 } };
    await send([wrong], true);
    const waiting =
      'query($programId: ID!) { waitingEntries(programId: $programId) { id kind message remedy by } }';
    const [kept] = (await yard.owner.data(waiting, { programId: yard.programId })).waitingEntries;
    expect(kept).toMatchObject({ id: wrong.id, kind: 'measured' });
    expect(kept.message).toMatch(/M99/);
    const settle = `mutation($programId: ID!, $input: SettleEntryInput!) { settleEntry(programId: $programId, input: $input) { answers { state } } }`;
    await addAnimal(yard.owner, yard.programId, { code: 'M99', sex: 'MALE' });
    const settled = await yard.owner.data(settle, {
      programId: yard.programId,
      input: { commandId: randomUUID(), entryId: wrong.id, isDropped: false },
    });
    expect(settled.settleEntry.answers).toEqual([{ state: 'WRITTEN' }]);
    expect((await yard.owner.data(waiting, { programId: yard.programId })).waitingEntries).toEqual(
      [],
    );
  });

  it('takes an entry back', async () => {
    const moved = await write({ on: '2024-10-01', move: { animals: ['Y1'], pen: 'North' } });
    const undo =
      'mutation($programId: ID!, $input: UndoInput!) { undo(programId: $programId, input: $input) { command { sentence } } }';
    const undone = await yard.owner.data(undo, {
      programId: yard.programId,
      input: { commandId: randomUUID(), undoes: moved.id },
    });
    expect(undone.undo.command.sentence).toMatch(/Took back/);
    const lines =
      'query($programId: ID!, $id: ID!) { records(programId: $programId, id: $id) { kind text date act { sentence } } }';
    const id = (
      await yard.owner.data(
        'query($programId: ID!) { animal(programId: $programId, code: "Y1") { id } }',
        { programId: yard.programId },
      )
    ).animal.id;
    const { records } = await yard.owner.data(lines, { programId: yard.programId, id });
    expect(records).toEqual([
      {
        kind: 'stay',
        text: 'In South from 2024-08-20',
        date: '2024-08-20',
        act: { sentence: 'N1: 3 hatched (Y1, Y2, 1 in lot N1) on 2024-08-20' },
      },
    ]);
  });
});
