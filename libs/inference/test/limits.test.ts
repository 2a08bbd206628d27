import { describe, expect, it } from '@jest/globals';
import {
  clashingRecords,
  genotypePosteriors,
  inferProgram,
  type Posteriors,
  type ProgramInput,
  readProgram,
} from '@scutewright/inference';
import { LOCI, TRAITS, village } from './village.js';

type Evidence = NonNullable<ProgramInput['evidence']>[number];

function furthest(one: Posteriors, other: Posteriors): number {
  return one.genotypes.reduce((most, p, i) => Math.max(most, Math.abs(p - other.genotypes[i])), 0);
}

describe('what does not fit', () => {
  const programs = [1, 2, 3, 4].map((seed) => readProgram(village(seed)).program);

  it('answers animals without any say in portions, the same as in one go', () => {
    for (const program of programs.slice(0, 2)) {
      const silent = { ...program, records: program.records.filter((_, i) => i % 5 === 0) };
      const whole = inferProgram(silent);
      for (let less = 1; less <= 2; less++) {
        const bits = Math.log2(whole.effort.entries) - less;
        const parts = inferProgram(silent, { budgetBits: bits, rounds: 4 });
        if (parts.effort.method !== 'exact' || parts.effort.roughAnimals > 0) break;
        expect(furthest(whole, parts)).toBeLessThan(1e-9);
      }
    }
  });

  it('deletes doubtful states within the mass it reports', () => {
    let deleted = 0;
    for (let seed = 1; seed <= 4; seed++) {
      const { program } = readProgram(village(seed, 1));
      const whole = inferProgram(program);
      for (let less = 1; less <= 6; less++) {
        const bits = Math.log2(whole.effort.entries) - less;
        const found = inferProgram(program, { budgetBits: bits, rounds: 4 });
        if (found.effort.method !== 'states deleted') break;
        deleted++;
        expect(found.effort.deletedMass).toBeGreaterThan(0);
        expect(found.effort.entries).toBeLessThanOrEqual(2 ** bits);
        // The reported mass is first order: twice it leaves room for two misreads at once.
        expect(furthest(whole, found)).toBeLessThan(2 * found.effort.deletedMass);
        expect(found.logEvidence).toBeLessThan(whole.logEvidence);
      }
    }
    expect(deleted).toBeGreaterThan(0);
  });

  it('samples within its error, the same again from the same seed', () => {
    const [program] = programs;
    const whole = inferProgram(program);
    const sampled = inferProgram(program, { budgetBits: 6, seed: 5, rounds: 64 });
    expect(sampled.effort.method).toBe('sampled');
    expect(sampled.effort.monteCarloError).toBeGreaterThan(0);
    expect(sampled.effort.monteCarloError).toBeLessThan(0.25);
    // The largest of a hundred errors, each of some standard errors.
    expect(furthest(whole, sampled)).toBeLessThan(6 * sampled.effort.monteCarloError + 0.02);
    const short = (seed: number) => inferProgram(program, { budgetBits: 6, seed, rounds: 4 });
    expect(short(5).genotypes).toEqual(short(5).genotypes);
    expect(furthest(short(5), short(6))).toBeGreaterThan(0);
  });
});

describe('large and odd input', () => {
  const pair: ProgramInput = {
    loci: LOCI,
    traits: TRAITS,
    animals: [
      { id: 'Moss', sex: 'm' },
      { id: 'Fern', sex: 'f' },
      { id: 'young', clutch: 'c' },
    ],
    clutches: [{ id: 'c', sire: 'Moss', dam: 'Fern' }],
  };

  it('takes a clutch of 10,000 without underflow', () => {
    const found = genotypePosteriors({
      ...pair,
      evidence: [
        { kind: 'count', clutch: 'c', trait: 'pale', seen: 2500, notSeen: 7500, misread: '1/100' },
      ],
    });
    expect(found.possible).toBe(true);
    expect(found.genotypes.Moss.p['n/a']).toBeGreaterThan(0.999);
    expect(found.genotypes.young.p['a/a']).toBeCloseTo(0.25, 6);
  });

  it('takes dead embryos as evidence of a genotype that kills in the egg', () => {
    const alive = (animal: string): Evidence => ({
      kind: 'phenotype',
      animal,
      trait: 'dies in the egg',
      seen: false,
    });
    const lost = (misread: string) =>
      genotypePosteriors({
        ...pair,
        loci: [{ ...LOCI[0], frequencies: { n: '9/10', a: '1/10' } }],
        traits: [{ id: 'dies in the egg', when: { locus: 'p', genotypes: ['a/a'] } }],
        evidence: [
          ...['Moss', 'Fern', 'young'].map(alive),
          { kind: 'count', clutch: 'c', trait: 'dies in the egg', seen: 3, notSeen: 9, misread },
        ],
      });
    expect(lost('0').genotypes.Moss.p).toEqual({ 'n/a': 1 });
    expect(lost('0').genotypes.young.p['n/a']).toBeCloseTo(2 / 3, 12);
    // By hand: a living base animal carries in 0.18 / 0.99 = 2/11. Two carriers lose an egg in 1/4, and it is noted so in
    // 19/20; any other loss is noted so in 1/20. The listed young lived: 3/4 by two carriers, else certain.
    const lose = 0.25 * 0.95 + 0.75 * 0.05;
    const both = (2 / 11) ** 2 * (3 / 4) * lose ** 3 * (1 - lose) ** 9;
    const other = (1 - (2 / 11) ** 2) * 0.05 ** 3 * 0.95 ** 9;
    const one = (2 / 11) * (9 / 11) * 0.05 ** 3 * 0.95 ** 9;
    expect(lost('1/20').genotypes.Moss.p['n/a']).toBeCloseTo((both + one) / (both + other), 12);
  });

  it('takes 40 loci that share an uncertain sire', () => {
    const loci = Array.from({ length: 40 }, (_, i) => ({ ...LOCI[0], id: `l${i}` }));
    const found = genotypePosteriors({
      loci,
      animals: [...pair.animals, { id: 'Pine', sex: 'm' }],
      clutches: [
        { id: 'c', dam: 'Fern', sires: ['Moss', 'Pine'].map((id) => ({ id, probability: '1/2' })) },
      ],
      evidence: loci.flatMap(({ id }): Evidence[] => [
        { kind: 'dna', animal: 'young', locus: id, genotype: 'n/a' },
        { kind: 'dna', animal: 'Moss', locus: id, genotype: 'n/n' },
      ]),
    });
    expect(found.effort.method).toBe('exact');
    // By hand and locus: Moss gives n, the dam a (1/5); a base male gives either (2 x 4/5 x 1/5).
    expect(found.sires.young.Moss).toBeCloseTo(1 / (1 + (2 * 0.8) ** 40), 12);
  });

  it('a certain pale dam has certain carriers, whatever the sire', () => {
    const found = genotypePosteriors({
      ...pair,
      clutches: [{ id: 'c', dam: 'Fern', paternity: { multiple: '1/3' } }],
      evidence: [
        { kind: 'phenotype', animal: 'Fern', trait: 'pale', seen: true },
        { kind: 'phenotype', animal: 'young', trait: 'pale', seen: false },
      ],
    });
    expect(found.genotypes.young.p).toEqual({ 'n/a': 1 });
  });

  it.each<[string, Partial<ProgramInput>, RegExp]>([
    [
      'an allele not at the locus',
      { evidence: [{ kind: 'dna', animal: 'Moss', locus: 'p', genotype: 'n/z' }] },
      /'n\/z'/,
    ],
    [
      'a rate over 1',
      {
        evidence: [
          { kind: 'phenotype', animal: 'Moss', trait: 'pale', seen: true, misread: '3/2' },
        ],
      },
      /3\/2/,
    ],
    [
      'a rule that no genotype meets',
      {
        traits: [
          { id: 'blue', when: { all: [], any: [] } as never },
          { id: 'never', when: { locus: 'p', genotypes: [] } },
        ],
      },
      /never/,
    ],
    [
      'an animal not listed',
      { evidence: [{ kind: 'phenotype', animal: 'Mos', trait: 'pale', seen: true }] },
      /Did you mean 'Moss'/,
    ],
    [
      'candidates over 1',
      { clutches: [{ id: 'c', sires: [{ id: 'Moss', probability: '3/2' }] }] },
      /3\/2/,
    ],
    [
      'an own ancestor',
      { clutches: [{ id: 'c', sires: [{ id: 'young', probability: '1/2' }] }] },
      /own ancestor/,
    ],
    ['a sire that is female', { clutches: [{ id: 'c', sire: 'Fern' }] }, /'Fern' is female/],
    [
      'half an egg',
      { evidence: [{ kind: 'count', clutch: 'c', trait: 'pale', seen: 0.5 }] },
      /0\.5/,
    ],
    [
      'a prior of a young',
      { evidence: [{ kind: 'prior', animal: 'young', locus: 'p', genotypes: { 'n/n': 1 } }] },
      /has parents/,
    ],
  ])('says what is wrong: %s', (_, change, message) => {
    expect(() => genotypePosteriors({ ...pair, ...change })).toThrow(message);
  });

  it('finds every smallest clash of tests without error', () => {
    const { program } = readProgram({
      ...pair,
      evidence: [
        { kind: 'dna', animal: 'Moss', locus: 'p', genotype: 'n/n' },
        { kind: 'dna', animal: 'Fern', locus: 'p', genotype: 'n/n' },
        { kind: 'dna', animal: 'young', locus: 'p', genotype: 'n/a' },
        { kind: 'phenotype', animal: 'young', trait: 'pale', seen: true },
      ],
    });
    expect(clashingRecords(program)).toEqual({
      sets: [
        [0, 3],
        [1, 3],
        [2, 3],
        [0, 1, 2],
      ],
      complete: true,
    });
  });
});
