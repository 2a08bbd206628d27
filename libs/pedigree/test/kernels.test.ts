import { describe, expect, it } from '@jest/globals';
import {
  buildPedigree,
  inbreeding,
  pedigreeFromColumns,
  relatedness,
  relatednessBetween,
} from '@scutewright/pedigree';
import fc from 'fast-check';
import {
  enumerated,
  pedigrees,
  type TwinPedigree,
  tabular,
  tabularWithCandidates,
  toRows,
} from './twin.js';

/** Sums of at most a few hundred products of numbers below 2: rounding stays far below this. */
const TOLERANCE = 1e-12;

function kernelMatrix(twin: TwinPedigree): number[][] {
  const { rows, paternity } = toRows(twin);
  const pedigree = buildPedigree(rows, { paternity });
  const ids = Array.from({ length: twin.size }, (_, i) => `n${i}`);
  const A = relatedness(pedigree, ids);
  const F = inbreeding(pedigree);
  ids.forEach((id, i) => {
    expect(
      Math.abs(A[i * twin.size + i] - 1 - F[rows.findIndex((row) => row.id === id)]),
    ).toBeLessThan(TOLERANCE);
  });
  return ids.map((_, i) => [...A.slice(i * twin.size, (i + 1) * twin.size)]);
}

function largestDifference(a: number[][], b: number[][]): number {
  return Math.max(...a.flatMap((row, i) => row.map((each, j) => Math.abs(each - b[i][j]))));
}

describe('relatedness and inbreeding three ways', () => {
  it('between two groups it is that part of the whole, which is the same both ways round to the last digit', () => {
    fc.assert(
      fc.property(pedigrees(12, 3), fc.integer({ min: 1, max: 11 }), (twin, cut) => {
        const { rows, paternity } = toRows(twin);
        const pedigree = buildPedigree(rows, { paternity });
        const ids = Array.from({ length: twin.size }, (_, i) => `n${i}`);
        const split = Math.min(cut, twin.size - 1);
        const whole = relatedness(pedigree, ids);
        const part = relatednessBetween(pedigree, ids.slice(0, split), ids.slice(split));
        const width = twin.size - split;
        for (let i = 0; i < split; i++) {
          for (let j = 0; j < width; j++) {
            const a = whole[i * twin.size + split + j];
            expect(Math.abs(part[i * width + j] - a)).toBeLessThan(TOLERANCE);
            expect(whole[(split + j) * twin.size + i]).toBe(a);
          }
        }
      }),
    );
  });

  it('agree with the mean over every assignment of parents, and with the tabular method', () => {
    fc.assert(
      fc.property(pedigrees(6, 3), (twin) => {
        const definition = enumerated(twin);
        expect(largestDifference(tabularWithCandidates(twin), definition)).toBeLessThan(TOLERANCE);
        expect(largestDifference(kernelMatrix(twin), definition)).toBeLessThan(TOLERANCE);
      }),
      { numRuns: 200 },
    );
  });

  it('agree with that mean where animals may be of several clutches', () => {
    fc.assert(
      fc.property(pedigrees(8, 2, 2), (twin) => {
        expect(largestDifference(kernelMatrix(twin), enumerated(twin))).toBeLessThan(TOLERANCE);
      }),
      { numRuns: 200 },
    );
  });

  it('agree with the tabular method on larger pedigrees with many uncertain parents', () => {
    fc.assert(
      fc.property(pedigrees(25, 12), (twin) => {
        expect(largestDifference(kernelMatrix(twin), tabularWithCandidates(twin))).toBeLessThan(
          TOLERANCE,
        );
      }),
      { numRuns: 200 },
    );
  });
});

describe('pedigreeFromColumns', () => {
  it('gives the tabular values of a random pedigree in random row order', () => {
    fc.assert(
      fc.property(pedigrees(25, 0), (twin) => {
        const parents = Array.from({ length: twin.size }, (): [number, number] => [-1, -1]);
        for (const { young, sires, dams } of twin.clutches) {
          for (const i of young) parents[i] = [sires[0]?.[0] ?? -1, dams[0]?.[0] ?? -1];
        }
        const at = new Map(twin.order.map((animal, row) => [animal, row]));
        const column = (side: 0 | 1) =>
          Int32Array.from(twin.order, (animal) => at.get(parents[animal][side]) ?? -1);
        const F = inbreeding(pedigreeFromColumns({ sire: column(0), dam: column(1) }));
        const a = tabular(parents);
        twin.order.forEach((animal, row) => {
          expect(Math.abs(F[row] - (a[animal][animal] - 1))).toBeLessThan(TOLERANCE);
        });
      }),
      { numRuns: 150 },
    );
  });
});
