import { randomUUID } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import { type Client, type Data, newProgram, startService, type TestService } from './service.js';

/*
 * The published check cases once more, through the whole service: each becomes a program file, is brought in like anybody's own, and
 * is asked about over GraphQL. The sources stand in the case files themselves.
 */

let service: TestService;
let owner: Client;
beforeAll(async () => {
  service = await startService();
  owner = await service.owner();
});
afterAll(() => service.stop());

const CASES = new URL('../../published/cases/', import.meta.url);
const readCase = (name: string): Data => JSON.parse(readFileSync(new URL(name, CASES), 'utf8'));
const allCases = (prefix: string): string[] =>
  readdirSync(CASES).filter((name) => name.startsWith(prefix) && name.endsWith('.json'));

async function bring(rows: readonly string[], trust = 1): Promise<string> {
  const programId = await newProgram(owner, 'Published');
  return bringInto(programId, rows, trust);
}

async function bringInto(programId: string, rows: readonly string[], trust = 1): Promise<string> {
  const { uploadId } = await owner.upload(programId, `${rows.join('\n')}\n`);
  const input = {
    commandId: randomUUID(),
    uploadId,
    isDryRun: false,
    species: 'Testudo graeca',
    makesProposed: true,
    trust,
  };
  const { importProgramFile } = await owner.data(
    `mutation($programId: ID!, $input: ImportProgramFileInput!) {
      importProgramFile(programId: $programId, input: $input) { created faults { message } }
    }`,
    { programId, input },
  );
  expect(importProgramFile.faults).toEqual([]);
  return programId;
}

const parents = (value: Data): string =>
  !value
    ? ''
    : typeof value === 'string'
      ? value
      : value.map(({ id, probability }: Data) => `${id}:${decimal(probability)}`).join('|');

function decimal(value: string | number): number {
  const [over, under = '1'] = String(value).split('/');
  return Number(over) / Number(under);
}

async function idsOf(programId: string): Promise<Map<string, Data>> {
  const { animals } = await owner.data(
    'query($p: ID!) { animals(programId: $p, first: 500) { edges { node { id code inbreeding { value } } } } }',
    { p: programId },
  );
  return new Map(animals.edges.map(({ node }: Data) => [node.code, node]));
}

/** The paper's example has an animal both as a dam and as a possible sire: here a female drops out as a father. */
const DAM_AS_SIRE = ['pedigree-henderson-1988-uncertain-sires.json'];

describe('published pedigrees, through the service', () => {
  it('have the printed F and relationships', async () => {
    const told: string[] = [];
    let compared = 0;
    for (const name of allCases('pedigree-')) {
      const { pedigree, expected } = readCase(name);
      // Young of one clutch share their sire here, and those without one draw it each for itself.
      const hasClutch = pedigree.some((row: Data) => row.clutch);
      const model = (expected.models ?? []).find(
        (one: Data) => one.model === (hasClutch ? 'shared' : 'average'),
      );
      const F = expected.F ?? model?.F;
      if (!F || pedigree.length > 400 || DAM_AS_SIRE.includes(name)) continue;
      const programId = await bring([
        'code,sex,sire,dam,clutch',
        ...pedigree.map((row: Data) =>
          [row.id, row.sex ?? '', parents(row.sire), parents(row.dam), row.clutch ?? ''].join(),
        ),
      ]);
      const animals = await idsOf(programId);
      for (const [code, value] of Object.entries(F)) {
        expect([name, code, animals.get(code)?.inbreeding.value]).toEqual([
          name,
          code,
          expect.closeTo(value as number, 9),
        ]);
        compared++;
      }
      compared += await compareRelationships(programId, animals, expected, model);
      told.push(name);
    }
    expect(told.length).toBeGreaterThan(15);
    expect(compared).toBeGreaterThan(200);
  }, 120_000);
});

async function compareRelationships(
  programId: string,
  animals: Map<string, Data>,
  expected: Data,
  model: Data,
): Promise<number> {
  const pairs: Data[] = [...(expected.a ?? model?.a ?? [])];
  if (expected.matrix) {
    const { ids, values } = expected.matrix;
    for (let i = 0; i < ids.length; i++) {
      for (let j = 0; j < i; j++) pairs.push({ i: ids[i], j: ids[j], a: values[i][j] });
    }
  }
  const others = pairs.filter(({ i, j }) => i !== j);
  const codes = [...new Set(others.flatMap(({ i, j }) => [i, j]))].slice(0, 20);
  if (codes.length < 2) return 0;
  const { relatedness } = await owner.data(
    'query($p: ID!, $a: [ID!]!) { relatedness(programId: $p, animalIds: $a) { pairs { a { code } b { code } relatedness } } }',
    { p: programId, a: codes.map((code) => animals.get(code)?.id) },
  );
  const found = new Map<string, number>();
  for (const { a, b, relatedness: value } of relatedness.pairs) {
    found.set(`${a.code} ${b.code}`, value);
    found.set(`${b.code} ${a.code}`, value);
  }
  let compared = 0;
  for (const { i, j, a } of others) {
    if (!codes.includes(i) || !codes.includes(j)) continue;
    expect([i, j, found.get(`${i} ${j}`)]).toEqual([i, j, expect.closeTo(a, 9)]);
    compared++;
  }
  return compared;
}

/** A case of inference as a program: genes and traits by the editor, animals with what was seen by the file. */
async function bringInference(input: Data): Promise<string> {
  const programId = await newProgram(owner, 'Published');
  for (const locus of input.loci) {
    await define(programId, 'addLocus', {
      code: locus.id,
      name: locus.id,
      inheritance: { autosomal: 'AUTOSOMAL', X: 'X_LINKED', Z: 'Z_LINKED' }[
        locus.inheritance as string
      ],
      alleles: locus.alleles.map((name: string, k: number) => ({
        name,
        frequency: k === 0 ? undefined : locus.frequencies[name],
      })),
      founderRule: 'ANY',
    });
  }
  for (const trait of input.traits) {
    await define(programId, 'addTrait', {
      name: trait.id,
      shows: trait.when.genotypes.map((g: string) => `${trait.when.locus} = ${g}`).join(' or '),
      misreadYoung: 0,
      misreadAdult: 0,
    });
  }
  const clutches = new Map<string, Data>(input.clutches.map((one: Data) => [one.id, one]));
  const rows = input.animals.map((animal: Data) => {
    const clutch = clutches.get(animal.clutch);
    const looks = looksAt(input, animal.id);
    const priors = input.evidence.filter(
      (one: Data) => one.animal === animal.id && one.kind === 'prior',
    );
    return [
      animal.id,
      animal.sex ?? '',
      parents(animal.sire ?? clutch?.sire ?? clutch?.sires),
      parents(animal.dam ?? clutch?.dam),
      animal.clutch ?? '',
      // The column tells what was seen, or that nothing was; a look that found one trait and not another is an entry of its own.
      isMixed(looks, input)
        ? ''
        : looks
            .filter((one: Data) => one.seen)
            .map((one: Data) => one.trait)
            .join(';') || 'none',
      priors.map((one: Data) => `${one.locus}=${Object.keys(one.genotypes)[0]}`).join(';'),
    ].join();
  });
  await bringInto(programId, ['code,sex,sire,dam,clutch,traits,genotype', ...rows]);
  await writeMixedLooks(programId, input);
  return programId;
}

const looksAt = (input: Data, code: string): Data[] =>
  input.evidence.filter((one: Data) => one.animal === code && one.kind === 'phenotype');

const isMixed = (looks: readonly Data[], input: Data): boolean =>
  looks.length === 0 ||
  ((looks.length < input.traits.length || looks.some((one) => one.seen)) &&
    looks.some((one) => !one.seen));

/** Colour checks, entered as in the yard. */
async function writeMixedLooks(programId: string, input: Data): Promise<void> {
  const { definitions } = await owner.data(
    'query($p: ID!) { definitions(programId: $p) { traits { id name } } }',
    { p: programId },
  );
  const traitId = (name: string) => definitions.traits.find((one: Data) => one.name === name).id;
  const animals = await idsOf(programId);
  const entries = input.animals
    .map((animal: Data) => ({ animal, looks: looksAt(input, animal.id) }))
    .filter(({ looks }: Data) => looks.length > 0 && isMixed(looks, input))
    .map(({ animal, looks }: Data) => ({
      id: randomUUID(),
      colour: {
        animal: animals.get(animal.id).id,
        seen: looks.filter((one: Data) => one.seen).map((one: Data) => traitId(one.trait)),
        absent: looks.filter((one: Data) => !one.seen).map((one: Data) => traitId(one.trait)),
      },
    }));
  if (entries.length === 0) return;
  const { recordEntries } = await owner.data(
    'mutation($p: ID!, $input: RecordEntriesInput!) { recordEntries(programId: $p, input: $input) { answers { state sentence } } }',
    { p: programId, input: { entries } },
  );
  for (const answer of recordEntries.answers) expect(answer.state).toBe('WRITTEN');
}

async function define(programId: string, act: 'addLocus' | 'addTrait', input: Data): Promise<void> {
  const type = act === 'addLocus' ? 'AddLocusInput' : 'AddTraitInput';
  await owner.data(
    `mutation($programId: ID!, $input: ${type}!) { ${act}(programId: $programId, input: $input) { command { id } } }`,
    { programId, input: { commandId: randomUUID(), ...input } },
  );
}

/** Whether the file's columns can say all of it: looks nobody misreads, genotypes known for certain, a sire to the clutch. */
function canBeTold(input: Data): boolean {
  return (
    input.traits.every((trait: Data) => trait.when?.genotypes) &&
    input.clutches.every((one: Data) => one.paternity === 'single') &&
    input.evidence.every(
      (one: Data) =>
        (one.kind === 'phenotype' && one.misread === '0') ||
        (one.kind === 'prior' && Object.values(one.genotypes).join() === '1'),
    )
  );
}

async function odds(programId: string): Promise<Data> {
  const { genotypeOdds } = await owner.data(
    `query($programId: ID!) { genotypeOdds(programId: $programId) { isPossible
      contradictions { records }
      rows { animal { code } findings { locus { code } genotypes { genotype probability } } } } }`,
    { programId },
  );
  return genotypeOdds;
}

describe('published cases of inference, through the service', () => {
  it('have the printed chances, of genotypes and of sires', async () => {
    const told: string[] = [];
    let compared = 0;
    for (const name of allCases('infer-')) {
      const { input, expected } = readCase(name);
      if (!input?.animals || !expected.genotypes || !canBeTold(input)) continue;
      const programId = await bringInference(input);
      const { rows } = await odds(programId);
      for (const [code, loci] of Object.entries<Data>(expected.genotypes)) {
        const row = rows.find((one: Data) => one.animal.code === code);
        for (const [locus, chances] of Object.entries<Data>(loci)) {
          const finding = row.findings.find((one: Data) => one.locus.code === locus);
          for (const [genotype, { value }] of Object.entries<Data>(chances)) {
            const found = finding.genotypes.find((one: Data) => one.genotype === genotype);
            expect([name, code, genotype, found?.probability ?? 0]).toEqual([
              name,
              code,
              genotype,
              expect.closeTo(value, 9),
            ]);
            compared++;
          }
        }
      }
      const animals = await idsOf(programId);
      for (const [code, sires] of Object.entries<Data>(expected.sires ?? {})) {
        const { lineage } = await owner.settled(
          'query($p: ID!, $a: ID!) { lineage(programId: $p, animalId: $a) { areGenesPending fathers { animal { code } after } } }',
          { p: programId, a: animals.get(code)?.id },
        );
        for (const [sire, { value }] of Object.entries<Data>(sires)) {
          const father = lineage.fathers.find(
            (one: Data) => (one.animal?.code ?? 'unknown') === sire,
          );
          expect([name, code, sire, father?.after ?? 0]).toEqual([
            name,
            code,
            sire,
            expect.closeTo(value, 9),
          ]);
          compared++;
        }
      }
      told.push(name);
    }
    expect(told).toEqual(
      expect.arrayContaining([
        'infer-carrier-sib.json',
        'infer-clutch-one-sire.json',
        'infer-two-loci-one-sire.json',
        'infer-x-linked-three-sons.json',
      ]),
    );
    expect(compared).toBeGreaterThan(40);
  }, 60_000);

  it('name the two smallest sets of records that cannot all be true', async () => {
    const { input, expected } = readCase('infer-impossible-visual-x-visual.json');
    const programId = await bringInference(input);
    const answer = await odds(programId);
    expect(answer.isPossible).toBe(false);
    expect(answer.contradictions).toHaveLength(expected.minimal_conflicts.length);
    const codeOf = (id: string): string => input.evidence.find((one: Data) => one.id === id).animal;
    for (const [k, conflict] of expected.minimal_conflicts.entries()) {
      const sentences = answer.contradictions[k].records;
      expect(sentences).toHaveLength(conflict.length);
      for (const id of conflict) {
        expect(sentences.some((one: string) => one.includes(codeOf(id)))).toBe(true);
      }
    }
  });

  it('raise the chance of a harmful pair of alleles among the young of kin by F', async () => {
    // Hardy-Weinberg with inbreeding: q^2 + F q (1 - q); each mating of the case as a program of its own.
    const { input, expected } = readCase('infer-hardy-weinberg-loops.json');
    for (const [mating, program] of Object.entries<Data>(input)) {
      const programId = await bringInference(program);
      const animals = await idsOf(programId);
      expect(animals.get('Z').inbreeding.value).toBeCloseTo(expected[mating].F.value, 12);
      const { rows } = await odds(programId);
      const [finding] = rows.find((one: Data) => one.animal.code === 'Z').findings;
      for (const { genotype, probability } of finding.genotypes) {
        expect(probability).toBeCloseTo(expected[mating].Z[genotype].value, 9);
      }
      expect(finding.genotypes).toHaveLength(3);
    }
  });
});
