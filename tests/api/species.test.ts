import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import {
  addAnimal,
  type Client,
  type Data,
  newProgram,
  startService,
  type TestService,
} from './service.js';

let service: TestService;
let owner: Client;
beforeAll(async () => {
  service = await startService();
  owner = await service.owner();
});
afterAll(() => service.stop());

const FIELDS = 'species isShipped facts { key name value source confidence own reason }';
const SET = `mutation($programId: ID!, $input: SetSpeciesFactInput!) {
  setSpeciesFact(programId: $programId, input: $input) { command { id sentence } species { ${FIELDS} } } }`;

const factOf = (species: Data[], name: string, key: string) =>
  species.find((each) => each.species === name).facts.find((fact: Data) => fact.key === key);

describe('what is known of a species', () => {
  it('comes with sources, is set with a reason, is reckoned with, and taken back', async () => {
    const programId = await newProgram(owner);
    const year = new Date().getUTCFullYear();
    await addAnimal(owner, programId, { code: 'H', sex: 'MALE', hatched: String(year - 8) });
    await addAnimal(owner, programId, { code: 'X', species: 'Testudo nowhere' });
    const { species } = await owner.data(
      `query($programId: ID!) { species(programId: $programId) { ${FIELDS} } }`,
      { programId },
    );
    expect(species.map(({ species: name, isShipped }: Data) => [name, isShipped])).toEqual([
      ['Testudo hermanni', true],
      ['Testudo nowhere', false],
    ]);
    // Bertolero et al. 2011: mean clutch 4.3 in the eastern form.
    expect(factOf(species, 'Testudo hermanni', 'EGGS_PER_CLUTCH')).toMatchObject({
      value: expect.stringContaining('Mean 4.3'),
      source: expect.stringContaining('Bertolero'),
      confidence: 'READ',
      own: [],
    });
    expect(factOf(species, 'Testudo nowhere', 'EGGS_PER_CLUTCH')).toMatchObject({
      value: 'Nothing is shipped',
      source: null,
    });
    const input = {
      commandId: randomUUID(),
      species: 'Testudo hermanni',
      fact: 'MATURE_YEARS',
      numbers: [9, 14],
      reason: 'our records since 1998',
    };
    const set = (await owner.data(SET, { programId, input })).setSpeciesFact;
    expect(set.command.sentence).toBe('Set mature, by age of Testudo hermanni to 9 to 14');
    expect(factOf(set.species, 'Testudo hermanni', 'MATURE_YEARS')).toMatchObject({
      own: [9, 14],
      reason: 'our records since 1998',
    });
    // An animal of eight years may be grown up by what is shipped, and not by what is set.
    await addAnimal(owner, programId, { code: 'I', sex: 'MALE', hatched: String(year - 8) });
    const perhapsMature = async () => {
      const { penConflicts } = await owner.data(
        `query($programId: ID!) { penConflicts(programId: $programId) { pens { animals { maturePossibly } } } }`,
        { programId },
      );
      const today = new Date().toISOString();
      return penConflicts.pens.flatMap(({ animals }: Data) =>
        animals.map(({ maturePossibly }: Data) => maturePossibly < today),
      );
    };
    const { uploadId } = await owner.upload(programId, 'code,pen\nH,Yard\nI,Yard\n');
    await owner.data(
      `mutation($programId: ID!, $input: ImportProgramFileInput!) { importProgramFile(programId: $programId, input: $input) { commandId } }`,
      {
        programId,
        input: { commandId: randomUUID(), uploadId, isDryRun: false, makesProposed: true },
      },
    );
    expect(await perhapsMature()).toEqual([false, false]);
    await owner.data(SET, {
      programId,
      input: { ...input, commandId: randomUUID(), numbers: [], reason: null },
    });
    expect(await perhapsMature()).toEqual([true, true]);
  });

  it('lets a female store sperm for the years set of her species, and the yard be closed since a day', async () => {
    const programId = await newProgram(owner);
    await addAnimal(owner, programId, { code: 'D', sex: 'FEMALE', hatched: '1990' });
    await addAnimal(owner, programId, { code: 'M', sex: 'MALE', hatched: '1990' });
    await owner.data(
      'mutation($programId: ID!, $input: AddPenInput!) { addPen(programId: $programId, input: $input) { pen { id } } }',
      { programId, input: { commandId: randomUUID(), name: 'North' } },
    );
    const RECORD = `mutation($programId: ID!, $input: RecordEntriesInput!) {
      recordEntries(programId: $programId, input: $input) { answers { state } } }`;
    // He was with her until three years before she laid, and she stayed.
    const entries = [
      { stayed: { animals: ['M'], pen: 'North', from: '2015-01-01', to: '2017-05-01' } },
      { stayed: { animals: ['D'], pen: 'North', from: '2010-01-01' } },
      { on: '2020-05-01', laid: { dams: [{ ref: 'D' }], seenLaying: true, eggs: 5 } },
    ];
    const { recordEntries } = await owner.data(RECORD, {
      programId,
      input: { entries: entries.map((entry) => ({ id: randomUUID(), ...entry })) },
    });
    expect(recordEntries.answers.map(({ state }: Data) => state)).toEqual(Array(3).fill('WRITTEN'));
    const derived = async () => {
      const { clutches } = await owner.data(
        `query($programId: ID!) { clutches(programId: $programId) { edges { node {
          derived { unrecorded assumptions fathers { animal { code } probability } } } } } }`,
        { programId },
      );
      return clutches.edges[0].node.derived;
    };
    expect(await derived()).toMatchObject({
      unrecorded: 0.05,
      fathers: [{ animal: { code: 'M' }, probability: 0.95 }],
      assumptions: expect.arrayContaining([
        expect.stringMatching(/up to 4 years: set for the whole program.*Pearse, Janzen & Avise/),
      ]),
    });
    const set = (numbers: number[], reason: string | null) =>
      owner.data(SET, {
        programId,
        input: {
          ...{ commandId: randomUUID(), species: 'Testudo hermanni', fact: 'STORAGE_YEARS' },
          ...{ numbers, reason },
        },
      });
    await set([2], 'ours never laid good eggs later');
    expect(await derived()).toMatchObject({
      unrecorded: 1,
      fathers: [],
      assumptions: expect.arrayContaining([
        'A female Testudo hermanni may store sperm for up to 2 years: set by you for the species (ours never laid good eggs later).',
      ]),
    });
    await set([], null);
    const season = (yardSince: string) =>
      owner.data(
        'mutation($programId: ID!, $input: SeasonSettingsInput!) { changeSeasonSettings(programId: $programId, input: $input) { command { id } } }',
        { programId, input: { commandId: randomUUID(), yard: 'CLOSED', yardSince } },
      );
    // Closed before the four years: nobody from outside. Closed within them: one may have been in before.
    await season('2016-04');
    expect((await derived()).unrecorded).toBeCloseTo(0.02, 12);
    await season('2017');
    expect((await derived()).unrecorded).toBeCloseTo(0.05, 12);
  });

  it('refuses figures that cannot be, and figures without a reason', async () => {
    const programId = await newProgram(owner);
    const refusal = (fact: string, numbers: number[], reason: string | null) =>
      owner.refusal(SET, {
        programId,
        input: { commandId: randomUUID(), species: 'Testudo graeca', fact, numbers, reason },
      });
    expect((await refusal('EGGS_PER_CLUTCH', [4], null)).extensions.place).toBe('input.reason');
    for (const numbers of [[14, 9], [9], [9, 900]]) {
      const error = await refusal('MATURE_YEARS', numbers, 'a guess');
      expect(error.extensions).toMatchObject({
        place: 'input.numbers',
        remedy: 'Give two figures from 0 to 60, the smaller first.',
      });
    }
  });
});
