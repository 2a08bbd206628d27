import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import { type Client, type Data, newProgram, startService, type TestService } from './service.js';

// Genes and traits as people define them: invented names, nobody's animals.

let service: TestService;
let owner: Client;
beforeAll(async () => {
  service = await startService();
  owner = await service.owner();
});
afterAll(() => service.stop());

const DEFINITIONS = `definitions {
  loci { id code name inheritance alleles { name frequency } founderRule founders { code }
    looks { genotype looks gap } declarations }
  traits { id name shows said plain { locusId genotypes fromDays sex } seenIn misreadAdult }
  pairs { id kind chance now }
} command { id sentence }`;

type Act = 'addLocus' | 'editLocus' | 'removeLocus' | 'addTrait' | 'editTrait' | 'removeTrait';
type PairAct = 'setLocusPair' | 'removeLocusPair';

function words(act: Act | PairAct, programId: string, input: object): [string, object] {
  const type = `${act[0].toUpperCase()}${act.slice(1)}Input`;
  return [
    `mutation($programId: ID!, $input: ${type}!) { ${act}(programId: $programId, input: $input) { ${DEFINITIONS} } }`,
    { programId, input: { commandId: randomUUID(), ...input } },
  ];
}

const change = async (act: Act | PairAct, programId: string, input: object): Promise<Data> =>
  (await owner.data(...words(act, programId, input)))[act];
const refusal = (act: Act | PairAct, programId: string, input: object) =>
  owner.refusal(...words(act, programId, input));

const gene = (code: string, frequency?: string) => ({
  code,
  name: `${code} gene`,
  inheritance: 'AUTOSOMAL',
  alleles: [{ name: 'N' }, { name: code[0], frequency }],
  founderRule: 'ANY',
});
const trait = (name: string, shows: string) => ({ name, shows, misreadYoung: 0, misreadAdult: 0 });

async function bring(programId: string, text: string): Promise<Data> {
  const { uploadId } = await owner.upload(programId, text);
  const input = {
    commandId: randomUUID(),
    uploadId,
    isDryRun: false,
    species: 'Testudo graeca',
    makesProposed: true,
    trust: 1,
  };
  return owner.data(
    `mutation($programId: ID!, $input: ImportProgramFileInput!) {
      importProgramFile(programId: $programId, input: $input) { created commandId }
    }`,
    { programId, input },
  );
}

async function odds(programId: string, code: string): Promise<Data> {
  const { genotypeOdds } = await owner.data(
    `query($programId: ID!) { genotypeOdds(programId: $programId) { isPossible assumptions
      contradictions { records }
      rows { animal { code } findings { locus { code } label carries { value } genotypes { genotype probability } } } } }`,
    { programId },
  );
  const row = genotypeOdds.rows.find((each: Data) => each.animal.code === code);
  return { ...genotypeOdds, row, finding: row?.findings[0] };
}

describe('genes and traits', () => {
  it('are defined, answered by at once, renamed everywhere, and taken back', async () => {
    const programId = await newProgram(owner);
    const { definitions } = await change('addLocus', programId, gene('pl', '1/10'));
    const [locus] = definitions.loci;
    expect(locus.alleles).toEqual([
      { name: 'N', frequency: '9/10' },
      { name: 'p', frequency: '1/10' },
    ]);
    expect(locus.looks.map((look: Data) => look.gap)).toEqual([
      null,
      null,
      'No trait says what it looks like.',
    ]);
    const made = await change('addTrait', programId, trait('pale', 'pl = p/p and age >= 730'));
    expect(made.definitions.traits[0]).toMatchObject({
      said: 'An animal is pale when it has two copies of p at the gene pl, from 2 years on.',
      plain: { locusId: locus.id, genotypes: ['p/p'], fromDays: 730, sex: null },
    });
    await bring(programId, 'code,sex,traits,genotype\nA,m,pale,\nB,f,none,\nC,f,,pl=N/p\n');
    // Hardy and Weinberg 1908: of animals that look plain, 2pq / (1 - q^2) carry it.
    expect((await odds(programId, 'B')).finding.carries.value).toBeCloseTo(0.18 / 0.99, 12);
    const edited = await change('editLocus', programId, {
      ...gene('pl', '1/5'),
      code: 'pale',
      locusId: locus.id,
      alleles: [
        { name: '+', was: 'N' },
        { name: 'x', was: 'p', frequency: '1/5' },
      ],
    });
    expect(edited.definitions.traits[0].shows).toBe('pale = x/x and age >= 730');
    const after = await odds(programId, 'B');
    expect(after.finding.carries.value).toBeCloseTo(0.32 / 0.96, 12);
    expect((await odds(programId, 'C')).finding.genotypes).toEqual([
      { genotype: '+/x', probability: 1 },
    ]);
    const undo = `mutation($programId: ID!, $input: UndoInput!) { undo(programId: $programId, input: $input) { command { id } } }`;
    const take = (undoes: string) => ({ programId, input: { commandId: randomUUID(), undoes } });
    await owner.data(undo, take(edited.command.id));
    expect((await odds(programId, 'C')).finding.genotypes).toEqual([
      { genotype: 'N/p', probability: 1 },
    ]);
    // The colour check of A names the trait, so the act that made it cannot be taken back by itself.
    const stuck = await owner.refusal(undo, take(made.command.id));
    expect(stuck).toMatchObject({ extensions: { code: 'CONFLICT', thing: 'A' } });
    expect((await odds(programId, 'A')).finding.genotypes).toEqual([
      { genotype: 'p/p', probability: 1 },
    ]);
  });

  it('of later say nothing of a look that did not look for them', async () => {
    const programId = await newProgram(owner);
    await change('addLocus', programId, gene('pl', '1/10'));
    await change('addTrait', programId, trait('pale', 'pl = p/p'));
    await bring(programId, 'code,sex,traits\nA,f,none\n');
    await change('addLocus', programId, gene('mk', '1/10'));
    const { definitions } = await change('addTrait', programId, trait('marked', 'mk = m/m'));
    // Hardy and Weinberg 1908: looked at for pale, 2pq / (1 - q^2); never looked at for marked, 1 - p^2.
    const carries = async (): Promise<Data> =>
      (await odds(programId, 'A')).row.findings.map((one: Data) => one.carries.value);
    expect(await carries()).toEqual([
      expect.closeTo(1 - 0.81, 12),
      expect.closeTo(0.18 / 0.99, 12),
    ]);
    const exported = 'query($p: ID!) { exportProgram(programId: $p) }';
    const written = async () => (await owner.data(exported, { p: programId })).exportProgram;
    expect(await written()).toContain('A,,Testudo graeca,f,,,,,not pale,,');
    await bring(programId, 'code,traits\nA,none\nB,not pale\n');
    expect(await written()).toMatch(/A,.*,not pale,.*\nB,.*,not pale,/);
    const marked = definitions.traits.find((one: Data) => one.name === 'marked').id;
    const { animals } = await owner.data(
      'query($p: ID!) { animals(programId: $p, first: 1) { edges { node { id } } } }',
      { p: programId },
    );
    const colour = { animal: animals.edges[0].node.id, absent: [marked] };
    const { recordEntries } = await owner.data(
      'mutation($p: ID!, $input: RecordEntriesInput!) { recordEntries(programId: $p, input: $input) { answers { state sentence } } }',
      { p: programId, input: { entries: [{ id: randomUUID(), colour }] } },
    );
    expect(recordEntries.answers).toEqual([{ state: 'WRITTEN', sentence: 'A: not marked' }]);
    expect((await carries())[0]).toBeCloseTo(0.18 / 0.99, 12);
  });

  it('are not removed while something names them, and it is said what', async () => {
    const programId = await newProgram(owner);
    const { definitions } = await change('addLocus', programId, gene('pl', '1/20'));
    const locusId = definitions.loci[0].id;
    const pale = await change('addTrait', programId, trait('pale', 'pl = p/p'));
    const traitId = pale.definitions.traits[0].id;
    await bring(programId, 'code,traits,genotype\nA,pale,\nB,,pl=N/p\n');
    expect((await refusal('removeTrait', programId, { traitId })).message).toContain('seen on A');
    const gone = await refusal('removeLocus', programId, { locusId });
    expect(gone.message).toContain('the rule of pale');
    const lost = await refusal('editLocus', programId, {
      ...gene('pl'),
      locusId,
      alleles: [{ name: 'N' }, { name: 'q' }],
    });
    expect(lost.message).toContain("'p/p'");
    const other = await change('addLocus', programId, gene('hn'));
    const hn = other.definitions.loci.find((each: Data) => each.code === 'hn').id;
    await change('setLocusPair', programId, {
      firstId: locusId,
      secondId: hn,
      kind: 'LINKED',
      chance: '1/10',
    });
    expect((await refusal('removeLocus', programId, { locusId: hn })).message).toContain('lies to');
    const { pairs } = (await change('addLocus', programId, gene('zz'))).definitions;
    await change('removeLocusPair', programId, { pairId: pairs[0].id });
    const left = await change('removeLocus', programId, { locusId: hn });
    expect(left.definitions.loci.map((each: Data) => each.code)).toEqual(['pl', 'zz']);
  });

  it('refuses what cannot be worked with, and names the place', async () => {
    const programId = await newProgram(owner);
    const { definitions } = await change('addLocus', programId, gene('pl', '1/20'));
    const locusId = definitions.loci[0].id;
    const cases: [Act | PairAct, object, string, string][] = [
      ['addTrait', trait('x', 'pl = p/p and'), 'input.shows', 'character 13'],
      ['addTrait', trait('x', 'always'), 'input.shows', 'no gene'],
      ['addTrait', trait('x', 'pk = p/p'), 'input', "'pk'"],
      ['addTrait', trait('x', 'pl = p/q'), 'input', "'p/q'"],
      ['addTrait', trait('x', 'pl = p/p and pl = N/N'), 'input', 'No genotype shows'],
      ['addTrait', trait('none', 'pl = p/p'), 'input.name', 'none'],
      ['addTrait', { ...trait('x', 'pl = p/p'), misreadYoung: 1.5 }, 'input.misreadYoung', '0.5'],
      ['addLocus', gene('pl'), 'input.code', 'already'],
      ['addLocus', gene('q', '1.5'), 'input.alleles.1.frequency', '0.05 or 1/20'],
      ['addLocus', { ...gene('q'), alleles: [{ name: 'N' }] }, 'input.alleles', 'two forms'],
      ['addLocus', { ...gene('q'), alleles: [{ name: 'N' }, { name: 'N' }] }, 'input', 'twice'],
      [
        'setLocusPair',
        { firstId: locusId, secondId: locusId, kind: 'LINKED', chance: '0.1' },
        'input.secondId',
        'itself',
      ],
    ];
    for (const [act, input, place, part] of cases) {
      const error = await refusal(act, programId, input);
      expect([error.extensions.place, error.message]).toEqual([
        place,
        expect.stringContaining(part),
      ]);
      expect(error.extensions.remedy).toBeTruthy();
    }
  });

  it('says which genotype two traits claim, before the trait is kept', async () => {
    const programId = await newProgram(owner);
    await change('addLocus', programId, gene('sm'));
    await change('addTrait', programId, trait('smoke', 'sm = N/s | s/s'));
    const { checkTrait } = await owner.data(
      `query($programId: ID!, $input: CheckTraitInput!) { checkTrait(programId: $programId, input: $input) {
        faults { message } said looks { genotype looks gap } } }`,
      { programId, input: { name: 'deep smoke', shows: 'sm = s/s' } },
    );
    expect(checkTrait.faults).toEqual([]);
    expect(checkTrait.looks[2]).toMatchObject({
      genotype: 's/s',
      looks: 'smoke; deep smoke',
      gap: expect.stringContaining("'smoke' and 'deep smoke'"),
    });
    expect(checkTrait.looks[1].gap).toBeNull();
  });

  it('takes the founders that may carry it, and shows where the records speak against it', async () => {
    const programId = await newProgram(owner);
    await change('addLocus', programId, gene('pl', '1/10'));
    const made = await change('addTrait', programId, trait('pale', 'pl = p/p'));
    await bring(programId, 'code,sex,sire,dam,traits\nM,m,,,none\nF,f,,,none\nY,,M,F,pale\n');
    const { definitions } = await owner.data(
      `query($programId: ID!) { definitions(programId: $programId) { founders { id code } } }`,
      { programId },
    );
    const id = (code: string) =>
      definitions.founders.find((each: Data) => each.code === code)?.id as string;
    expect(definitions.founders.map((each: Data) => each.code)).toEqual(['F', 'M']);
    const locusId = made.definitions.loci[0].id;
    const allowed = await change('editLocus', programId, {
      ...gene('pl', '1/10'),
      locusId,
      founderRule: 'ONLY',
      founderIds: [id('M'), id('F')],
    });
    expect(allowed.definitions.loci[0]).toMatchObject({
      founderRule: 'ONLY',
      founders: [{ code: 'M' }, { code: 'F' }],
    });
    expect((await odds(programId, 'M')).isPossible).toBe(true);
    await change('editLocus', programId, {
      ...gene('pl', '1/10'),
      locusId,
      founderRule: 'ALL_BUT',
      founderIds: [id('M')],
    });
    const clash = await odds(programId, 'M');
    expect(clash.isPossible).toBe(false);
    expect(clash.contradictions[0].records).toEqual(
      expect.arrayContaining(['Y shows pale', 'M is set as a founder free of pl gene']),
    );
  });

  it('on one chromosome stay together in the odds of a pair, or apart, as they came', async () => {
    const programId = await newProgram(owner);
    await change('addLocus', programId, gene('ac', '1/10'));
    const two = await change('addLocus', programId, gene('bk', '1/10'));
    await change('addTrait', programId, trait('ivory', 'ac = a/a and bk = b/b'));
    const [firstId, secondId] = two.definitions.loci.map((each: Data) => each.id);
    const link = { firstId, secondId, kind: 'LINKED', chance: '1/10', reason: 'a guess' };
    await change('setLocusPair', programId, link);
    await bring(
      programId,
      `code,sex,sire,dam,genotype
M1,m,,,ac=a/a;bk=b/b
F1,f,,,ac=N/N;bk=N/N
M2,m,,,ac=a/a;bk=N/N
F2,f,,,ac=N/N;bk=b/b
C1,m,M1,F1,
C2,f,M1,F1,
R1,m,M2,F2,
R2,f,M2,F2,
`,
    );
    const { animals } = await owner.data(
      'query($p: ID!) { animals(programId: $p, first: 20) { edges { node { id code } } } }',
      { p: programId },
    );
    const id = (code: string): string =>
      animals.edges.find(({ node }: Data) => node.code === code).node.id;
    const ivory = async (sire: string, dam: string): Promise<string> => {
      const { crossOdds } = await owner.data(
        `query($p: ID!, $s: ID!, $d: ID!) { crossOdds(programId: $p, sireId: $s, damId: $d) {
          targets { trait { name } share { exact } } } }`,
        { p: programId, s: id(sire), d: id(dam) },
      );
      return crossOdds.targets[0].share.exact;
    };
    // Fisher and Balmukand 1928, J. Genet. 20:79: double recessives ((1 - r) / 2)^2 in coupling, (r / 2)^2 in repulsion.
    expect(await ivory('C1', 'C2')).toBe('81/400');
    expect(await ivory('R1', 'R2')).toBe('1/400');
    expect(await ivory('C1', 'R2')).toBe('9/400');
  });

  it('weighs whether two look-alike lines are one gene', async () => {
    const programId = await newProgram(owner);
    const one = await change('addLocus', programId, gene('ac', '1/10'));
    const two = await change('addLocus', programId, gene('bk', '1/10'));
    await change('addTrait', programId, trait('chalk', 'ac = a/a'));
    await change('addTrait', programId, trait('brine', 'bk = b/b'));
    const [firstId, secondId] = two.definitions.loci.map((each: Data) => each.id);
    expect(firstId).toBe(one.definitions.loci[0].id);
    const pair = { firstId, secondId, kind: 'ONE_GENE', chance: '1/2', reason: 'they look alike' };
    const before = await change('setLocusPair', programId, pair);
    expect(before.definitions.pairs[0]).toMatchObject({ chance: '1/2', now: 0.5 });
    // Complementation: a pure chalk and a pure brine have plain young, so they are two genes.
    const young = Array.from({ length: 6 }, (_, i) => `Y${i},,M,F,none,`).join('\n');
    await bring(
      programId,
      `code,sex,sire,dam,traits,genotype\nM,m,,,chalk,\nF,f,,,brine,\n${young}\n`,
    );
    const { definitions } = await owner.data(
      `query($programId: ID!) { definitions(programId: $programId) { pairs { now } } }`,
      { programId },
    );
    expect(definitions.pairs[0].now).toBeLessThan(0.01);
  });
});
