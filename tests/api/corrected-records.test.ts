import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import { InventedYard, RECORD } from './invented-yard.js';
import { type Data, invited } from './service.js';

// Records that are corrected, and written to by two at once: what may not be is refused or waits.

let yard: InventedYard;
beforeAll(async () => {
  yard = await InventedYard.start('Corrections');
});
afterAll(() => yard.service.stop());

const send = (entries: object[], keepUndecided = false) => yard.send(entries, keepUndecided);
const write = (entry: object) => yard.write(entry);
const refused = (entry: object, words: RegExp, place: string) => yard.refused(entry, words, place);
const rows = () => yard.rows();
const animal = (code: string) => yard.animal(code);

describe('records corrected, and written by two at once', () => {
  beforeAll(async () => {
    await write({ on: '2020-03-01', move: { animals: ['F1', 'M1'], pen: 'North' } });
    await write({ on: '2020-03-01', move: { animals: ['M9'], pen: 'South' } });
    await write({
      on: '2024-05-20',
      laid: { clutch: 'N1', dams: [{ ref: 'F1' }], seenLaying: true, eggs: 12, broken: 1 },
    });
    await write({
      on: '2024-08-20',
      hatched: { clutch: 'N1', count: 8, codes: ['Y1', 'Y2'], pen: 'South' },
    });
  });

  it('refuses a clutch of one that was elsewhere, and a correction that its young gainsay', async () => {
    await write({ on: '2024-07-03', transferred: { animal: 'F1', way: 'LENT' } });
    await refused(
      { on: '2024-08-01', laid: { dams: [{ ref: 'F1' }], eggs: 4 } },
      /F1 was lent out on 2024-07-03, so it cannot be the mother of eggs laid/,
      'laid.dams',
    );
    await refused(
      { on: '2024-08-01', transferred: { animal: 'F1', way: 'SOLD' } },
      /F1 was lent out/,
      'transferred.animal',
    );
    await write({ on: '2024-09-01', transferred: { animal: 'F1', way: 'CAME_BACK' } });
    const edit =
      'mutation($programId: ID!, $input: EditClutchInput!) { editClutch(programId: $programId, input: $input) { commandId } }';
    const { clutch } = await yard.owner.data(
      'query($programId: ID!) { clutch(programId: $programId, code: "N1") { clutch { id } } }',
      { programId: yard.programId },
    );
    const before = await rows();
    for (const [change, words, place] of [
      [{ eggs: 5 }, /Of 8 eggs of N1 is written what became; 4 could have hatched/, 'input.eggs'],
      [{ laid: '2024-08-25' }, /Y1 hatched on 2024-08-20, before 2024-08-25/, 'input.laid'],
      [{ broken: 13 }, /More eggs broken or not set/, 'input.eggs'],
      [{ dams: [{ animalId: yard.ids.get('M1') }] }, /M1/, 'input.dams.0.animalId'],
    ] as const) {
      const input = { commandId: randomUUID(), clutchId: clutch.clutch.id, ...change };
      const refusal = await yard.owner.refusal(edit, { programId: yard.programId, input });
      expect(refusal.message).toMatch(words);
      expect(refusal.extensions.place).toBe(place);
      expect(refusal.extensions.remedy).toMatch(/\w+ .*\./);
    }
    expect(await rows()).toEqual(before);
  });

  it('corrects a stay, but not into two pens at once', async () => {
    await write({ stayed: { animals: ['M9'], pen: 'North', from: '2015', to: '2019' } });
    const { yard: today } = await yard.owner.data(
      'query($programId: ID!) { yard(programId: $programId) { pens { name occupants { stayId animal { code } } } } }',
      { programId: yard.programId },
    );
    const south = today.pens.find(({ name }: Data) => name === 'South');
    const { stayId } = south.occupants.find((each: Data) => each.animal.code === 'M9');
    const correct =
      'mutation($programId: ID!, $input: CorrectStayInput!) { correctStay(programId: $programId, input: $input) { program { revision } } }';
    const before = await rows();
    for (const [change, words, place] of [
      [
        { from: '2018-05-01' },
        /M9 would be in two pens at once: .* North from 2015 to 2019/,
        'input.from',
      ],
      [{ to: '2019-12-31' }, /end on 2019-12-31, before it starts on 2020-03-01/, 'input.to'],
    ] as const) {
      const input = { commandId: randomUUID(), stayId, ...change };
      const refusal = await yard.owner.refusal(correct, { programId: yard.programId, input });
      expect(refusal.message).toMatch(words);
      expect(refusal.extensions).toMatchObject({ thing: 'M9', place });
    }
    expect(await rows()).toEqual(before);
  });

  it('adds a newcomer with its purchase, and refuses one whose code is taken or who leaves', async () => {
    const came = await write({
      on: '2024-09-02',
      transferred: {
        newcomer: { code: 'R1', sex: 'MALE', hatched: '2015' },
        way: 'BOUGHT',
        contact: 'A breeder of this story',
        pen: 'South',
      },
    });
    expect(came.sentence).toBe('R1 bought on 2024-09-02');
    expect(came.remarks.join()).toMatch(/keep it apart.*veterinarian/);
    expect(await animal('R1')).toMatchObject({ sex: { sex: 'MALE' }, origin: 'ACQUIRED' });
    const newcomer = { code: 'R1' };
    await refused(
      { on: '2024-09-03', transferred: { newcomer, way: 'BOUGHT' } },
      /already has the code R1/,
      'transferred.newcomer.code',
    );
    await refused(
      { on: '2024-09-03', transferred: { newcomer: { code: 'R2' }, way: 'SOLD' } },
      /R2 is not in the books/,
      'transferred.newcomer.code',
    );
  });

  it('keeps what another member has made impossible meanwhile, with why, until it is settled', async () => {
    const keeper = await invited(yard.owner, yard.programId, 'KEEPER');
    const sale = { id: randomUUID(), on: '2024-09-05', transferred: { animal: 'R1', way: 'SOLD' } };
    await keeper.data(RECORD, { programId: yard.programId, input: { entries: [sale] } });
    // A phone that knew nothing of it sends what it has, in its order.
    const [seen, weighed, moved, other] = await send(
      [
        { on: '2024-09-04', seen: { animals: ['R1'] } },
        { on: '2024-09-08', measured: { animal: 'R1', massG: 800 } },
        { on: '2024-09-08', move: { animals: ['R1', 'Y1'], pen: 'North' } },
        { on: '2024-09-08', seen: { animals: ['Y1'] } },
      ],
      true,
    );
    // The day before the sale it was here; of the others only those that name it wait.
    expect([seen, weighed, moved, other].map(({ state }) => state)).toEqual([
      'WRITTEN',
      'NEEDS_DECISION',
      'NEEDS_DECISION',
      'WRITTEN',
    ]);
    const waiting =
      'query($programId: ID!) { waitingEntries(programId: $programId) { id kind message remedy } }';
    const kept = (await yard.owner.data(waiting, { programId: yard.programId })).waitingEntries;
    expect(kept.map(({ kind }: Data) => kind)).toEqual(['measured', 'move']);
    for (const { message, remedy } of kept) {
      expect(message).toMatch(/^R1 was sold on 2024-09-05, so it cannot be/);
      expect(remedy).toMatch(/Correct the day or the animal/);
    }
    const settle = `mutation($programId: ID!, $input: SettleEntryInput!) { settleEntry(programId: $programId, input: $input) { answers { state } } }`;
    const decide = (entryId: string, isDropped: boolean) =>
      yard.owner.data(settle, {
        programId: yard.programId,
        input: { commandId: randomUUID(), entryId, isDropped },
      });
    // Tried again it still cannot be, and stays; the sale taken back, it can.
    expect((await decide(kept[0].id, false)).settleEntry.answers[0].state).toBe('NEEDS_DECISION');
    await yard.owner.data(
      'mutation($programId: ID!, $input: UndoInput!) { undo(programId: $programId, input: $input) { program { revision } } }',
      { programId: yard.programId, input: { commandId: randomUUID(), undoes: sale.id } },
    );
    expect((await decide(kept[0].id, false)).settleEntry.answers[0].state).toBe('WRITTEN');
    await decide(kept[1].id, true);
    expect((await yard.owner.data(waiting, { programId: yard.programId })).waitingEntries).toEqual(
      [],
    );
  });
});
