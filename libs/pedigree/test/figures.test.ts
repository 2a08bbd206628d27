import { describe, expect, it } from '@jest/globals';
import {
  ancestralInbreeding,
  buildPedigree,
  completeness,
  effectiveAncestors,
  generationInterval,
  heterozygosityKept,
  inbreedingRate,
  neFromFamilySize,
  neFromIndividualIncrease,
  neFromSexRatio,
  neOverGenerations,
  type PedigreeRow,
  pathAges,
  relatednessFactors,
  relatednessInverse,
  yearlyInbreedingRate,
} from '@scutewright/pedigree';
import fc from 'fast-check';
import { certainParents, pedigrees, toRows } from './twin.js';

describe('effective sizes', () => {
  it('give the textbook figures', () => {
    // 36.3 of 10 males and 100 females: Holsinger, lecture notes in population genetics.
    expect(neFromSexRatio(10, 100)).toBeCloseTo(36.3636, 4);
    // Panaxia dominula after Ford, course notes: 11,000, 2,000, 11,000, 16,000 moths are worth 5,374.
    expect(neOverGenerations([11000, 2000, 11000, 16000])).toBeCloseTo(5374.0458, 4);
    // An ideal population has Vk = 2 - 2/N and Ne = N (from the formula itself).
    expect(neFromFamilySize(20, 2 - 2 / 20)).toBeCloseTo(20, 12);
    expect(inbreedingRate(3)).toBeCloseTo(1 / 6, 15);
    expect(heterozygosityKept(3, 5)).toBeCloseTo((5 / 6) ** 5, 15);
    const { simple, compound } = yearlyInbreedingRate(0.25, 10);
    expect(simple).toBe(0.025);
    expect((1 - compound) ** 10).toBeCloseTo(0.75, 12);
  });

  it('refuse what has no answer', () => {
    expect(() => neFromSexRatio(0, 3)).toThrow(RangeError);
    expect(() => neOverGenerations([])).toThrow(RangeError);
    expect(() => neFromIndividualIncrease([0.25], [1], 't-1')).toThrow(RangeError);
    expect(neFromIndividualIncrease([0, 0], [1, 2], 't').ne).toBe(Number.POSITIVE_INFINITY);
  });
});

describe('generation interval', () => {
  it('is the mean of the four paths, not of the pairs', () => {
    const { interval, meanOfPairs } = generationInterval({
      sireToSon: [20],
      sireToDaughter: [10, 12],
      damToSon: [15],
      damToDaughter: [12],
    });
    expect(interval).toBe(14.5);
    expect(meanOfPairs).toBe(13.8);
  });

  it('takes young that became breeders, from the dates', () => {
    const pedigree = buildPedigree([
      { id: 's', sex: 'm', hatched: '1990-07-01' },
      { id: 'd', sex: 'f', hatched: '1995-07-01' },
      { id: 'b', sex: 'm', sire: 's', dam: 'd', hatched: '2010-07-01' },
      { id: 'z', sex: 'f', sire: 's', dam: 'd', hatched: '2012-07-01' },
      { id: 'x', sire: 'b', dam: 'z', hatched: '2024-07-01' },
    ]);
    const ages = pathAges(pedigree);
    expect(ages.sireToSon.map(Math.round)).toEqual([20]);
    expect(ages.damToDaughter.map(Math.round)).toEqual([17]);
    expect(Object.values(ages).flat().length).toBe(4);
  });
});

describe('factors, ancestors and completeness', () => {
  it('T D T is A, and the inverse is one', () => {
    fc.assert(
      fc.property(pedigrees(10, 0), (twin) => {
        const rows = toRows(twin).rows.map(({ clutch: _, ...row }) => row);
        const pedigree = buildPedigree(rows);
        const ids = rows.map((row) => row.id);
        const n = ids.length;
        const { T, D } = relatednessFactors(pedigree, ids);
        const inverse = relatednessInverse(pedigree, ids);
        for (let i = 0; i < n; i++) {
          for (let j = 0; j < n; j++) {
            let product = 0;
            for (let k = 0; k < n; k++) {
              for (let m = 0; m < n; m++)
                product += inverse[i * n + k] * T[k * n + m] * D[m] * T[j * n + m];
            }
            expect(product).toBeCloseTo(Number(i === j), 8);
          }
        }
      }),
      { numRuns: 40 },
    );
  });

  it('ancestors are taken by what each adds to the lines of descent that pass one of them', () => {
    fc.assert(
      fc.property(pedigrees(10, 0), (twin) => {
        const rows = toRows(twin).rows.map(({ clutch: _, ...row }) => row);
        const parents = certainParents(twin);
        const reference = [twin.size - 1, twin.size - 2];
        /** Probability that a gene's way up from an animal meets one of the chosen. */
        const meets = (animal: number, chosen: readonly number[]): number =>
          chosen.includes(animal)
            ? 1
            : parents[animal].reduce((sum, p) => sum + (p < 0 ? 0 : meets(p, chosen) / 2), 0);
        const explained = (chosen: readonly number[]): number =>
          reference.reduce((sum, animal) => sum + meets(animal, chosen) / reference.length, 0);
        const found = effectiveAncestors(
          buildPedigree(rows),
          reference.map((animal) => `n${animal}`),
        ).ancestors;
        const chosen: number[] = [];
        const mayCount = parents.map(
          ([s, d], i) => (s < 0 && d < 0) || parents.some((each) => each.includes(i)),
        );
        for (const { row, marginal } of found) {
          const before = explained(chosen);
          const gains = parents.map((_, i) =>
            mayCount[i] ? explained([...chosen, i]) - before : 0,
          );
          expect(marginal).toBeCloseTo(Math.max(...gains), 12);
          expect(gains[twin.order[row]]).toBeCloseTo(marginal, 12);
          chosen.push(twin.order[row]);
        }
        const rest = parents.map((_, i) => (mayCount[i] ? explained([...chosen, i]) : 0));
        expect(Math.max(...rest)).toBeCloseTo(explained(chosen), 10);
      }),
      { numRuns: 60 },
    );
  });

  it('ancestral F of full sibs by the recursion, on the F of the handbook', () => {
    // F of full-sib mating: Falconer & Mackay 1996, chapter 5 (from memory, and in the published cases).
    const F = [0, 0, 0.25, 0.375, 0.5, 0.59375];
    const rows: PedigreeRow[] = [{ id: 'm0' }, { id: 'f0' }];
    for (let g = 1; g <= 5; g++) {
      rows.push({ id: `m${g}`, sire: `m${g - 1}`, dam: `f${g - 1}` });
      rows.push({ id: `f${g}`, sire: `m${g - 1}`, dam: `f${g - 1}` });
    }
    const found = ancestralInbreeding(
      buildPedigree(rows),
      [1, 2, 3, 4, 5].map((g) => `m${g}`),
    );
    let expected = 0;
    for (let g = 1; g <= 5; g++) {
      expected += (1 - expected) * F[g - 1];
      expect(found[g - 1]).toBeCloseTo(expected, 14);
    }
  });

  it('completeness counts every place of the tree of ancestors', () => {
    fc.assert(
      fc.property(pedigrees(12, 0), (twin) => {
        const { rows } = toRows(twin);
        const parents = certainParents(twin);
        const filled = (animal: number, generation: number): number =>
          generation === 0
            ? 1
            : parents[animal].reduce(
                (sum, p) => sum + (p < 0 ? 0 : filled(p, generation - 1) / 2),
                0,
              );
        const last = twin.size - 1;
        const [found] = completeness(buildPedigree(rows), [`n${last}`], 4);
        found.knownByGeneration.forEach((each, g) => {
          expect(each).toBeCloseTo(filled(last, g + 1), 12);
        });
      }),
      { numRuns: 150 },
    );
  });
});
