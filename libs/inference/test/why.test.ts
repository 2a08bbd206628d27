import { describe, expect, it } from '@jest/globals';
import {
  clashingRecords,
  explainClash,
  genotypePosteriors,
  nextSteps,
  type ProgramInput,
  readProgram,
  whyGenotype,
} from '@scutewright/inference';
import { randomProgram } from './random-program.js';

const PALE: ProgramInput = {
  loci: [{ id: 'p', alleles: ['n', 'a'], frequencies: { n: '9/10', a: '1/10' } }],
  traits: [{ id: 'pale', when: { locus: 'p', genotypes: ['a/a'] } }],
  animals: [
    { id: 'Moss', sex: 'm' },
    { id: 'Fern', sex: 'f' },
    { id: 'Ivy', sex: 'f' },
    { id: 'y1', clutch: 'c' },
    { id: 'y2', clutch: 'c' },
  ],
  clutches: [{ id: 'c', sire: 'Moss', dam: 'Fern' }],
};

describe('why', () => {
  it('gives the posterior without each record, as a run without that record does', () => {
    let compared = 0;
    for (const loci of ['one', 'series', 'two', 'look-alikes', 'sex-linked'] as const) {
      for (let seed = 0; seed < 6; seed++) {
        const flavour = { name: '', loci, clutches: true, counts: loci === 'one', finds: false };
        const input = randomProgram(seed, flavour);
        if (!genotypePosteriors(input).possible) continue;
        const { program, animals } = readProgram(input);
        const animal = seed % animals.length;
        // All at once; then with too little room for those records that rule genotypes out, and for any.
        for (const mostEntries of [2 ** 22, 60, 30, 12]) {
          const why = whyGenotype(program, animal, 0, mostEntries);
          if (mostEntries === 2 ** 22) expect(why.complete).toBe(true);
          for (const { record, without } of why.records) {
            const evidence = (input.evidence ?? []).filter((_, i) => i !== record);
            const rest = genotypePosteriors({ ...input, evidence });
            const genotypes = rest.possible ? rest.genotypes : { [animals[animal]]: { p: {} } };
            for (const [g, { text }] of program.loci[0].genotypes.entries()) {
              const expected = (genotypes[animals[animal]].p as Record<string, number>)[text] ?? 0;
              expect(Math.abs(without[g] - expected)).toBeLessThan(1e-9);
              compared++;
            }
          }
        }
      }
    }
    expect(compared).toBeGreaterThan(300);
  });
});

describe('clashing records', () => {
  const clash: ProgramInput = {
    ...PALE,
    evidence: [
      { id: 'sire', kind: 'phenotype', animal: 'Moss', trait: 'pale', seen: true },
      { id: 'dam', kind: 'phenotype', animal: 'Fern', trait: 'pale', seen: true },
      { id: 'young', kind: 'phenotype', animal: 'y1', trait: 'pale', seen: false },
      { id: 'other', kind: 'phenotype', animal: 'Ivy', trait: 'pale', seen: true },
    ],
  };

  it('sets the clash aside by name and answers the rest', () => {
    const found = genotypePosteriors(clash);
    expect(found.possible).toBe(false);
    expect(found.clashes).toEqual([['sire', 'dam', 'young']]);
    expect(found.setAside).toEqual(['sire', 'dam', 'young']);
    expect(found.genotypes.Ivy.p).toEqual({ 'a/a': 1 });
    expect(found.genotypes.Moss.p['n/n']).toBeCloseTo(0.81, 12);
  });

  it('weighs the usual explanations of a clash by what they make of its records', () => {
    const { program } = readProgram(clash);
    const [set] = clashingRecords(program).sets;
    const list = explainClash(program, set);
    expect(list.map(({ kind }) => kind)).toEqual(
      expect.arrayContaining(['misread', 'other sire', 'mixed up', 'two genes']),
    );
    expect(list.reduce((sum, { probability }) => sum + probability, 0)).toBeCloseTo(1, 12);
    // By hand, before the common factors: a young misread q^4 x 0.01; another sire q^4 x (1 - q) x 0.02 with q = 1/10.
    const share = (kind: string, record: number): number =>
      list.find((entry) => entry.kind === kind && entry.record === record)?.probability ?? 0;
    expect(share('other sire', -1) / share('misread', 2)).toBeCloseTo((0.02 * 0.9) / 0.01, 9);
  });
});

describe('next steps', () => {
  const suspect: ProgramInput = {
    ...PALE,
    animals: [...PALE.animals, { id: 'Pine', sex: 'm', sire: 'Moss', dam: 'Fern' }],
    evidence: [
      { kind: 'phenotype', animal: 'Moss', trait: 'pale', seen: false },
      { kind: 'phenotype', animal: 'Fern', trait: 'pale', seen: false },
      { kind: 'phenotype', animal: 'y1', trait: 'pale', seen: true },
      { kind: 'phenotype', animal: 'Pine', trait: 'pale', seen: false },
      { kind: 'phenotype', animal: 'Ivy', trait: 'pale', seen: true },
    ],
  };
  const settings = { trait: 0, youngPerYear: 6, dnaError: null, parentageTest: false };

  it('clears a 2/3 suspect by a visual after 6 and 8 normal young', () => {
    // 1/(1 + 2^n / 2) <= 5 % and 1 %: n = 6 and 8, the arithmetic of the published test-mating rule (1/2)^n.
    const { program, animals } = readProgram(suspect);
    const steps = nextSteps(program, animals.indexOf('Pine'), 0, {
      ...settings,
      mates: [animals.indexOf('Ivy'), animals.indexOf('Fern'), animals.indexOf('Moss')],
    });
    expect(steps.map(({ kind, animal }) => [kind, animals[animal]])).toEqual([
      ['test mating', 'Ivy'],
      ['test mating', 'Fern'],
    ]);
    expect([steps[0].clears95, steps[0].clears99]).toEqual([6, 8]);
    // Fern is a proven het by her pale young: 13 and 19, as in the published table.
    expect([steps[1].clears95, steps[1].clears99]).toEqual([13, 19]);
  });

  it('proposes tests only where they exist', () => {
    const { program, animals } = readProgram(suspect);
    const at = animals.indexOf('Pine');
    const kinds = (dnaError: number | null) =>
      nextSteps(program, at, 0, { ...settings, mates: [], dnaError }).map(({ kind }) => kind);
    expect(kinds(null)).toEqual([]);
    expect(kinds(0.01)).toEqual(['dna test']);
  });
});
