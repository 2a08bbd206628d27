import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import { readProgramFile } from '@scutewright/commands';
import { DEFAULT_PEN_SETTINGS, PEN_RULES, penConflicts, readStays } from '@scutewright/housing';
import { buildPedigree, inbreeding, relatedness } from '@scutewright/pedigree';
import {
  addAnimal,
  asAdmin,
  type Client,
  type Data,
  newProgram,
  startService,
  type TestService,
} from './service.js';

let service: TestService;
let owner: Client;
let demo: string;
const ids = new Map<string, string>();
beforeAll(async () => {
  service = await startService({}, { demo: true });
  owner = await service.owner();
  const { viewer } = await owner.data(
    '{ viewer { memberships { program { id animalCount isDemo } } } }',
  );
  expect(viewer.memberships[0].program).toMatchObject({ animalCount: 171, isDemo: true });
  demo = viewer.memberships[0].program.id;
  const { animals } = await owner.data(
    'query($p: ID!) { animals(programId: $p, first: 500) { edges { node { id code } } } }',
    { p: demo },
  );
  for (const { node } of animals.edges) ids.set(node.code, node.id);
}, 120_000);
afterAll(() => service.stop());

const id = (code: string) => {
  const found = ids.get(code);
  if (!found) throw new Error(`The demo has no ${code}`);
  return found;
};

/** The demo's own file through the kernel, without the service in between. */
const demoRows = () => {
  const file = readProgramFile(
    readFileSync(new URL('../../../seed/saltmarsh-group.csv', import.meta.url)),
  );
  return file.rows.map((row) => {
    const parent = (list: typeof row.sires) => {
      if (list.length === 0) return null;
      return list.map(({ code, probability }) => ({
        id: code,
        probability: probability ?? 1 / list.length,
      }));
    };
    return {
      id: row.code,
      sire: parent(row.sires),
      dam: parent(row.dams),
      sex: row.sex,
      clutch: row.clutch,
    };
  });
};
const demoPedigree = () => buildPedigree(demoRows());

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
  });

  it('move the chances of the fathers by colour, in the lineage of a hatchling', async () => {
    const { lineage } = await owner.data(
      'query($p: ID!, $a: ID!) { lineage(programId: $p, animalId: $a) { sentence fathers { animal { code } before after } founders { share } unrecorded completeness animals { animal { code } } } }',
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

  it('tell of a sale only what the records hold', async () => {
    // A founder that no forebear of the two is: nothing is recorded behind it, so nobody can say.
    const pedigree = demoPedigree();
    const bare = pedigree.ids?.find(
      (code) =>
        demoRows().some(({ id: row, sire, dam }) => row === code && !sire && !dam) &&
        [1, 2].every((at) => relatedness(pedigree, [code, 'SG-168', 'SG-170'])[at] === 0),
    );
    if (!bare) throw new Error('Every founder of the demo is a forebear of SG-168 or SG-170');
    const { saleCheck } = await owner.data(SALE, {
      p: demo,
      a: [id('SG-168'), id('SG-170'), id(bare)],
    });
    // The one place where the word stands says that it is not claimed.
    expect(saleCheck.letter.match(/unrelated/g)).toHaveLength(1);
    expect(saleCheck.letter).toContain(
      "'No shared parent in our books' does not mean that animals are unrelated",
    );
    expect(saleCheck.mustTell).toContain('The father of SG-168 is one of 2 males.');
    expect(saleCheck.cautions.every((caution: Data) => caution.source.length > 10)).toBe(true);
    const [mates, ...open] = saleCheck.pairs;
    expect(mates.words).toContain('clutch mates');
    for (const pair of open) {
      expect(pair).toMatchObject({
        isKnown: false,
        words: `cannot say: no parents of ${bare} recorded`,
      });
    }
    expect(saleCheck.sentence).toContain(
      'Of 3 pairs, 1 pair is kin, and for 2 pairs nobody can say.',
    );
    const leads = saleCheck.cautions.map(({ lead }: Data) => lead);
    expect(leads).toContain('Not a pair to breed.');
    // Measured under 4 inches (21 CFR 1240.62), or never measured.
    const size = saleCheck.cautions.find(
      ({ jurisdiction }: Data) => jurisdiction === 'United States',
    );
    expect(size.text).toContain(`Never measured: SG-168, SG-170, ${bare}; measure first.`);
    const small = await owner.data(SALE, { p: demo, a: [id('SG-150')] });
    expect(small.saleCheck.cautions.map(({ text }: Data) => text).join()).toMatch(
      /Under it: SG-150 \(58 mm/,
    );
    const [sheet] = saleCheck.sheets;
    expect(sheet.notKnown).toContain('which of these is its father');
    expect(sheet.lines.map(({ what }: Data) => what)).not.toContain('Health');
    expect(sheet.notKnown.join()).toContain('its health');
  });

  it("compare with the buyer's own as the kernel does, and write nothing of them", async () => {
    // Invented: the buyer has a daughter of our SG-010 and their X, a clutch of hers by one of two males, and a stranger.
    const buyer = [
      {
        code: 'D',
        sex: 'FEMALE',
        isAsked: true,
        sires: [{ animalId: id('SG-010') }],
        dams: [{ code: 'X' }],
      },
      {
        code: 'Y1',
        isAsked: true,
        clutch: 'c',
        dams: [{ code: 'D' }],
        sires: [
          { code: 'M', probability: 0.7 },
          { animalId: id('SG-015'), probability: 0.3 },
        ],
      },
      {
        code: 'Y2',
        isAsked: true,
        clutch: 'c',
        dams: [{ code: 'D' }],
        sires: [
          { code: 'M', probability: 0.7 },
          { animalId: id('SG-015'), probability: 0.3 },
        ],
      },
      { code: 'S', sex: 'MALE', isAsked: true },
      { code: 'BOUGHT', isAsked: true, ourAnimalId: id('SG-030') },
    ];
    const { revision } = (
      await owner.data(
        'query($p: ID!) { genotypeOdds(programId: $p, animalIds: []) { revision } }',
        { p: demo },
      )
    ).genotypeOdds;
    const { saleCheck } = await owner.data(SALE, {
      p: demo,
      a: [id('SG-168'), id('SG-010')],
      buyer,
    });
    const one = (code: string) => [{ id: code, probability: 1 }];
    const fathers = [
      { id: 'M', probability: 0.7 },
      { id: 'SG-015', probability: 0.3 },
    ];
    const pedigree = buildPedigree([
      ...demoRows(),
      { id: 'X', sire: null, dam: null },
      { id: 'M', sire: null, dam: null },
      { id: 'S', sire: null, dam: null },
      { id: 'D', sire: one('SG-010'), dam: one('X') },
      { id: 'Y1', sire: fathers, dam: one('D'), clutch: 'buyer c' },
      { id: 'Y2', sire: fathers, dam: one('D'), clutch: 'buyer c' },
    ]);
    const codes = ['SG-168', 'SG-010', 'D', 'Y1', 'Y2', 'S', 'SG-030'];
    expect(saleCheck.animals.map(({ code }: Data) => code)).toEqual(codes);
    expect(saleCheck.animals.map(({ isBuyers }: Data) => isBuyers)).toEqual([
      false,
      false,
      true,
      true,
      true,
      true,
      true,
    ]);
    const a = relatedness(pedigree, codes);
    const at = new Map<string, number>(
      saleCheck.animals.map((each: Data, i: number) => [each.id, i]),
    );
    expect(saleCheck.pairs).toHaveLength(21);
    for (const pair of saleCheck.pairs) {
      const [i, j] = [at.get(pair.a) ?? -1, at.get(pair.b) ?? -1];
      expect(pair.relatedness).toBeCloseTo(a[i * codes.length + j], 9);
      expect(pair.isKnown).toBe(![i, j].includes(5) && (pair.highest > 0 || ![i, j].includes(1)));
    }
    const words = (x: string, y: string) =>
      saleCheck.pairs.find(({ a: p, b: q }: Data) =>
        [p, q].every((each) => [x, y].includes(saleCheck.animals[at.get(each) ?? -1].code)),
      ).words;
    expect(words('SG-010', 'D')).toBe('SG-010 is the father of D');
    expect(words('Y1', 'Y2')).toContain('clutch mates');
    expect(saleCheck.sheets.map(({ animal }: Data) => animal.code)).toEqual(['SG-168', 'SG-010']);
    const after = await owner.data(
      'query($p: ID!) { genotypeOdds(programId: $p, animalIds: []) { revision } animals(programId: $p) { totalCount } }',
      { p: demo },
    );
    expect(after.genotypeOdds.revision).toBe(revision);
    expect(after.animals.totalCount).toBe(171);

    const loop = [
      { code: 'A', isAsked: true, sires: [{ code: 'B' }] },
      { code: 'B', dams: [{ code: 'A' }] },
    ];
    const refused = async (given: unknown) =>
      (await owner.refusal(SALE, { p: demo, a: [id('SG-168')], buyer: given })).message;
    expect(await refused(loop)).toMatch(/would be its own forebear/);
    expect(await refused([{ code: 'A' }, { code: 'A' }])).toBe("The buyer's A is named twice.");
    expect(await refused([{ code: 'A', sires: [{ code: 'B', animalId: id('SG-010') }] }])).toMatch(
      /not both/,
    );
    expect(
      await refused([
        {
          code: 'A',
          sires: [
            { code: 'B', probability: 0.8 },
            { code: 'C', probability: 0.4 },
          ],
        },
      ]),
    ).toMatch(/more than 1/);
  });

  it("read a buyer's file without keeping it, and leave to a person which animals are the same", async () => {
    const { readBuyerFile } = await owner.data(
      'query($p: ID!, $t: String!) { readBuyerFile(programId: $p, text: $t) { unread faults animals { code sex clutch sires { code probability } dams { code } sameCode { code } } } }',
      {
        p: demo,
        t: 'code;sex;sire;dam;clutch\nSG-010;m;;;\nN1;f;SG-010:0.5|K:0.5;Q;2020/1\n;x;;;\n',
      },
    );
    expect(readBuyerFile.animals).toEqual([
      {
        code: 'SG-010',
        sex: 'MALE',
        clutch: null,
        sires: [],
        dams: [],
        sameCode: { code: 'SG-010' },
      },
      {
        ...{ code: 'N1', sex: 'FEMALE', clutch: '2020/1', sameCode: null, dams: [{ code: 'Q' }] },
        sires: [
          { code: 'SG-010', probability: 0.5 },
          { code: 'K', probability: 0.5 },
        ],
      },
    ]);
    expect(readBuyerFile.faults.length).toBeGreaterThan(0);
  });

  it('name the males that conflict, with rule, source and remedy', async () => {
    const { penConflicts } = await owner.data(
      'query($p: ID!) { penConflicts(programId: $p) { sentence flags { rule severity pen { name } animals { code } message remedy source } pens { name animals { animal { code } } } } }',
      { p: demo },
    );
    const males = penConflicts.flags.find((flag: Data) => flag.rule === 'males-together');
    expect(males).toMatchObject({
      severity: 'DANGER',
      remedy: expect.stringContaining('Part them'),
    });
    const pen = penConflicts.pens.find((each: Data) => each.name === males.pen.name);
    const there = pen.animals.map((each: Data) => each.animal.code);
    for (const { code } of males.animals) expect(there).toContain(code);
    const { today } = await owner.data(
      'query($p: ID!) { today(programId: $p) { sentence decisions { title link } unknown } }',
      { p: demo },
    );
    expect(today.decisions.length).toBeGreaterThan(0);
    expect(today.decisions.length).toBeLessThanOrEqual(7);
  });

  it('find in the pens what the kernel finds, with better pens and what kin could throw', async () => {
    const { penConflicts: answer } = await owner.data(
      `query($p: ID!) { penConflicts(programId: $p) { day rules { rule } flags { rule severity pen { name } animals { id code } possibleFrom certainFrom overOn young }
        pens { name areaM2 capacity isQuarantine animals { animal { code species sex { sex } } sclMm maturePossibly matureSurely sizes { years } } } } }`,
      { p: demo },
    );
    const pedigree = demoPedigree();
    const day = (text: string) => Math.round(Date.parse(text) / 86_400_000);
    const inPens = answer.pens.flatMap((pen: Data) =>
      pen.animals.map((each: Data) => ({ ...each, pen: pen.name })),
    );
    const codes = inPens.map(({ animal }: Data) => animal.code);
    const a = relatedness(pedigree, codes);
    const at = new Map<string, number>(codes.map((code: string, i: number) => [code, i]));
    const isBare = (code: string) =>
      [pedigree.sire, pedigree.dam].every(
        (parents) => parents[pedigree.positions?.get(code) ?? -1] === -1,
      );
    const expected = penConflicts({
      animals: inPens.map(({ animal, sclMm, maturePossibly, matureSurely }: Data) => ({
        ...{ id: animal.code, species: animal.species, sclMm, arrived: null },
        sex: { MALE: 'm', FEMALE: 'f', UNKNOWN: null }[animal.sex.sex as 'MALE'],
        mature: {
          possible: maturePossibly ? day(maturePossibly) : Number.NEGATIVE_INFINITY,
          certain: matureSurely ? day(matureSurely) : Number.POSITIVE_INFINITY,
        },
      })),
      pens: answer.pens.map(({ name, areaM2, capacity }: Data) => ({ id: name, areaM2, capacity })),
      stays: readStays(
        inPens.map(({ animal, pen }: Data) => ({ animal: animal.code, pen, from: null, to: null })),
        [],
      ),
      from: day(answer.day),
      horizon: day(answer.day) + 3653,
      settings: DEFAULT_PEN_SETTINGS,
      kinship: (one, other) => {
        const value = a[(at.get(one) ?? 0) * codes.length + (at.get(other) ?? 0)];
        return value === 0 && isBare(one) && isBare(other) ? null : value / 2;
      },
    });
    const key = (flag: Data, pen: string, animals: string[]) =>
      [flag.rule, pen, [...animals].sort().join(' '), flag.severity.toLowerCase()].join('|');
    const found = answer.flags.map((flag: Data) =>
      key(
        flag,
        flag.pen.name,
        flag.animals.map(({ code }: Data) => code),
      ),
    );
    expect(found.sort()).toEqual(
      expected.map((flag) => key(flag, flag.pen, [...flag.animals])).sort(),
    );
    expect(found.length).toBeGreaterThan(50);
    expect(answer.rules.map(({ rule }: Data) => rule)).toEqual(
      PEN_RULES.map(({ id: rule }) => rule),
    );
    const kin = answer.flags.find((flag: Data) => flag.rule === 'close-relatives' && flag.young);
    expect(kin.young).toMatch(/^(Their young could show|Hardly any)/);
    // Three pens for one of two males that clash, the first with the least against it; none of them its own or for newcomers.
    const males = answer.flags.find((flag: Data) => flag.rule === 'males-together');
    const { pensIfMoved } = await owner.data(
      'query($p: ID!, $a: ID!) { pensIfMoved(programId: $p, animalId: $a) { name sentence isFree } }',
      { p: demo, a: males.animals[0].id },
    );
    expect(pensIfMoved).toHaveLength(3);
    const names = pensIfMoved.map(({ name }: Data) => name);
    expect(names).not.toContain(males.pen.name);
    expect(names).not.toContain('Boathouse');
    expect(pensIfMoved.map(({ isFree }: Data) => isFree)).toEqual(
      pensIfMoved
        .map(({ isFree }: Data) => isFree)
        .sort((x: boolean, y: boolean) => Number(y) - Number(x)),
    );
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
});

const SALE = `query($p: ID!, $a: [ID!]!, $buyer: [BuyerAnimalInput!]) { saleCheck(programId: $p, animalIds: $a, buyer: $buyer) {
  sentence mustTell letter cautions { lead text source jurisdiction } animals { id code isBuyers }
  pairs { a b relatedness lowest highest youngF isKnown words } sheets { animal { code } lines { what finding basis } notKnown } } }`;

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
