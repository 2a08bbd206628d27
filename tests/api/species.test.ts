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
