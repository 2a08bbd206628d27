import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import { readProgramFile } from '@scutewright/commands';
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
const demoPedigree = () => {
  const file = readProgramFile(
    readFileSync(new URL('../../../seed/saltmarsh-group.csv', import.meta.url)),
  );
  return buildPedigree(
    file.rows.map((row) => {
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
    }),
  );
};

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

  it('rank mates by the product of the parts they show', async () => {
    const { suggestPairings } = await owner.data(
      'query($p: ID!, $a: ID!) { suggestPairings(programId: $p, animalId: $a) { trait { name } suggestions { value F parts { eggs fertility hatch inbreedingSurvival target } } leftOut assumptions } }',
      { p: demo, a: id('SG-038') },
    );
    const values = suggestPairings.suggestions.map((each: Data) => each.value);
    expect(values.length).toBeGreaterThan(3);
    expect(values).toEqual([...values].sort((a: number, b: number) => b - a));
    for (const { value, F, parts } of suggestPairings.suggestions) {
      expect(value).toBeCloseTo(
        parts.eggs * parts.fertility * parts.hatch * parts.inbreedingSurvival * parts.target,
        9,
      );
      // 3.14 lethal equivalents: Ralls, Ballou & Templeton 1988.
      expect(parts.inbreedingSurvival).toBeCloseTo(Math.exp((-3.14 / 2) * F), 9);
    }
  });

  it('tell of a sale only what the records hold', async () => {
    const { saleCheck } = await owner.data(
      'query($p: ID!, $a: [ID!]!) { saleCheck(programId: $p, animalIds: $a) { sentence mustTell letter cautions { lead source } } }',
      { p: demo, a: [id('SG-168'), id('SG-170')] },
    );
    // The one place where the word stands says that it is not claimed.
    expect(saleCheck.letter.match(/unrelated/g)).toHaveLength(1);
    expect(saleCheck.letter).toContain(
      "'No shared parent in our books' does not mean that animals are unrelated",
    );
    expect(saleCheck.mustTell).toContain('The father of SG-168 is one of 2 males.');
    expect(saleCheck.cautions.every((caution: Data) => caution.source.length > 10)).toBe(true);
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

const CROSS = `query($p: ID!, $s: ID!, $d: ID!, $eggs: Int!) { crossOdds(programId: $p, sireId: $s, damId: $d, eggs: $eggs) {
  sentence caveat inbreeding { value } cautions { lead } parents { findings { label } }
  targets { share { exact } atLeastOne { value } limit { exact } eggsNeeded { eggs } cases { sentence } } } }`;

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
    await client.query("SELECT set_config('app.command_id', gen_random_uuid()::text, true)");
    await work(async (...statements) => {
      for (const statement of statements) await client.query(statement, [programId]);
    });
    await client.query('UPDATE program SET revision = revision + 1 WHERE id = $1', [programId]);
    await client.query('COMMIT');
  });
}
