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
let programId: string;

beforeAll(async () => {
  service = await startService();
  owner = await service.owner();
  programId = await newProgram(owner);
});
afterAll(() => service.stop());

const ADD = `mutation($programId: ID!, $input: AddAnimalInput!) {
  addAnimal(programId: $programId, input: $input) { animal { id code } commandId }
}`;
const EDIT = `mutation($programId: ID!, $input: EditAnimalInput!) {
  editAnimal(programId: $programId, input: $input) { animal { id code sex { sex } hatched { text } } commandId }
}`;
const UNDO = `mutation($programId: ID!, $input: UndoInput!) {
  undo(programId: $programId, input: $input) { command { sentence } program { revision } }
}`;
const F = `query($programId: ID!, $code: String!) {
  animal(programId: $programId, code: $code) {
    inbreeding { value completeness sentence revision }
    sire { unrecorded candidates { probability animal { code } } }
  }
}`;

const input = (fields: object) => ({
  programId,
  input: { commandId: randomUUID(), species: 'Testudo hermanni', ...fields },
});

describe('animals', () => {
  it('computes F = 1/4 for the young of full sibs from what was entered', async () => {
    // Full sibs: F of the young 1/4. Falconer & Mackay 1996, Introduction to Quantitative Genetics, table 5.1 (from memory).
    const sire = await addAnimal(owner, programId, { code: 'S', sex: 'MALE', hatched: '1990' });
    const dam = await addAnimal(owner, programId, { code: 'D', sex: 'FEMALE', hatched: '1991-06' });
    const parents = { sires: [{ animalId: sire }], dams: [{ animalId: dam }] };
    const brother = await addAnimal(owner, programId, {
      code: 'B',
      sex: 'MALE',
      hatched: '2001',
      ...parents,
    });
    const sister = await addAnimal(owner, programId, {
      code: 'Z',
      sex: 'FEMALE',
      hatched: '2002',
      ...parents,
    });
    await addAnimal(owner, programId, {
      code: 'Y',
      hatched: '2015',
      sires: [{ animalId: brother }],
      dams: [{ animalId: sister }],
    });
    const { animal } = await owner.data(F, { programId, code: 'Y' });
    expect(animal.inbreeding.value).toBe(0.25);
    expect(animal.inbreeding.completeness).toEqual([1, 1, 0, 0, 0]);
    expect(animal.inbreeding.sentence).toContain('F is 0.250');
  });

  it('says that nothing is known rather than F = 0 for a founder', async () => {
    const { animal } = await owner.data(F, { programId, code: 'S' });
    expect(animal.inbreeding.sentence).toBe(
      'Nothing is recorded of its parents, so its inbreeding is not known.',
    );
  });

  it('halves F where the father is one of two, and names what is missing to 1', async () => {
    const stranger = await addAnimal(owner, programId, { code: 'T', sex: 'MALE', hatched: '1995' });
    const { animal: b } = await owner.data(
      'query($programId: ID!) { animal(programId: $programId, code: "B") { id } }',
      { programId },
    );
    const { animal: z } = await owner.data(
      'query($programId: ID!) { animal(programId: $programId, code: "Z") { id } }',
      { programId },
    );
    await addAnimal(owner, programId, {
      code: 'U',
      sires: [
        { animalId: b.id, probability: 0.5 },
        { animalId: stranger, probability: 0.3 },
      ],
      dams: [{ animalId: z.id }],
    });
    const { animal } = await owner.data(F, { programId, code: 'U' });
    expect(animal.inbreeding.value).toBe(0.125);
    expect(animal.sire.unrecorded).toBeCloseTo(0.2, 12);
  });

  it('refuses what cannot be, naming the thing, the place and the remedy', async () => {
    const { animals } = await owner.data(
      'query($programId: ID!) { animals(programId: $programId) { edges { node { id code } } } }',
      { programId },
    );
    const id = (code: string) =>
      animals.edges.find((edge: Data) => edge.node.code === code)?.node.id;
    const cases: [object, string, string][] = [
      [{ code: 'S' }, 'input.code', 'Another animal already has the code S.'],
      [{ code: '' }, 'input.code', 'Give a code'],
      [{ code: 'N1', hatched: '2011-02-31' }, 'input.hatched', 'This is not a date.'],
      [
        { code: 'N2', sires: [{ animalId: randomUUID() }] },
        'input.sires.0.animalId',
        'is not an animal of the program',
      ],
      [
        { code: 'N3', sires: [{ animalId: id('D') }] },
        'input.sires.0.animalId',
        'D is recorded as female',
      ],
      [
        { code: 'N4', dams: [{ animalId: id('B') }] },
        'input.dams.0.animalId',
        'B is recorded as male',
      ],
      [
        { code: 'N5', hatched: '1985', sires: [{ animalId: id('S') }] },
        'input.sires.0.animalId',
        'S hatched after',
      ],
      [
        {
          code: 'N6',
          sires: [
            { animalId: id('S'), probability: 0.7 },
            { animalId: id('B'), probability: 0.6 },
          ],
        },
        'input.sires',
        'sum to more than 1',
      ],
      [
        { code: 'N7', sires: [{ animalId: id('S') }, { animalId: id('S') }] },
        'input.sires.1.animalId',
        'stands twice',
      ],
    ];
    for (const [fields, place, words] of cases) {
      const error = await owner.refusal(ADD, input(fields));
      expect(error.message).toContain(words);
      expect(error.extensions).toMatchObject({ place, remedy: expect.any(String) });
    }
    const { program } = await owner.data(
      'query($programId: ID!) { program(programId: $programId) { animalCount } }',
      { programId },
    );
    expect(program.animalCount).toBe(7);
  });

  it('refuses a cycle and an own parent on a correction', async () => {
    const { animal: s } = await owner.data(
      'query($programId: ID!) { animal(programId: $programId, code: "S") { id } }',
      { programId },
    );
    const { animal: y } = await owner.data(
      'query($programId: ID!) { animal(programId: $programId, code: "Y") { id } }',
      { programId },
    );
    const cycle = await owner.refusal(EDIT, {
      programId,
      input: {
        commandId: randomUUID(),
        animalId: s.id,
        hatched: null,
        sires: [{ animalId: y.id }],
      },
    });
    expect(cycle.message).toBe('Y descends from this animal, so it cannot be its father.');
    const own = await owner.refusal(EDIT, {
      programId,
      input: { commandId: randomUUID(), animalId: s.id, sires: [{ animalId: s.id }] },
    });
    expect(own.message).toBe('S cannot be its own father.');
  });

  it('corrects, takes back, and says what stands in the way', async () => {
    const added = await owner.data(ADD, input({ code: 'K', sex: 'MALE', hatched: '2010' }));
    const animalId = added.addAnimal.animal.id;
    const addId = added.addAnimal.commandId;
    const edited = await owner.data(EDIT, {
      programId,
      input: { commandId: randomUUID(), animalId, code: 'K2', sex: 'FEMALE', hatched: '2011-05~' },
    });
    expect(edited.editAnimal.animal).toEqual({
      id: animalId,
      code: 'K2',
      sex: { sex: 'FEMALE' },
      hatched: { text: '2011-05~' },
    });
    const blocked = await owner.refusal(UNDO, {
      programId,
      input: { commandId: randomUUID(), undoes: addId },
    });
    expect(blocked.message).toBe(
      "'Added K' cannot be taken back: 'Corrected K2' came later and stands in the way.",
    );
    expect(blocked.extensions).toMatchObject({
      code: 'CONFLICT',
      remedy: "Take back 'Corrected K2' first.",
    });

    const undone = await owner.data(UNDO, {
      programId,
      input: { commandId: randomUUID(), undoes: edited.editAnimal.commandId },
    });
    expect(undone.undo.command.sentence).toBe('Took back: Corrected K2');
    const { animal } = await owner.data(
      'query($programId: ID!, $id: ID!) { animal(programId: $programId, id: $id) { code sex { sex } hatched { text } } }',
      { programId, id: animalId },
    );
    expect(animal).toEqual({ code: 'K', sex: { sex: 'MALE' }, hatched: { text: '2010' } });
    await owner.data(UNDO, { programId, input: { commandId: randomUUID(), undoes: addId } });
    const gone = await owner.data(
      'query($programId: ID!, $id: ID!) { animal(programId: $programId, id: $id) { code } }',
      { programId, id: animalId },
    );
    expect(gone.animal).toBeNull();
  });

  it('does not take back an animal that has become a parent', async () => {
    const added = await owner.data(ADD, input({ code: 'P1', sex: 'MALE' }));
    await addAnimal(owner, programId, {
      code: 'P2',
      sires: [{ animalId: added.addAnimal.animal.id }],
    });
    const error = await owner.refusal(UNDO, {
      programId,
      input: { commandId: randomUUID(), undoes: added.addAnimal.commandId },
    });
    expect(error.extensions.code).toBe('CONFLICT');
    expect(error.message).toContain("'Added P1' cannot be taken back");
  });

  it('does the same command id once', async () => {
    const twice = input({ code: 'ONCE' });
    const [a, b] = await Promise.all([owner.data(ADD, twice), owner.data(ADD, twice)]);
    expect(a).toEqual(b);
    const { animals } = await owner.data(
      'query($programId: ID!) { animals(programId: $programId, search: "ONCE") { totalCount } }',
      { programId },
    );
    expect(animals.totalCount).toBe(1);
  });

  it('pages, searches and sorts the register', async () => {
    const LIST = `query($programId: ID!, $first: Int, $after: String, $orderBy: AnimalOrder, $sex: Sex) {
      animals(programId: $programId, first: $first, after: $after, orderBy: $orderBy, sex: $sex) {
        totalCount pageInfo { hasNextPage endCursor } edges { node { code } } } }`;
    const codes: string[] = [];
    let after: string | null = null;
    for (let page = 0; page < 20; page++) {
      const { animals } = await owner.data(LIST, { programId, first: 3, after });
      codes.push(...animals.edges.map((edge: Data) => edge.node.code));
      after = animals.pageInfo.endCursor;
      if (!animals.pageInfo.hasNextPage) break;
    }
    expect(codes).toEqual([...new Set(codes)]);
    expect(codes).toEqual([...codes].sort((a, b) => a.localeCompare(b, 'en', { numeric: true })));
    const { animals } = await owner.data(LIST, { programId, sex: 'FEMALE' });
    expect(animals.edges.map((edge: Data) => edge.node.code)).toEqual(['D', 'Z']);
    const error = await owner.refusal(LIST, { programId, first: 5000 });
    expect(error.extensions).toMatchObject({ code: 'BAD_USER_INPUT', place: 'first' });
    const bad = await owner.refusal(LIST, { programId, after: 'nonsense' });
    expect(bad.extensions).toMatchObject({ code: 'BAD_USER_INPUT', place: 'after' });
  });

  it('keeps a history of who did what, with the rows before and after', async () => {
    const { history } = await owner.data(
      'query($programId: ID!) { history(programId: $programId, first: 100) { totalCount edges { node { sentence by undone changes { table before after } } } } }',
      { programId },
    );
    const nodes = history.edges.map((edge: Data) => edge.node);
    expect(nodes.find((node: Data) => node.sentence === 'Corrected K2')).toMatchObject({
      by: 'Owner',
      undone: true,
    });
    const added = nodes.find((node: Data) => node.sentence === 'Added Z');
    expect(added?.changes.map((change: Data) => change.table).sort()).toEqual([
      'animal',
      'candidate',
      'candidate',
      'clutch',
      'observation',
    ]);
    expect(added?.changes.find((change: Data) => change.table === 'animal')).toMatchObject({
      before: null,
      after: { code: 'Z' },
    });
  });
});
