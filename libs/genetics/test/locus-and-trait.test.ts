import { describe, expect, it } from '@jest/globals';
import { FaultsError } from '@scutewright/basics';
import {
  genotypeRange,
  pairPosition,
  parseGenotype,
  readLoci,
  readTraits,
  traitClass,
  transmissionTable,
  youngGenotypes,
} from '@scutewright/genetics';

function codesOf(act: () => unknown): string[] {
  try {
    act();
  } catch (error) {
    if (error instanceof FaultsError) return error.faults.map((fault) => fault.code);
    throw error;
  }
  return [];
}

describe('locus and genotype', () => {
  const loci = readLoci([
    { id: 'C', alleles: ['C', 'cch', 'ch', 'c'] },
    { id: 'w', alleles: ['+', 'w'], inheritance: 'X' },
    { id: 'B', alleles: ['B', 'b'], inheritance: 'z-linked' },
  ]);
  const C = loci.get('C')!;
  const w = loci.get('w')!;
  const B = loci.get('B')!;

  it('lists pairs in the order of the alleles, then single alleles where hemizygous', () => {
    expect(C.genotypes.map((g) => g.text)).toEqual([
      ...['C/C', 'C/cch', 'C/ch', 'C/c', 'cch/cch', 'cch/ch', 'cch/c', 'ch/ch', 'ch/c', 'c/c'],
    ]);
    expect(w.genotypes.map((g) => g.text)).toEqual(['+/+', '+/w', 'w/w', '+', 'w']);
    for (const [position, { alleles }] of C.genotypes.entries()) {
      expect(pairPosition(C, alleles[1]!, alleles[0])).toBe(position);
    }
  });

  it('knows which genotypes a sex can have', () => {
    expect(genotypeRange(w, 'm')).toEqual({ from: 3, to: 5 });
    expect(genotypeRange(w, 'f')).toEqual({ from: 0, to: 3 });
    expect(genotypeRange(B, 'm')).toEqual({ from: 0, to: 3 });
    expect(genotypeRange(B, 'f')).toEqual({ from: 3, to: 5 });
    expect(genotypeRange(C, null)).toEqual({ from: 0, to: 10 });
  });

  it('reads either order and refuses what the locus does not have', () => {
    expect(parseGenotype(C, 'c/C')).toBe(parseGenotype(C, 'C/c'));
    expect(parseGenotype(w, 'w')).toBe(4);
    expect(parseGenotype(C, 'C')).toBeNull();
    expect(parseGenotype(C, 'C/x')).toBeNull();
    expect(parseGenotype(C, 'C/C/C')).toBeNull();
  });

  it('hands on by Mendel: 1:2:1, and criss-cross on the X (Morgan 1910, Science 32:120-122, from memory)', () => {
    const het = parseGenotype(C, 'C/c')!;
    const young = youngGenotypes(C, het, het, 'm');
    const named = Object.fromEntries(young.map((y) => [C.genotypes[y.genotype].text, y.quarters]));
    expect(named).toEqual({ 'C/C': 1, 'C/c': 2, 'c/c': 1 });
    const red = parseGenotype(w, '+')!;
    const white = parseGenotype(w, 'w/w')!;
    expect(youngGenotypes(w, red, white, 'm')).toEqual([
      { genotype: parseGenotype(w, 'w'), quarters: 4 },
    ]);
    expect(youngGenotypes(w, red, white, 'f')).toEqual([
      { genotype: parseGenotype(w, '+/w'), quarters: 4 },
    ]);
  });

  it.each(['m', 'f', null] as const)(
    'every row of the transmission table sums to 1 (%s)',
    (sex) => {
      for (const locus of loci.values()) {
        const n = locus.genotypes.length;
        const table = transmissionTable(locus, sex);
        for (let sire = 0; sire < n; sire++) {
          for (let dam = 0; dam < n; dam++) {
            let sum = 0;
            for (let young = 0; young < n; young++) sum += table[(sire * n + dam) * n + young];
            const sires = genotypeRange(locus, 'm');
            const dams = genotypeRange(locus, 'f');
            const possible =
              sire >= sires.from && sire < sires.to && dam >= dams.from && dam < dams.to;
            expect(sum).toBe(possible ? 1 : 0);
          }
        }
      }
    },
  );

  it('reports every fault of the loci at once', () => {
    expect(
      codesOf(() =>
        readLoci([
          { id: 'A', alleles: ['A', 'a'], frequencies: { A: '1/2', x: '1/2' } },
          { id: 'A', alleles: ['A', 'A'] },
          { id: 'D', alleles: ['a/b'], inheritance: 'maternal' },
          { id: 'E', alleles: [] },
          { id: 'G', alleles: ['A', 'a'], frequencies: { A: '1.5', a: '-1/2' } },
        ]),
      ),
    ).toEqual([
      ...['BAD_FREQUENCY', 'BAD_FREQUENCY', 'DUPLICATE_LOCUS', 'BAD_ALLELE', 'BAD_ALLELE'],
      ...['UNKNOWN_INHERITANCE', 'BAD_ALLELE', 'BAD_FREQUENCY', 'BAD_FREQUENCY', 'BAD_FREQUENCY'],
    ]);
  });
});

describe('trait', () => {
  const loci = readLoci([
    { id: 'A', alleles: ['A', 'a'] },
    { id: 'B', alleles: ['B', 'b'] },
  ]);
  const aa = { locus: 'A', genotypes: ['a/a'] };
  const bb = { locus: 'B', genotypes: ['b/b'] };

  it('shows the first class whose rule holds', () => {
    const [trait] = readTraits(
      [
        {
          id: 'look',
          classes: [
            { name: 'both', when: { all: [aa, bb] } },
            { name: 'either', when: { any: [aa, bb] } },
          ],
          otherwise: 'normal',
        },
      ],
      loci,
    ).values();
    const seen = (A: number, B: number): string =>
      trait.classes[traitClass(trait, { genotypes: { A, B }, sex: null, ageDays: Infinity })];
    expect([seen(2, 2), seen(2, 1), seen(0, 2), seen(1, 1)]).toEqual([
      ...['both', 'either', 'either', 'normal'],
    ]);
  });

  it('can depend on sex and on age', () => {
    const [trait] = readTraits(
      [{ id: 'late male', when: { all: [aa, { sex: 'm' }, { fromDays: 90 }] } }],
      loci,
    ).values();
    const shown = (sex: 'm' | 'f', ageDays: number): boolean =>
      traitClass(trait, { genotypes: { A: 2 }, sex, ageDays }) === 0;
    expect([shown('m', 90), shown('m', 89), shown('f', 90)]).toEqual([true, false, false]);
    expect(trait.bySex).toBe(true);
    expect(trait.ages).toEqual([90]);
  });

  it('reports every fault of the rules at once', () => {
    expect(
      codesOf(() =>
        readTraits(
          [
            { id: 'x', when: { locus: 'A', genotypes: ['a/a', 'a/z'] } },
            { id: 'x', when: { locus: 'Q', genotypes: ['q/q'] } },
            { id: 'none' },
          ],
          loci,
        ),
      ),
    ).toEqual(['UNKNOWN_GENOTYPE', 'DUPLICATE_TRAIT', 'UNKNOWN_LOCUS', 'NO_CLASSES']);
  });

  it('finds a class that no genotype shows, one taken by earlier rules, and genotypes left over', () => {
    const clash = { all: [aa, { not: aa }] };
    expect(codesOf(() => readTraits([{ id: 't', when: clash }], loci))).toEqual(['RULE_NEVER_MET']);
    expect(
      codesOf(() =>
        readTraits(
          [
            {
              id: 't',
              classes: [
                { name: 'pale', when: { any: [aa, bb] } },
                { name: 'double', when: { all: [aa, bb] } },
              ],
            },
          ],
          loci,
        ),
      ),
    ).toEqual(['RULE_NEVER_MET', 'UNCOVERED']);
  });
});
