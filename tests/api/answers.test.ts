import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import { buildPedigree, inbreeding, relatedness } from '@scutewright/pedigree';
import { demoPedigree, openDemo } from './demo-program.js';
import {
  addAnimal,
  asAdmin,
  type Client,
  type Data,
  newProgram,
  type TestService,
} from './service.js';

let service: TestService;
let owner: Client;
let demo: string;
let id: (code: string) => string;
beforeAll(async () => {
  ({ service, owner, demo, id } = await openDemo());
}, 120_000);
afterAll(() => service.stop());

describe('the answers of the API', () => {
  it('are those of the lineage kernel for every animal of the demo', async () => {
    const pedigree = demoPedigree();
    const F = inbreeding(pedigree);
    const { animals } = await owner.data(
      'query($p: ID!) { animals(programId: $p, first: 500) { edges { node { code inbreeding { value } } } } }',
      { p: demo },
    );
    for (const { node } of animals.edges) {
      expect(node.inbreeding.value).toBeCloseTo(F[pedigree.positions?.get(node.code) ?? -1], 12);
    }
    const codes = ['SG-015', 'SG-030', 'SG-168', 'SG-169'];
    const a = relatedness(pedigree, codes);
    const answer = await owner.data(
      'query($p: ID!, $a: [ID!]!) { relatedness(programId: $p, animalIds: $a) { pairs { a { code } b { code } relatedness lowest highest words } } }',
      { p: demo, a: codes.map(id) },
    );
    for (const pair of answer.relatedness.pairs) {
      const expected = a[codes.indexOf(pair.a.code) * codes.length + codes.indexOf(pair.b.code)];
      expect(pair.relatedness).toBeCloseTo(expected, 9);
      expect(pair.lowest).toBeLessThanOrEqual(expected + 1e-12);
      expect(pair.highest).toBeGreaterThanOrEqual(expected - 1e-12);
    }
    const mates = answer.relatedness.pairs.find(
      (pair: Data) => pair.a.code === 'SG-168' && pair.b.code === 'SG-169',
    );
    expect(mates.words).toContain('clutch mates with 2 possible fathers');
    // Path by path the same figure as the tabular method gives (Wright 1922, doi 10.1086/279872).
    const { kinPaths } = await owner.data(
      'query($p: ID!, $a: ID!, $b: ID!) { kinPaths(programId: $p, animalId: $a, otherId: $b) { sentence youngF remainder paths { share animals { code } } } }',
      { p: demo, a: id('SG-168'), b: id('SG-169') },
    );
    const paths = kinPaths.paths.reduce((sum: number, path: Data) => sum + path.share, 0);
    expect(paths + kinPaths.remainder).toBeCloseTo(mates.relatedness / 2, 12);
    expect(kinPaths.youngF).toBeCloseTo(mates.relatedness / 2, 12);
    for (const { animals } of kinPaths.paths) {
      expect([animals[0].code, animals.at(-1).code]).toEqual(['SG-168', 'SG-169']);
    }
  });

  it('give the odds of Mendel for two certain carriers, and never multiply a clutch out', async () => {
    // Het x het: 1/4, 3/4; Mendel 1866, Verh. naturf. Ver. Brünn 4:3-47. At least one in 10: 1 - (3/4)^10.
    const programId = await newProgram(owner, 'Odds');
    await brine(programId);
    const visual = { sex: 'MALE', hatched: '1980' };
    const grandsire = await addAnimal(owner, programId, { code: 'V', ...visual });
    const granddam = await addAnimal(owner, programId, {
      code: 'W',
      sex: 'FEMALE',
      hatched: '1980',
    });
    await look(programId, 'V', true);
    const parents = { sires: [{ animalId: grandsire }], dams: [{ animalId: granddam }] };
    const sire = await addAnimal(owner, programId, {
      code: 'S',
      sex: 'MALE',
      hatched: '1990',
      ...parents,
    });
    const dam = await addAnimal(owner, programId, {
      code: 'D',
      sex: 'FEMALE',
      hatched: '1991',
      ...parents,
    });
    for (const code of ['W', 'S', 'D']) await look(programId, code, false);
    const { crossOdds } = await owner.data(CROSS, { p: programId, s: sire, d: dam, eggs: 10 });
    const [target] = crossOdds.targets;
    expect(target.share.exact).toBe('1/4');
    expect(target.atLeastOne.value).toBeCloseTo(1 - 0.75 ** 10, 12);
    expect(target.cases).toHaveLength(1);
    // 1 : 2 : 1, so 5 pale, 10 that carry it unseen, 5 clear of it; 2/3 of those that look plain carry it.
    expect(target.looks.map((look: Data) => [look.kind, look.eggs, look.share.exact])).toEqual([
      ['SHOWS', 5, '1/4'],
      ['CARRIES', 10, '1/2'],
      ['CLEAR', 5, '1/4'],
    ]);
    expect(target.plainSentence).toContain('2 in 3 carry pale');
    expect(crossOdds.sentence).toBe(
      '5 of 20 young from this pair should be pale; at least one in a clutch of 10: 94 in 100.',
    );
    const many = await owner.data(CROSS, { p: programId, s: sire, d: dam, eggs: 40 });
    expect(many.crossOdds.sentence).toContain('a clutch of 40: more than 99 in 100.');
    expect(crossOdds.inbreeding.value).toBe(0.25);
    expect(crossOdds.cautions.map((caution: Data) => caution.lead)).toContain('Close kin.');
    expect(crossOdds.parents.map((row: Data) => row.findings[0].label)).toEqual([
      '100 % het',
      '100 % het',
    ]);

    // Visual x '66 % het': the eggs share their dam, so at least one in 10 is 2/3 (1 - 2^-10), and no number lifts it over 2/3.
    const young = await addAnimal(owner, programId, {
      code: 'Y',
      sex: 'FEMALE',
      hatched: '2005',
      sires: [{ animalId: sire }],
      dams: [{ animalId: dam }],
    });
    await look(programId, 'Y', false);
    const mixed = (await owner.data(CROSS, { p: programId, s: grandsire, d: young, eggs: 10 }))
      .crossOdds;
    expect(mixed.parents[1].findings[0].label).toBe('66 % het');
    expect(mixed.targets[0].share.exact).toBe('1/3');
    expect(mixed.targets[0].atLeastOne.value).toBeCloseTo((2 / 3) * (1 - 2 ** -10), 12);
    expect(mixed.targets[0].limit.exact).toBe('2/3');
    expect(mixed.targets[0].eggsNeeded.every((needed: Data) => needed.eggs === null)).toBe(true);
    expect(mixed.caveat).toContain('all or nothing');
    expect(mixed.targets[0].cases.map(({ sentence }: Data) => sentence)).toEqual([
      'If Y carries one copy',
      'If Y does not carry it',
    ]);
  });

  it('say which records contradict each other, and answer the rest', async () => {
    const programId = await newProgram(owner, 'Clash');
    await brine(programId);
    const sire = await addAnimal(owner, programId, { code: 'S', sex: 'MALE' });
    const dam = await addAnimal(owner, programId, { code: 'D', sex: 'FEMALE' });
    await addAnimal(owner, programId, {
      code: 'Y',
      sires: [{ animalId: sire }],
      dams: [{ animalId: dam }],
    });
    await look(programId, 'S', true);
    await look(programId, 'D', true);
    await look(programId, 'Y', false);
    const { genotypeOdds } = await owner.data(
      'query($p: ID!) { genotypeOdds(programId: $p) { isPossible contradictions { records animals { code } explanations } rows { animal { code } findings { label } } } }',
      { p: programId },
    );
    expect(genotypeOdds.isPossible).toBe(false);
    expect(genotypeOdds.contradictions).toHaveLength(1);
    expect([...genotypeOdds.contradictions[0].records].sort()).toEqual([
      'D shows pale',
      'S shows pale',
      'Y was looked at and does not show pale',
    ]);
    expect(genotypeOdds.rows).toHaveLength(3);
    // What is left out says so, and the pair is answered by the rest: nothing known, q = 1/10 among founders.
    const { crossOdds } = await owner.data(
      'query($p: ID!, $s: ID!, $d: ID!) { crossOdds(programId: $p, sireId: $s, damId: $d) { assumptions targets { share { value } } } }',
      { p: programId, s: sire, d: dam },
    );
    expect(crossOdds.assumptions[0]).toContain('3 colour records that contradict each other');
    expect(crossOdds.targets[0].share.value).toBeCloseTo(0.01, 9);
  });

  it('move the chances of the fathers by colour, in the lineage of a hatchling', async () => {
    const { lineage } = await owner.settled(
      'query($p: ID!, $a: ID!) { lineage(programId: $p, animalId: $a) { areGenesPending sentence fathers { animal { code } before after } founders { share } unrecorded completeness animals { animal { code } } } }',
      { p: demo, a: id('SG-168') },
    );
    const sum = (key: 'before' | 'after') =>
      lineage.fathers.reduce((total: number, father: Data) => total + father[key], 0);
    expect(sum('before')).toBeCloseTo(1, 9);
    expect(sum('after')).toBeCloseTo(1, 9);
    expect(
      lineage.fathers.some((father: Data) => Math.abs(father.after - father.before) > 0.05),
    ).toBe(true);
    const shares = lineage.founders.reduce(
      (total: number, founder: Data) => total + founder.share,
      lineage.unrecorded,
    );
    expect(shares).toBeCloseTo(1, 9);
  });

  it('rank mates for every animal of known sex and every trait', async () => {
    const { animals } = await owner.data(
      'query($p: ID!) { animals(programId: $p, first: 500) { edges { node { id sex { sex } } } } }',
      { p: demo },
    );
    const sexed = animals.edges.filter((edge: Data) => edge.node.sex.sex !== 'UNKNOWN');
    expect(sexed.length).toBeGreaterThan(60);
    const { genotypeOdds } = await owner.data(
      'query($p: ID!) { genotypeOdds(programId: $p, animalIds: []) { traits { id } } }',
      { p: demo },
    );
    for (const [i, { node }] of sexed.entries()) {
      const traitId = genotypeOdds.traits[i % genotypeOdds.traits.length].id;
      const { suggestPairings } = await owner.data(
        'query($p: ID!, $a: ID!, $t: ID!) { suggestPairings(programId: $p, animalId: $a, traitId: $t) { suggestions { value } } }',
        { p: demo, a: node.id, t: traitId },
      );
      expect(suggestPairings.suggestions.length).toBeGreaterThan(0);
    }
  });

  it('rank mates by the product of the parts they show, by the figures that were set', async () => {
    const { suggestPairings } = await owner.data(MATES, { p: demo, a: id('SG-038') });
    const values = suggestPairings.suggestions.map((each: Data) => each.value);
    expect(values.length).toBeGreaterThan(3);
    expect(values).toEqual([...values].sort((a: number, b: number) => b - a));
    for (const pair of suggestPairings.suggestions) {
      expect(pair.value).toBeCloseTo(product(pair), 9);
      // 3.14 lethal equivalents: Ralls, Ballou & Templeton 1988.
      expect(pair.parts.inbreedingSurvival).toBeCloseTo(Math.exp((-3.14 / 2) * pair.F), 9);
    }
    // 12.29: O'Grady et al. 2006. The kernel's own case (value-inbreeding-survival) through the API.
    const settings = {
      ...{ clutches: 3, eggsPerClutch: 4, fertility: 0.5, hatch: 0.25 },
      ...{ lethalEquivalents: 12.29, highestF: 0.05 },
    };
    const set = (await owner.data(MATES, { p: demo, a: id('SG-038'), settings })).suggestPairings;
    expect(set.settings).toMatchObject({ clutches: 3, hatch: 0.25, lethalEquivalents: 12.29 });
    for (const pair of set.suggestions) {
      expect(pair.F).toBeLessThanOrEqual(0.05);
      expect(pair.parts).toMatchObject({ eggs: 12, fertility: 0.5, hatch: 0.25 });
      expect(pair.value).toBeCloseTo(product(pair), 9);
      expect(pair.parts.inbreedingSurvival).toBeCloseTo(Math.exp((-12.29 / 2) * pair.F), 9);
    }
    expect(set.over.every((pair: Data) => pair.F > 0.05)).toBe(true);
    expect(set.suggestions.length + set.over.length).toBeLessThanOrEqual(set.weighed);
    const refused = await owner.refusal(MATES, {
      ...{ p: demo, a: id('SG-038'), settings: { hatch: 1.5 } },
    });
    expect(refused.extensions).toMatchObject({ place: 'settings.hatch' });
  });

  it('keep of all pairs the best male of each female, as the mates of each female have it', async () => {
    const { seasonPairings } = await owner.data(
      `query($p: ID!) { seasonPairings(programId: $p, first: 200) { trait { id } females weighed pairs {
        pair { value sire { code } dam { id code } } next { value sire { code } dam { code } } } } }`,
      { p: demo },
    );
    expect(seasonPairings.pairs).toHaveLength(seasonPairings.females);
    const dams = seasonPairings.pairs.map(({ pair }: Data) => pair.dam.code);
    expect(new Set(dams).size).toBe(dams.length);
    for (const { pair, next } of seasonPairings.pairs.slice(0, 3)) {
      const { suggestions } = (
        await owner.data(MATES, { p: demo, a: pair.dam.id, t: seasonPairings.trait.id })
      ).suggestPairings;
      expect(suggestions[0].value).toBeCloseTo(pair.value, 12);
      expect(suggestions[1].value).toBeCloseTo(next.value, 12);
    }
  });

  it('share out twenty eggs, and tell what carries unseen', async () => {
    // Mendel's het x het, and visual x het, by the demo's certain animals: see the odds of two carriers above.
    const { crossOdds } = await owner.data(
      `query($p: ID!, $s: ID!, $d: ID!) { crossOdds(programId: $p, sireId: $s, damId: $d) { cautions { lead } targets {
        trait { name } plainSentence looks { kind name eggs share { value } } cases { probability { value } looks { eggs share { value } } } } } }`,
      { p: demo, s: id('SG-010'), d: id('SG-008') },
    );
    for (const { looks, cases } of crossOdds.targets) {
      for (const list of [looks, ...cases.map((one: Data) => one.looks)]) {
        expect(list.reduce((sum: number, look: Data) => sum + look.eggs, 0)).toBe(20);
        expect(list.reduce((sum: number, look: Data) => sum + look.share.value, 0)).toBeCloseTo(
          1,
          9,
        );
      }
      const weights = cases.reduce((sum: number, one: Data) => sum + one.probability.value, 0);
      expect(weights).toBeCloseTo(1, 9);
    }
    const brineOdds = crossOdds.targets.find(({ trait }: Data) => trait.name === 'brine');
    expect(brineOdds.looks).toEqual([
      { kind: 'SHOWS', name: 'brine', eggs: 10, share: { value: 0.5 } },
      { kind: 'CARRIES', name: 'carry it unseen', eggs: 10, share: { value: 0.5 } },
    ]);
    expect(brineOdds.plainSentence).toBe(
      'Every young that looks plain carries brine all the same.',
    );
    // Two founders of the demo: nothing is recorded behind either.
    expect(crossOdds.cautions.map(({ lead }: Data) => lead)).toContain('No parents recorded.');
  });
  it('refuse questions that make no sense, naming the remedy', async () => {
    const same = await owner.refusal(CROSS, { p: demo, s: id('SG-003'), d: id('SG-003'), eggs: 5 });
    expect(same.message).toBe('An animal cannot be paired with itself.');
    const swapped = await owner.refusal(CROSS, {
      p: demo,
      s: id('SG-002'),
      d: id('SG-003'),
      eggs: 5,
    });
    expect(swapped.extensions).toMatchObject({
      place: 'sireId',
      remedy: 'Choose a male, or swap the two.',
    });
    const unsexed = await owner.refusal(
      'query($p: ID!, $a: ID!) { suggestPairings(programId: $p, animalId: $a) { leftOut } }',
      { p: demo, a: id('SG-168') },
    );
    expect(unsexed.message).toContain('The sex of SG-168 is not known');
  });

  it('reckon with every clutch that a found animal may be of, mother and father together', async () => {
    // An invented yard: F1 with M1, F2 with M2 or M9; out of one of their clutches, or of neither, comes Grass.
    const programId = await newProgram(owner, 'Found');
    for (const code of ['F1', 'F2', 'M1', 'M2', 'M9']) {
      const sex = code.startsWith('F') ? 'FEMALE' : 'MALE';
      await addAnimal(owner, programId, { code, sex, hatched: '1994', origin: 'ACQUIRED' });
    }
    for (const name of ['North', 'South']) {
      await owner.data(
        'mutation($programId: ID!, $input: AddPenInput!) { addPen(programId: $programId, input: $input) { pen { id } } }',
        { programId, input: { commandId: randomUUID(), name } },
      );
    }
    const entries = [
      { on: '2008-04-01', move: { animals: ['F1', 'M1'], pen: 'North' } },
      { on: '2008-04-01', move: { animals: ['F2', 'M2', 'M9'], pen: 'South' } },
      { on: '2024-05-20', laid: { clutch: 'N1', dams: [{ ref: 'F1' }], eggs: 12 } },
      { on: '2024-05-25', laid: { clutch: 'S1', dams: [{ ref: 'F2' }], eggs: 10 } },
      { on: '2024-08-20', hatched: { clutch: 'N1', count: 1, codes: ['Y1'] } },
      { on: '2024-08-30', hatched: { clutch: 'S1', count: 1, codes: ['Z1'] } },
      {
        on: '2024-09-20',
        found: {
          codes: ['Grass', 'Grass2'],
          clutches: [
            { ref: 'N1', probability: 0.6 },
            { ref: 'S1', probability: 0.3 },
          ],
        },
      },
    ].map((entry) => ({ id: randomUUID(), ...entry }));
    const { recordEntries } = await owner.data(
      'mutation($programId: ID!, $input: RecordEntriesInput!) { recordEntries(programId: $programId, input: $input) { answers { state } } }',
      { programId, input: { entries, keepUndecided: false } },
    );
    expect(recordEntries.answers.map(({ state }: Data) => state)).toEqual(
      entries.map(() => 'WRITTEN'),
    );
    const codes = ['Grass', 'Y1', 'Z1', 'F1', 'M2'];
    const { animals } = await owner.data(
      'query($p: ID!) { animals(programId: $p, first: 100) { edges { node { id code } } } }',
      { p: programId },
    );
    const idOf = new Map<string, string>(
      animals.edges.map(({ node }: Data) => [node.code, node.id]),
    );
    const parents = async (code: string) => {
      const { animal } = await owner.data(
        'query($p: ID!, $code: String) { animal(programId: $p, code: $code) { sire { candidates { animal { code } probability } } dam { candidates { animal { code } probability } } } }',
        { p: programId, code },
      );
      const { sire, dam } = animal;
      const list = (finding: Data) =>
        finding.candidates.map((each: Data) => ({
          id: each.animal.code,
          probability: each.probability,
        }));
      return { sire: list(sire), dam: list(dam) };
    };
    // Independent of the service: the mean of the kernel's figures over the clutches, each taken as certain.
    const [n1, s1] = [await parents('Y1'), await parents('Z1')];
    const as = (grass: object): Float64Array =>
      relatedness(
        buildPedigree([
          ...['F1', 'F2', 'M1', 'M2', 'M9'].map((id) => ({ id })),
          { id: 'Y1', clutch: 'N1', ...n1 },
          { id: 'Z1', clutch: 'S1', ...s1 },
          { id: 'Grass', ...grass },
        ]),
        codes,
      );
    const worlds = [as({ clutch: 'N1', ...n1 }), as({ clutch: 'S1', ...s1 }), as({})];
    const answer = await owner.settled(
      `query($p: ID!, $a: [ID!]!, $g: ID!, $both: [ID!]!) {
        relatedness(programId: $p, animalIds: $a) { pairs { a { code } b { code } relatedness lowest highest words } assumptions }
        tied: relatedness(programId: $p, animalIds: $both) { pairs { relatedness } assumptions }
        lineage(programId: $p, animalId: $g) { areGenesPending sentence completeness assumptions animals { animal { code } } pairs { parents { animalId probability } young { animalId } } fathers { animal { code } before } }
        kinPaths(programId: $p, animalId: $g, otherId: "${idOf.get('Y1')}") { remainder youngF paths { share animals { code } } }
        saleCheck(programId: $p, animalIds: $a) { pairs { words lowest highest } sheets { animal { code } lines { what finding } } }
      }`,
      {
        p: programId,
        a: codes.map((code) => idOf.get(code)),
        g: idOf.get('Grass'),
        both: [idOf.get('Grass'), idOf.get('Grass2')],
      },
    );
    const figure = (a: string, b: string): Data =>
      answer.relatedness.pairs.find((each: Data) => each.a.code === a && each.b.code === b);
    for (const [j, code] of codes.entries()) {
      if (j === 0) continue;
      const expected = 0.6 * worlds[0][j] + 0.3 * worlds[1][j] + 0.1 * worlds[2][j];
      expect(figure('Grass', code).relatedness).toBeCloseTo(expected, 12);
    }
    // Full sib of Y1, or no kin; the unrecorded share of the fathers is one male for the clutch.
    expect(figure('Grass', 'Y1')).toMatchObject({ lowest: 0, highest: 0.5 });
    expect(figure('Grass', 'Y1').words).toBe(
      'half brother or sister or full: perhaps the same father, perhaps the same mother',
    );
    // Two of one find, each drawn by itself: full sibs where both are of N1 or both of S1. Only then it is said to be approximate.
    expect(answer.tied.pairs[0].relatedness).toBeCloseTo(0.5 * (0.6 ** 2 + 0.3 ** 2), 12);
    expect(answer.tied.assumptions.join(' ')).toContain('approximate');
    expect(answer.relatedness.assumptions.join(' ')).not.toContain('approximate');
    const { lineage, kinPaths, saleCheck } = answer;
    expect(lineage.sentence).toBe(
      'Grass may be of N1 (60 in 100) or S1 (30 in 100) or a clutch nobody recorded (10 in 100); the books go back 1 generation.',
    );
    expect(lineage.completeness[0]).toBeCloseTo((0.6 * 1.95 + 0.3 * 1.95) / 2, 12);
    expect(lineage.animals.map((each: Data) => each.animal.code).sort()).toEqual(
      expect.arrayContaining(['F1', 'F2', 'Grass', 'M1', 'M2']),
    );
    const [family] = lineage.pairs.filter(
      (pair: Data) => pair.young[0].animalId === idOf.get('Grass'),
    );
    const mother = family.parents.find((each: Data) => each.animalId === idOf.get('F1'));
    expect(mother.probability).toBeCloseTo(0.6, 12);
    expect(lineage.fathers[0]).toMatchObject({ animal: { code: 'M1' } });
    expect(lineage.fathers[0].before).toBeCloseTo(0.6 * 0.95, 12);
    expect(lineage.assumptions.join(' ')).toContain('2 clutches that it may be of');
    expect(kinPaths.youngF).toBeCloseTo(figure('Grass', 'Y1').relatedness / 2, 12);
    const sum = kinPaths.paths.reduce((total: number, path: Data) => total + path.share, 0);
    expect(sum + kinPaths.remainder).toBeCloseTo(kinPaths.youngF, 12);
    for (const { animals: along } of kinPaths.paths) {
      expect([along[0].code, along.at(-1).code]).toEqual(['Grass', 'Y1']);
    }
    expect(saleCheck.pairs[0]).toMatchObject({ lowest: 0, highest: 0.5 });
    const sheet = saleCheck.sheets.find((each: Data) => each.animal.code === 'Grass');
    expect(sheet.lines).toContainEqual({
      what: 'Mother',
      finding: 'one of F1 (60 in 100), F2 (30 in 100), one nobody recorded (10 in 100)',
    });
  });
});

const MATES = `query($p: ID!, $a: ID!, $t: ID, $settings: PairingSettingsInput) {
  suggestPairings(programId: $p, animalId: $a, traitId: $t, first: 200, settings: $settings) {
    suggestions { value F parts { eggs fertility hatch inbreedingSurvival target } } over { F } weighed
    settings { clutches hatch lethalEquivalents } } }`;

const product = ({ parts }: Data) =>
  parts.eggs * parts.fertility * parts.hatch * parts.inbreedingSurvival * parts.target;

const CROSS = `query($p: ID!, $s: ID!, $d: ID!, $eggs: Int!) { crossOdds(programId: $p, sireId: $s, damId: $d, eggs: $eggs) {
  sentence caveat inbreeding { value } cautions { lead } parents { findings { label } }
  targets { share { exact } plainSentence looks { kind eggs share { exact } } atLeastOne { value } limit { exact } eggsNeeded { eggs } cases { sentence } } } }`;

/** One recessive trait, written behind the API: there is no editor for definitions yet. */
function brine(programId: string): Promise<unknown> {
  return written(programId, (run) =>
    run(
      `INSERT INTO locus VALUES ($1, gen_random_uuid(), 'pl', 'pl', '{"alleles": ["N", "p"], "frequencies": {"N": 0.9, "p": 0.1}}')`,
      `INSERT INTO trait VALUES ($1, gen_random_uuid(), 'pale', 'pale', '{"when": {"locus": "pl", "genotypes": ["p/p"]}}')`,
    ),
  );
}

function look(programId: string, code: string, shows: boolean): Promise<unknown> {
  return written(programId, (run) =>
    run(
      `INSERT INTO observation (program_id, id, kind, animal_id, value)
       SELECT program_id, gen_random_uuid(), 'colour-check', id,
         jsonb_build_object('seen', ${shows ? '(SELECT jsonb_agg(t.id) FROM trait t WHERE t.program_id = $1)' : "'[]'::jsonb"})
       FROM animal WHERE program_id = $1 AND code = '${code}'`,
    ),
  );
}

function written(
  programId: string,
  work: (run: (...statements: string[]) => Promise<void>) => Promise<void>,
): Promise<void> {
  return asAdmin(service.databaseName, async (client) => {
    await client.query('BEGIN');
    await client.query(
      "SELECT set_config('app.command_id', gen_random_uuid()::text, true), set_config('app.program_id', $1, true)",
      [programId],
    );
    await work(async (...statements) => {
      for (const statement of statements) await client.query(statement, [programId]);
    });
    await client.query('UPDATE program SET revision = revision + 1 WHERE id = $1', [programId]);
    await client.query('COMMIT');
  });
}
