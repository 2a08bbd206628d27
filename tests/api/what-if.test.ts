import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from '@jest/globals';
import { ColourRecords } from './colour-records.js';
import {
  addAnimal,
  type Client,
  type Data,
  newProgram,
  startService,
  type TestService,
} from './service.js';

const GENES = `query($p: ID!) { genotypeOdds(programId: $p) { isPossible loci { id }
  contradictions { recordIds records repairs { kind animalId recordId sentence probability } } } }`;
const WHAT_IF = `query($p: ID!, $i: SuppositionInput!) { whatIf(programId: $p, input: $i) {
  supposed sentence changed contradictionsNow contradictionsThen mayBeWritten
  animals { animal { code } inbreedingNow inbreedingThen fathers { animal { code } now supposed }
    genes { labelNow labelThen carriesNow carriesThen } } } }`;
const ACCEPT = `mutation($p: ID!, $i: AcceptSuppositionInput!) {
  acceptSupposition(programId: $p, input: $i) { command { id sentence } } }`;
const UNDO =
  'mutation($p: ID!, $i: UndoInput!) { undo(programId: $p, input: $i) { command { sentence } } }';

let service: TestService;
let owner: Client;
let p: string;
let records: ColourRecords;
const ids: Record<string, string> = {};
beforeAll(async () => {
  service = await startService();
  owner = await service.owner();
}, 120_000);
afterAll(() => service.stop());

const add = async (code: string, animal: object = {}): Promise<void> => {
  ids[code] = await addAnimal(owner, p, { code, ...animal });
};
const parents = (sires: string[], dams: string[]) => ({
  sires: sires.map((code) => ({ animalId: ids[code] })),
  dams: dams.map((code) => ({ animalId: ids[code] })),
});
const whatIf = async (i: object): Promise<Data> => (await owner.data(WHAT_IF, { p, i })).whatIf;
const write = async (supposition: object): Promise<Data> =>
  (await owner.data(ACCEPT, { p, i: { commandId: randomUUID(), supposition } })).acceptSupposition;
const genes = async (): Promise<Data> => (await owner.data(GENES, { p })).genotypeOdds;

describe('what if', () => {
  // Two pale founders, a plain young of theirs: with one recessive gene that cannot be (Mendel 1866).
  beforeEach(async () => {
    p = await newProgram(owner, 'What if');
    records = new ColourRecords(service, p);
    await records.define();
    await add('S', { sex: 'MALE', hatched: '1990' });
    await add('D', { sex: 'FEMALE', hatched: '1990' });
    await add('Y', { hatched: '2005', ...parents(['S'], ['D']) });
    await records.look('S', true);
    await records.look('D', true);
    await records.look('Y', false);
  });

  it('offers each way out of a contradiction, shows what follows, and writes just that', async () => {
    const [contradiction] = (await genes()).contradictions;
    expect(contradiction.recordIds).toHaveLength(3);
    const kinds = contradiction.repairs.map((repair: Data) => repair.kind);
    // Any of the three looks misread, another father, or a mix-up.
    expect(kinds.filter((kind: string) => kind === 'STRIKE_RECORD')).toHaveLength(3);
    expect(kinds).toContain('OTHER_FATHER');
    expect(kinds).toContain('NOT_OF_CLUTCH');
    for (const { kind, animalId, recordId } of contradiction.repairs) {
      const supposition = { kind, animalId, recordId };
      const then = await whatIf(supposition);
      expect(then).toMatchObject({
        contradictionsNow: 1,
        contradictionsThen: 0,
        mayBeWritten: true,
      });
      expect(then.sentence).toContain('No records would contradict each other any more');
      const { command } = await write(supposition);
      expect(`${command.sentence}.`).toBe(then.supposed);
      expect((await genes()).isPossible).toBe(true);
      await owner.data(UNDO, { p, i: { commandId: randomUUID(), undoes: command.id } });
      expect((await genes()).isPossible).toBe(false);
    }
  }, 60_000);

  it('tells what a certain father would do to F, genes and fathers, as the records then do', async () => {
    // K is a young of D by her mate S or by her son M.
    await add('M', { sex: 'MALE', hatched: '2000', ...parents([], ['D']) });
    await add('K', { hatched: '2015', ...parents(['S', 'M'], ['D']) });
    const then = await whatIf({ kind: 'FATHER', animalId: ids.K, fatherId: ids.M });
    const [k] = then.animals;
    // M is a son of D: K would be young of mother and son, F = 1/4 (Wright 1922, doi 10.1086/279872); now the mean, 1/8.
    expect(k).toMatchObject({ animal: { code: 'K' }, inbreedingNow: 1 / 8, inbreedingThen: 1 / 4 });
    expect(k.fathers.find((one: Data) => one.animal?.code === 'M').supposed).toBe(1);
    await write({ kind: 'FATHER', animalId: ids.K, fatherId: ids.M });
    const { animal } = await owner.data(
      'query($p: ID!, $id: ID!) { animal(programId: $p, id: $id) { inbreeding { value } sire { candidates { animal { code } probability } } } }',
      { p, id: ids.K },
    );
    expect(animal.inbreeding.value).toBe(1 / 4);
    expect(animal.sire.candidates).toEqual([{ animal: { code: 'M' }, probability: 1 }]);
  });

  it('refuses what cannot be, naming the remedy', async () => {
    const refusal = (i: object) => owner.refusal(WHAT_IF, { p, i });
    expect((await refusal({ kind: 'FATHER', animalId: ids.Y, fatherId: ids.D })).message).toBe(
      'D is recorded as female.',
    );
    expect((await refusal({ kind: 'FATHER', animalId: ids.S, fatherId: ids.Y })).message).toContain(
      'hatched after',
    );
    expect((await refusal({ kind: 'OTHER_FATHER', animalId: ids.S })).message).toContain(
      'No parent',
    );
    const strike = await refusal({ kind: 'STRIKE_RECORD', recordId: 'nothing' });
    expect(strike.extensions).toMatchObject({ code: 'NOT_FOUND', place: 'input.recordId' });
  });
});

describe('why', () => {
  it('weighs the records of a 66 % het and of its test mating, and says what would settle it', async () => {
    p = await newProgram(owner, 'Why');
    records = new ColourRecords(service, p);
    await records.define();
    await add('S', { sex: 'MALE', hatched: '1990' });
    await add('D', { sex: 'FEMALE', hatched: '1990' });
    await add('V', { sex: 'FEMALE', hatched: '2000', ...parents(['S'], ['D']) });
    await add('Y', { sex: 'MALE', hatched: '2001', ...parents(['S'], ['D']) });
    for (const code of ['S', 'D', 'Y']) await records.look(code, false);
    await records.look('V', true);
    const [{ id: locusId }] = (await genes()).loci;
    const ask = async (): Promise<Data> =>
      (
        await owner.data(
          `query($p: ID!, $a: ID!, $l: ID!) { geneWhy(programId: $p, animalId: $a, locusId: $l) {
            carries approximation records { sentence animal { code } weight carriesWithout }
            steps { kind animal { code } sentence } notes } }`,
          { p, a: ids.Y, l: locusId },
        )
      ).geneWhy;
    const why = await ask();
    // A plain brother of a visual whose parents are both het: 2/3 (Mendel 1866).
    expect(why.carries).toBeCloseTo(2 / 3, 9);
    expect(why.approximation).toBeNull();
    const [first] = why.records;
    expect(why.records.map((one: Data) => one.animal.code).sort()).toEqual(['D', 'S', 'V', 'Y']);
    expect(first.sentence).toBe('V shows pale');
    // Without the look at Y: 1 - 1/4 = 3/4. Without the visual sister it is two founders' chance, far less.
    const own = why.records.find((one: Data) => one.animal.code === 'Y');
    expect(own.carriesWithout).toBeCloseTo(3 / 4, 9);
    expect(first.carriesWithout).toBeLessThan(0.25);
    // Paired with the visual: 5 normals leave (2/3)/32 / ((2/3)/32 + 1/3) = 1/17 > 1/20, 6 leave 1/33; 8 leave 1/129 < 1/100.
    const mating = why.steps.find(
      (one: Data) => one.kind === 'test mating' && one.animal.code === 'V',
    );
    expect(mating.sentence).toContain('6 plain young');
    expect(mating.sentence).toContain('8 bring it below 1 in 100');
    expect(why.notes[0]).toContain('No DNA test for pale is known');
  });

  it('names the colours that move the fathers', async () => {
    p = await newProgram(owner, 'Fathers');
    records = new ColourRecords(service, p);
    await records.define();
    await add('A', { sex: 'MALE', hatched: '1990' });
    await add('B', { sex: 'MALE', hatched: '1990' });
    await add('D', { sex: 'FEMALE', hatched: '1990' });
    await add('Y', { hatched: '2005', ...parents(['A', 'B'], ['D']) });
    await records.look('A', true);
    await records.look('Y', true);
    const { fatherWhy } = await owner.data(
      `query($p: ID!, $a: ID!) { fatherWhy(programId: $p, animalId: $a) { sentence approximation steps
        records { sentence without { animal { code } probability } } } }`,
      { p, a: ids.Y },
    );
    // Without either look nothing sets the two apart: 1/2 each.
    expect(fatherWhy.records.map((one: Data) => one.sentence).sort()).toEqual([
      'A shows pale',
      'Y shows pale',
    ]);
    const young = fatherWhy.records.find((one: Data) => one.sentence === 'Y shows pale');
    for (const { probability } of young.without) expect(probability).toBeCloseTo(1 / 2, 9);
    expect(fatherWhy.steps[0]).toContain('A DNA test of parentage');
  });
});

describe('founders supposed to be kin', () => {
  const ASK = `query($p: ID!, $a: ID!, $b: ID!, $i: FounderKinInput!) {
    kinPaths(programId: $p, animalId: $a, otherId: $b) { youngF foundersOfA { code } foundersOfB { code } }
    kinSupposed(programId: $p, animalId: $a, otherId: $b, input: $i) { sentence youngF youngFNow lowest highest } }`;
  const asked = (of: string, founders: string, kinship: string) => ({
    p,
    a: ids[of[0]],
    b: ids[of[1]],
    i: { founderId: ids[founders[0]], otherFounderId: ids[founders[1]], kinship },
  });

  it('give the F of their descendants that a table of relatives has, and write nothing', async () => {
    // Young of first cousins 1/16, of half first cousins 1/32, of full sibs 1/4: Wright 1922, Am. Nat. 56:330-338.
    p = await newProgram(owner, 'Founders');
    for (const code of ['A', 'B']) await add(code, { sex: 'MALE', hatched: '1980' });
    for (const code of ['C', 'E']) await add(code, { sex: 'FEMALE', hatched: '1980' });
    await add('P', { sex: 'MALE', hatched: '2000', ...parents(['A'], ['C']) });
    await add('Q', { sex: 'FEMALE', hatched: '2000', ...parents(['B'], ['E']) });
    const suppose = (of: string, founders: string, kinship: string): Promise<Data> =>
      owner.data(ASK, asked(of, founders, kinship));

    const { kinPaths, kinSupposed } = await suppose('PQ', 'AB', 'FULL');
    expect(kinPaths.foundersOfA.map((one: Data) => one.code).sort()).toEqual(['A', 'C']);
    expect(kinPaths.foundersOfB.map((one: Data) => one.code).sort()).toEqual(['B', 'E']);
    expect(kinSupposed).toEqual({
      sentence:
        'Were A and B full brother and sister, or parent and young, F of a young of P and Q would be 0.063 instead of 0.000.',
      youngF: 1 / 16,
      youngFNow: 0,
      lowest: 1 / 16,
      highest: 1 / 16,
    });
    expect((await suppose('PQ', 'CB', 'HALF')).kinSupposed.youngF).toBe(1 / 32);
    expect((await suppose('AE', 'EA', 'FULL')).kinSupposed.youngF).toBe(1 / 4);
    expect((await suppose('PQ', 'AC', 'FULL')).kinSupposed.sentence).toContain('would stay 0.000');
    expect((await suppose('PQ', 'CE', 'HALF')).kinPaths.youngF).toBe(0);
    for (const [founders, remedy] of [
      ['AP', 'Suppose this of two founders.'],
      ['AA', 'Choose another founder.'],
    ]) {
      const { extensions } = await owner.refusal(ASK, asked('PQ', founders, 'FULL'));
      expect(extensions).toMatchObject({ place: 'input.otherFounderId', remedy });
    }
  });
});
