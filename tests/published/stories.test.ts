import { describe, expect, it } from '@jest/globals';
import { candidateSires, type SireTimelineInput } from '@scutewright/housing';
import {
  clashingRecords,
  explainClash,
  genotypePosteriors,
  type ProgramInput,
  readProgram,
} from '@scutewright/inference';

// What a breeder lives through, and what must come out. Invented; the figures are worked out by hand beside each check.

type Evidence = NonNullable<ProgramInput['evidence']>[number];
type Clutch = NonNullable<ProgramInput['clutches']>[number];

const P = { id: 'p', alleles: ['n', 'a'], frequencies: { n: '4/5', a: '1/5' } };
const PALE = { id: 'pale', when: { locus: 'p', genotypes: ['a/a'] } };
const looks = (animal: string, trait: string, seen: boolean): Evidence => ({
  kind: 'phenotype',
  animal,
  trait,
  seen,
});

describe('dark-eyed pale x pink-eyed pale: nine normals, later one pale', () => {
  const S = { ...P, id: 's' };
  const young = Array.from({ length: 10 }, (_, i) => `y${i}`);
  const sires = (share: string): Clutch['sires'] => [{ id: 'Moss', probability: share }];
  const lines = (pale: number, clutch: Partial<Clutch>, more: Evidence[] = []): ProgramInput => ({
    loci: [P, S],
    traits: [
      { ...PALE, id: 'dark-eyed' },
      { id: 'pink-eyed', when: { locus: 's', genotypes: ['a/a'] } },
      { id: 'pale', when: { any: [PALE.when, { locus: 's', genotypes: ['a/a'] }] } },
    ],
    animals: [
      { id: 'Moss', sex: 'm' },
      { id: 'Fern', sex: 'f' },
      ...young.slice(0, 9 + pale).map((id) => ({ id, clutch: 'c' })),
    ],
    clutches: [{ id: 'c', dam: 'Fern', ...clutch }],
    allelism: [{ id: 'one gene', loci: ['p', 's'], probability: '1/2' }],
    evidence: [
      looks('Moss', 'dark-eyed', true),
      looks('Fern', 'pink-eyed', true),
      ...young.slice(0, 9 + pale).map((id, i) => looks(id, 'pale', i >= 9)),
      ...more,
    ],
  });

  it('the normals speak for two genes only as far as the sire is sure', () => {
    expect(genotypePosteriors(lines(0, { sire: 'Moss' })).oneGene['one gene']).toBe(0);
    const parentsOnly = lines(0, { sires: sires('1/2') });
    const before = genotypePosteriors({
      ...parentsOnly,
      evidence: parentsOnly.evidence?.slice(0, 2),
    }).oneGene['one gene'];
    const unsure = genotypePosteriors(lines(0, { sires: sires('1/2') })).oneGene['one gene'];
    const surer = genotypePosteriors(lines(0, { sires: sires('9/10') })).oneGene['one gene'];
    expect(unsure).toBeGreaterThan(surer);
    expect(surer).toBeGreaterThan(0);
    expect(unsure).toBeLessThan(before);
  });

  it('the pale one does not make the lines one gene: a parent carries the other gene unseen', () => {
    const { possible, oneGene, genotypes } = genotypePosteriors(lines(1, { sire: 'Moss' }));
    expect(possible).toBe(true);
    expect(oneGene['one gene']).toBe(0);
    expect(genotypes.Moss.s['n/a'] + genotypes.Fern.p['n/a']).toBeGreaterThan(0.999);
  });

  it('where neither parent can carry it: another sire, a mix-up or a misread', () => {
    const free = (animal: string, locus: string): Evidence => ({
      kind: 'prior',
      animal,
      locus,
      genotypes: locus === 'p' && animal === 'Moss' ? { 'a/a': 1 } : { 'n/n': 1 },
    });
    const { program } = readProgram({
      ...lines(1, { sire: 'Moss' }, [free('Moss', 's'), free('Fern', 'p')]),
      allelism: [],
    });
    const { sets } = clashingRecords(program);
    expect(sets.length).toBeGreaterThan(0);
    const pale = program.records.findIndex((r) => r.kind === 'phenotype' && r.animal === 11);
    expect(sets.every((set) => set.includes(pale))).toBe(true);
    const kinds = explainClash(program, sets[0]).map(({ kind }) => kind);
    expect(kinds).toEqual(expect.arrayContaining(['other sire', 'mixed up', 'misread']));
  });
});

describe('a bought female, penned only with a male proven clear: one pale of nine', () => {
  const young = Array.from({ length: 9 }, (_, i) => `y${i}`);
  const program = (clutch: Partial<Clutch>, count = 9): ProgramInput => ({
    loci: [P],
    traits: [PALE],
    animals: [
      { id: 'Moss', sex: 'm' },
      { id: 'Fern', sex: 'f', clutch: 'seller' },
      { id: 'Ridge', sex: 'm', clutch: 'seller' },
      ...young.slice(0, count).map((id) => ({ id, clutch: 'c' })),
    ],
    clutches: [{ id: 'seller' }, { id: 'c', dam: 'Fern', ...clutch }],
    evidence: [
      { kind: 'dna', animal: 'Moss', locus: 'p', genotype: 'n/n', error: 0 },
      looks('Fern', 'pale', false),
      ...young.slice(0, count).map((id, i) => looks(id, 'pale', i === 0)),
    ],
  });
  const mossOrNobody = [{ id: 'Moss', probability: '3/4' }];

  it('the dam carries, and our male is excluded for that one only', () => {
    const found = genotypePosteriors(program({ sires: mossOrNobody, paternity: 'independent' }));
    expect(found.genotypes.Fern.p).toEqual({ 'n/a': 1 });
    expect(found.sires.y0.Moss ?? 0).toBe(0);
    // Normal mates: by Moss always normal (3/4 x 1), by a base male in 9 of 10 (1/4 x (1 - 1/2 x 1/5)): 10/13.
    for (const mate of young.slice(1)) expect(found.sires[mate].Moss).toBeCloseTo(10 / 13, 12);
  });

  it('were all of one sire, he would be excluded for all; several sires keep him for the others', () => {
    const single = genotypePosteriors(program({ sires: mossOrNobody, paternity: 'single' }));
    for (const each of young) expect(single.sires[each].Moss ?? 0).toBe(0);
    const some = genotypePosteriors(
      program({ sires: mossOrNobody, paternity: { multiple: '1/3' } }),
    );
    expect(some.sires.y0.Moss ?? 0).toBe(0);
    for (const mate of young.slice(1)) expect(some.sires[mate].Moss).toBeGreaterThan(0.5);
  });

  it("the seller's male, a brother of hers, is more likely the sire than any stranger", () => {
    const sires = [...mossOrNobody, { id: 'Ridge', probability: '1/8' }];
    const found = genotypePosteriors(program({ sires, paternity: 'independent' }, 1));
    // A gene of a full sib of a carrier is hers by descent in 1/2, then the allele in 1/2; else a base one (1/5):
    // he hands it on in 7/20, a stranger in 1/5.
    expect(found.sires.y0.Ridge).toBeCloseTo(7 / 11, 12);
    expect(found.genotypes.Fern.p).toEqual({ 'n/a': 1 });
  });
});

describe("'male' M9, six years with females, lays eggs", () => {
  const timeline = (sex: 'm' | 'f', dam: string): SireTimelineInput => ({
    window_years: 4,
    dam,
    laid: '2026-05-10',
    animals: [
      { id: 'M7', sex: 'm', mature_from: '2010-01-01' },
      { id: 'M9', sex, mature_from: '2010-01-01' },
      { id: 'Fern', sex: 'f', mature_from: '2010-01-01' },
    ],
    stays: ['M7', 'M9', 'Fern'].map((animal) => ({
      animal,
      pen: 'North',
      from: '2020-04-01',
      to: null,
    })),
  });
  const program = (sex: 'm' | 'f', males: readonly string[]): ProgramInput => ({
    loci: [P],
    traits: [PALE],
    animals: [
      { id: 'M7', sex: 'm' },
      { id: 'M9', sex },
      { id: 'Fern', sex: 'f' },
      { id: 'young', clutch: 'c' },
    ],
    clutches: [
      {
        id: 'c',
        dam: 'Fern',
        sires: males.map((id) => ({ id, probability: `1/${males.length}` })),
      },
    ],
    evidence: [looks('young', 'pale', true), looks('M7', 'pale', false)],
  });

  it('she drops out as a possible father, and her pen-mate becomes a possible mate of hers', () => {
    expect(candidateSires(timeline('m', 'Fern')).possible).toEqual(['M7', 'M9']);
    expect(candidateSires(timeline('f', 'Fern')).possible).toEqual(['M7']);
    expect(candidateSires(timeline('f', 'M9')).possible).toEqual(['M7']);
  });

  it('the odds shift to the males that are left, and the old paternity is refused with her name', () => {
    const before = genotypePosteriors(program('m', ['M7', 'M9']));
    expect(before.genotypes.M7.p['n/a']).toBeLessThan(1);
    const after = genotypePosteriors(program('f', ['M7']));
    // The only sire of a pale young, himself normal: a carrier for certain.
    expect(after.genotypes.M7.p).toEqual({ 'n/a': 1 });
    expect(() => readProgram(program('f', ['M7', 'M9']))).toThrow(/'M9' is female/);
  });
});
