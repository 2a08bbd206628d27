import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import fc from 'fast-check';
import {
  addAnimal,
  type Client,
  type Data,
  newProgram,
  startService,
  type TestService,
} from './service.js';

// An invented yard, many random things done in it: in every year and column
// at start + hatched + arrived + corrected - died - left - lost = at end, one year begins as the one before ended,
// and the last end is what a count of the yard itself gives. The rule is plain bookkeeping; no source needed.

const RECORD = `mutation($programId: ID!, $input: RecordEntriesInput!) {
  recordEntries(programId: $programId, input: $input) { answers { state sentence } }
}`;
const COUNT = '{ males females unsexed }';
const BOOK = `query($programId: ID!, $year: Int!) { stockBook(programId: $programId, year: $year) { until remarks species {
  species atStart ${COUNT} hatched ${COUNT} arrived ${COUNT} corrected ${COUNT} died ${COUNT} left ${COUNT} lost ${COUNT} atEnd ${COUNT}
} } }`;
const COLUMNS = ['males', 'females', 'unsexed'] as const;
const YEARS = [2018, 2019, 2020, 2021, 2022, 2023];

let service: TestService;
let owner: Client;
beforeAll(async () => {
  service = await startService();
  owner = await service.owner();
});
afterAll(() => service.stop());

const write = async (programId: string, entries: object[]): Promise<Data[]> => {
  const input = { entries: entries.map((entry) => ({ id: randomUUID(), ...entry })) };
  return (await owner.data(RECORD, { programId, input })).recordEntries.answers;
};
const bookOf = async (programId: string, year: number): Promise<Data> =>
  (await owner.data(BOOK, { programId, year })).stockBook;

/** Some animals and lots, and what may happen to them on some day; many of it cannot be, and is refused. */
const happening = fc.record({
  on: fc
    .date({ min: new Date('2018-01-01'), max: new Date('2023-12-31'), noInvalidDate: true })
    .map((date) => date.toISOString().slice(0, 10)),
  says: fc.oneof(
    fc
      .constantFrom('A1', 'A2', 'A3', 'A4', 'A5')
      .chain((animal) =>
        fc.constantFrom<object>(
          { died: { animal } },
          { gone: { animal } },
          { gone: { animal, isBack: true } },
          { transferred: { animal, way: 'SOLD' } },
          { transferred: { animal, way: 'LENT' } },
          { transferred: { animal, way: 'CAME_BACK' } },
          { transferred: { animal, way: 'BOUGHT' } },
          { sexed: { animal, sex: 'FEMALE' } },
        ),
      ),
    fc
      .tuple(fc.constantFrom('L1', 'L2'), fc.integer({ min: 1, max: 4 }), fc.nat(9))
      .chain(([lot, count, n]) =>
        fc.constantFrom<object>(
          { lot: { lot, died: count } },
          { lot: { lot, lost: count } },
          { lot: { lot, counted: count + 2 } },
          { lot: { lot, split: { count, into: lot === 'L1' ? 'L2' : 'L1' } } },
          { lot: { lot, promote: [`P${lot}${n}`] } },
          { transferred: { lot, count, way: 'SOLD' } },
          { hatched: { clutch: 'C1', count, lot } },
        ),
      ),
  ),
});

describe('the stock book', () => {
  it('always balances, and agrees with a count of the yard', async () => {
    for (const [run, happenings] of fc
      .sample(fc.array(happening, { minLength: 40, maxLength: 55 }), { numRuns: 2, seed: 4711 })
      .entries()) {
      const programId = await newProgram(owner, `Books ${run}`);
      await addAnimal(owner, programId, { code: 'A1', sex: 'FEMALE', origin: 'ACQUIRED' });
      await addAnimal(owner, programId, {
        code: 'A2',
        sex: 'MALE',
        origin: 'HATCHED_HERE',
        hatched: '2019',
      });
      await addAnimal(owner, programId, { code: 'A3', origin: 'ACQUIRED', hatched: '2017-06' });
      await addAnimal(owner, programId, { code: 'A4', sex: 'MALE', origin: 'HATCHED_HERE' });
      await addAnimal(owner, programId, { code: 'A5', origin: 'ANCESTOR_ONLY' });
      const set = await write(programId, [
        { on: '2018-01-02', laid: { clutch: 'C1', dams: [{ ref: 'A1' }] } },
        { on: '2018-04-02', hatched: { clutch: 'C1', count: 9, lot: 'L1' } },
        { on: '2018-05-02', hatched: { clutch: 'C1', count: 6, lot: 'L2' } },
      ]);
      expect(set.map(({ state }) => state)).toEqual(['WRITTEN', 'WRITTEN', 'WRITTEN']);
      const answers = await write(
        programId,
        happenings.map(({ on, says }) => ({ on, ...says })),
      );
      // Both must occur, or the test would show nothing.
      expect(new Set(answers.map(({ state }) => state)).size).toBe(2);
      let before: Data = null;
      let moved = 0;
      for (const year of YEARS) {
        const [stock] = (await bookOf(programId, year)).species;
        for (const column of COLUMNS) {
          const of = (line: string) => stock[line][column];
          expect({ year, column, end: of('atEnd') }).toEqual({
            year,
            column,
            end:
              of('atStart') +
              of('hatched') +
              of('arrived') +
              of('corrected') -
              of('died') -
              of('left') -
              of('lost'),
          });
          if (before) expect(of('atStart')).toBe(before.atEnd[column]);
          moved += of('died') + of('left') + of('lost');
        }
        before = stock;
      }
      expect(moved).toBeGreaterThan(0);
      const { roundCopy } = await owner.data(
        'query($programId: ID!) { roundCopy(programId: $programId) { animals { sex } lots { count } } }',
        { programId },
      );
      const count = (sex: string) =>
        roundCopy.animals.filter((each: Data) => each.sex === sex).length;
      const inLots = roundCopy.lots.reduce((sum: number, lot: Data) => sum + lot.count, 0);
      expect(before.atEnd).toEqual({
        males: count('MALE'),
        females: count('FEMALE'),
        unsexed: count('UNKNOWN') + inLots,
      });
    }
  });

  it('says what it assumes, and refuses a year that is no year of a book', async () => {
    const programId = await newProgram(owner, 'No arrival');
    await addAnimal(owner, programId, { code: 'B1', origin: 'ACQUIRED' });
    const { remarks, species } = await bookOf(programId, 2020);
    expect(remarks.join()).toMatch(/One animal from elsewhere has no arrival/);
    expect(species[0].atStart).toEqual({ males: 0, females: 0, unsexed: 1 });
    const refusal = await owner.refusal(BOOK, { programId, year: 2190 });
    expect(refusal.message).toMatch(/no stock book of 2190/);
  });
});

// Story 5: no spreadsheet, eleven adults by nickname, three eras, two pales and who threw them, closed since 2005.
describe('the kitchen table', () => {
  const MALES = ['Boss', 'Notch', 'Old Tom', 'Rusty', 'Little Tom'];
  const FEMALES = ['Biscuit', 'Lady', 'Freckle', 'Slate', 'Moss', 'Pip'];

  it('leads from nicknames to pens checked, two pairs, and a father out of five', async () => {
    const programId = await newProgram(owner, 'Kiln Yard');
    const act = (name: string, type: string, input: object) =>
      owner.data(
        `mutation($programId: ID!, $input: ${type}!) { ${name}(programId: $programId, input: $input) { program { revision } } }`,
        { programId, input: { commandId: randomUUID(), ...input } },
      );
    for (const code of [...MALES, ...FEMALES]) {
      await addAnimal(owner, programId, {
        code,
        sex: MALES.includes(code) ? 'MALE' : 'FEMALE',
        origin: 'ACQUIRED',
      });
    }
    await act('addPen', 'AddPenInput', { name: 'The old yard' });
    await act('addLocus', 'AddLocusInput', {
      code: 'pale',
      name: 'pale',
      inheritance: 'AUTOSOMAL',
      alleles: [{ name: 'N' }, { name: 'p' }],
      founderRule: 'ANY',
    });
    await act('addTrait', 'AddTraitInput', {
      name: 'pale',
      shows: '"pale" = p/p',
      misreadYoung: 0.02,
      misreadAdult: 0,
    });
    await act('changeSeasonSettings', 'SeasonSettingsInput', { yard: 'CLOSED', yardSince: '2005' });
    const pen = 'The old yard';
    const answers = await write(programId, [
      ...[...MALES, ...FEMALES].map((animal) => ({
        on: '1999~',
        transferred: { animal, way: 'RECEIVED', contact: 'a neighbour' },
      })),
      { stayed: { animals: [...MALES, ...FEMALES], pen, from: '2008', to: '2019' } },
      { stayed: { animals: ['Rusty', ...FEMALES], pen, from: '2019', to: '2023' } },
      { stayed: { animals: ['Notch', 'Boss', 'Biscuit', 'Lady'], pen, from: '2023' } },
      { on: '2015', laid: { clutch: 'Box 2015', dams: [{ ref: 'Biscuit' }] } },
      { on: '2015', hatched: { clutch: 'Box 2015', count: 1, codes: ['Cream'] } },
      { on: '2015', colour: { animal: 'Cream', seen: ['pale'], parts: 'pink eyes, yellow shell' } },
      { on: '2017', laid: { clutch: 'Box 2017', dams: [{ ref: 'Biscuit' }, { ref: 'Lady' }] } },
      {
        on: '2017',
        eggs: { clutch: 'Box 2017', diedLate: 1, embryosSeen: [{ trait: 'pale', count: 1 }] },
      },
    ]);
    expect(answers.filter(({ state }) => state !== 'WRITTEN')).toEqual([]);
    const told = await owner.data(
      `query($programId: ID!) {
        animal(programId: $programId, code: "Cream") { sire { candidates { animal { code } probability } unrecorded } }
        penConflicts(programId: $programId) { sentence flags { message } }
        seasonPairings(programId: $programId, first: 2) { sentence pairs { pair { sentence sire { code } dam { code } } } }
      }`,
      { programId },
    );
    const { candidates } = told.animal.sire;
    expect(candidates.map((each: Data) => each.animal.code).sort()).toEqual([...MALES].sort());
    for (const { probability } of candidates)
      expect(probability).toBeCloseTo(candidates[0].probability, 9);
    // Two males in one pen today: the pens are checked, and it is said.
    expect(told.penConflicts.flags.map((flag: Data) => flag.message).join()).toMatch(/Boss|Notch/);
    expect(told.seasonPairings.pairs).toHaveLength(2);
    const odds =
      'query($programId: ID!) { genotypeOdds(programId: $programId) { precision isPossible loci { code } } }';
    expect((await owner.data(odds, { programId })).genotypeOdds.isPossible).toBe(true);
  });
});
