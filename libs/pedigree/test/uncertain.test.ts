import { describe, expect, it } from '@jest/globals';
import { seededRandom } from '@scutewright/basics';
import {
  buildPedigree,
  closeYard,
  commonAncestors,
  declareFounderKin,
  inbreeding,
  inbreedingOfYoung,
  inbreedingRange,
  meanKinship,
  relatedness,
  relatednessRange,
  whatIf,
} from '@scutewright/pedigree';
import fc from 'fast-check';
import { eachAssignment, pedigrees, toRows } from './twin.js';

describe('ranges over the possible parents', () => {
  it('are the distribution over every assignment', () => {
    fc.assert(
      fc.property(pedigrees(7, 2, 1), (twin) => {
        const { rows, paternity } = toRows(twin);
        const pedigree = buildPedigree(rows, { paternity });
        const i = twin.size - 1;
        const j = twin.size - 2;
        const related: [number, number][] = [];
        const own: [number, number][] = [];
        eachAssignment(twin, (a, p) => {
          related.push([a[i][j], p]);
          own.push([a[i][i] - 1, p]);
        });
        const options = { mostAssignments: 100_000 };
        compare(relatednessRange(pedigree, `n${i}`, `n${j}`, options), related);
        compare(inbreedingRange(pedigree, `n${i}`, options), own);
      }),
      { numRuns: 60 },
    );
  });

  function compare(range: ReturnType<typeof inbreedingRange>, expected: [number, number][]): void {
    expect(range.exact).toBe(true);
    for (const threshold of expected.map(([value]) => value)) {
      const below = (list: readonly (readonly [number, number])[]): number =>
        list.reduce((sum, [value, p]) => sum + (value < threshold + 1e-9 ? p : 0), 0);
      const found = range.outcomes.map(({ value, probability }) => [value, probability] as const);
      expect(below(found)).toBeCloseTo(below(expected), 10);
    }
    const possible = expected.filter(([, p]) => p > 0).map(([value]) => value);
    expect(range.lowest).toBeCloseTo(Math.min(...possible), 10);
    expect(range.highest).toBeCloseTo(Math.max(...possible), 10);
  }

  const yard = buildPedigree([
    { id: 'k1' },
    { id: 'k2' },
    { id: 'd' },
    { id: 'son', sire: 'k1', dam: 'd' },
    ...Array.from({ length: 12 }, (_, c) => ({
      id: `o${c}`,
      clutch: `c${c}`,
      dam: 'd',
      sire: [
        { id: 'k1', probability: 0.5 },
        { id: 'k2', probability: 0.25 },
      ],
    })),
    { id: 'x', sire: 'o0', dam: 'o1' },
    { id: 'y', sire: 'o2', dam: 'o3' },
  ]);

  it('sample by a seed beyond the limit, with an error that holds the exact mean', () => {
    const exact = relatednessRange(yard, 'x', 'y');
    expect(exact.exact).toBe(true);
    expect(exact.mean).toBeCloseTo(relatedness(yard, ['x', 'y'])[1], 12);
    expect(() => relatednessRange(yard, 'x', 'y', { mostAssignments: 10 })).toThrow(RangeError);
    const sample = (seed: number) =>
      relatednessRange(yard, 'x', 'y', {
        mostAssignments: 10,
        random: seededRandom(seed),
        samples: 500,
      });
    expect(sample(3)).toEqual(sample(3));
    expect(sample(3).exact).toBe(false);
    expect(Math.abs(sample(3).mean - exact.mean)).toBeLessThan(5 * sample(3).standardError);
  });

  it.each([30, 300])(
    'counts the same behind few ancestors and behind many: %i generations',
    (n) => {
      // A line of sires, a new dam in each generation; the last but one or the last is the sire of x.
      const line = Array.from({ length: n }, (_, g) => [
        { id: `d${g}` },
        { id: `s${g}`, sire: g > 0 ? `s${g - 1}` : undefined, dam: `d${g}` },
      ]).flat();
      const [last, before] = [`s${n - 1}`, `s${n - 2}`];
      const sire = [
        { id: last, probability: 0.75 },
        { id: before, probability: 0.25 },
      ];
      const range = relatednessRange(
        buildPedigree([...line, { id: 'x', clutch: 'c', sire }]),
        'x',
        last,
      );
      // Wright 1922: parent and young 1/2; a half brother or sister through the sire's own sire 1/4.
      expect(range.outcomes).toEqual([
        { value: 0.25, probability: 0.25 },
        { value: 0.5, probability: 0.75 },
      ]);
    },
  );

  it('counts founders as kin by declaration, whichever stands first', () => {
    // P of A and C, Q of B and E; the sire of P may be A or somebody else's. A and B are declared full sibs.
    const rows = [
      { id: 'A' },
      { id: 'C' },
      { id: 'Z' },
      {
        id: 'P',
        clutch: 'p',
        sire: [
          { id: 'A', probability: 0.75 },
          { id: 'Z', probability: 0.25 },
        ],
        dam: 'C',
      },
      { id: 'B' },
      { id: 'E' },
      { id: 'Q', sire: 'B', dam: 'E' },
    ];
    for (const order of [rows, rows.toReversed()]) {
      const kin = declareFounderKin(buildPedigree(order), [{ a: 'A', b: 'B', relatedness: 0.5 }]);
      // Wright 1922: the young of two full sibs are first cousins, 1/8.
      expect(relatednessRange(kin, 'P', 'Q').outcomes).toEqual([
        { value: 0, probability: 0.25 },
        { value: 0.125, probability: 0.75 },
      ]);
    }
  });

  it('a closed yard shows the closest possible male as the worst case', () => {
    const open = inbreedingRange(yard, 'o0');
    expect(open.highest).toBe(0);
    const closed = closeYard(yard, [{ young: 'o0', males: ['k1', 'son'] }]);
    const range = inbreedingRange(closed, 'o0');
    expect(range.highest).toBe(0.25); // the dam's own son
    expect(range.mean).toBeCloseTo(0.125 * 0.25, 12);
    expect(() => closeYard(yard, [{ young: 'x', males: ['k1'] }])).toThrow('recorded');
  });
});

describe('what if', () => {
  it('a candidate made certain gives what certain rows give', () => {
    fc.assert(
      fc.property(pedigrees(8, 2), (twin) => {
        const { rows } = toRows(twin);
        const uncertain = rows.find((row) => Array.isArray(row.sire) && row.sire.length > 0);
        if (!uncertain || !Array.isArray(uncertain.sire)) return;
        const sire: string = uncertain.sire[0].id;
        const certain = rows.map((row) =>
          row.clutch === uncertain.clutch ? { ...row, sire } : row,
        );
        const supposed = whatIf(buildPedigree(rows), {
          parents: [{ id: uncertain.id, sire }],
        });
        const expected = inbreeding(buildPedigree(certain));
        inbreeding(supposed).forEach((each, i) => {
          expect(each).toBeCloseTo(expected[i], 12);
        });
      }),
      { numRuns: 100 },
    );
  });

  it('refuses probabilities over 1', () => {
    const pedigree = buildPedigree([{ id: 'a' }, { id: 'b' }, { id: 'c', sire: 'b' }]);
    const sire = ['a', 'b'].map((id) => ({ id, probability: 0.6 }));
    expect(() => whatIf(pedigree, { parents: [{ id: 'c', sire }] })).toThrow('sum to 1.2');
  });

  it('refuses to make an animal its own ancestor', () => {
    const pedigree = buildPedigree([{ id: 'a' }, { id: 'b', sire: 'a' }, { id: 'c', sire: 'b' }]);
    expect(() => whatIf(pedigree, { parents: [{ id: 'a', sire: 'c' }] })).toThrow('own ancestor');
  });
});

describe('declared founder kin', () => {
  it.each([
    ['full sibs', 0.5],
    ['half sibs', 0.25],
  ])('%s give what common parents of theirs give', (kind, share) => {
    fc.assert(
      fc.property(pedigrees(10, 2), (twin) => {
        const { rows, paternity } = toRows(twin);
        // Males 0 and 2 of the first two clutches, and female 1, made sibs of each other.
        const trio = ['n0', 'n1', 'n2'];
        const strip = rows.map((row) => (trio.includes(row.id) ? { id: row.id } : row));
        const pedigree = declareFounderKin(buildPedigree(strip, { paternity }), [
          { a: 'n0', b: 'n1', relatedness: share },
          { a: 'n0', b: 'n2', relatedness: share },
          { a: 'n1', b: 'n2', relatedness: share },
        ]);
        const parents = kind === 'full sibs' ? { sire: 'P', dam: 'Q' } : { sire: 'P' };
        const explicit = buildPedigree(
          [
            ...strip.map((row) => (trio.includes(row.id) ? { ...row, ...parents } : row)),
            { id: 'P' },
            { id: 'Q' },
          ],
          { paternity },
        );
        const ids = rows.map((row) => row.id);
        const expected = relatedness(explicit, ids);
        relatedness(pedigree, ids).forEach((each, e) => {
          expect(each).toBeCloseTo(expected[e], 12);
        });
      }),
      { numRuns: 60 },
    );
  });

  it('reports kinships that cannot all be true, and animals with parents', () => {
    const pedigree = buildPedigree([
      { id: 'a' },
      { id: 'b' },
      { id: 'c' },
      { id: 'y', sire: 'a', dam: 'b' },
    ]);
    const kin = (list: [string, string, number][]) => () =>
      declareFounderKin(
        pedigree,
        list.map(([a, b, relatedness]) => ({ a, b, relatedness })),
      );
    expect(
      kin([
        ['a', 'b', 0.9],
        ['b', 'c', 0.9],
        ['a', 'c', 0],
      ]),
    ).toThrow('cannot all be true');
    expect(kin([['a', 'y', 0.5]])).toThrow("'y' has a recorded parent");
    expect(kin([['a', 'b', 1.5]])).toThrow('1.5');
  });
});

describe('paths and mean kinship', () => {
  it('paths sum to F of a young of the two', () => {
    fc.assert(
      fc.property(pedigrees(12, 4, 3), (twin) => {
        const { rows, paternity } = toRows(twin);
        const pedigree = buildPedigree(rows, { paternity });
        const [a, b] = [`n${twin.size - 1}`, `n${twin.size - 2}`];
        const all = commonAncestors(pedigree, a, b, 1_000_000);
        const sum = all.paths.reduce((total, path) => total + path.contribution, 0);
        expect(sum).toBeCloseTo(relatedness(pedigree, [a, b])[1] / 2, 12);
        expect(all.remainder).toBe(0);
        expect(inbreedingOfYoung(pedigree, a, b)).toBeCloseTo(all.total, 14);
        const few = commonAncestors(pedigree, a, b, 2);
        const listed = few.paths.reduce((total, path) => total + path.contribution, 0);
        expect(listed + few.remainder).toBeCloseTo(few.total, 12);
      }),
      { numRuns: 150 },
    );
  });

  it('twenty generations of full sibs: a million paths are bounded, the rest is stated', () => {
    const rows = [{ id: 'm0' }, { id: 'f0' }];
    for (let g = 1; g <= 20; g++) {
      for (const sex of ['m', 'f']) {
        rows.push({ id: `${sex}${g}`, sire: `m${g - 1}`, dam: `f${g - 1}` } as { id: string });
      }
    }
    const found = commonAncestors(buildPedigree(rows), 'm20', 'f20', 500);
    expect(found.paths.length).toBe(500);
    expect(found.remainder).toBeGreaterThan(0);
    const listed = found.paths.reduce((sum, path) => sum + path.contribution, 0);
    expect(listed + found.remainder).toBeCloseTo(found.total, 12);
  });

  it('mean kinship is the mean of the matrix', () => {
    fc.assert(
      fc.property(pedigrees(12, 4, 3), (twin) => {
        const { rows, paternity } = toRows(twin);
        const pedigree = buildPedigree(rows, { paternity });
        const ids = rows.map((row) => row.id);
        const group = ids.filter((_, i) => i % 3 !== 1);
        const A = relatedness(pedigree, ids);
        meanKinship(pedigree, group, ids).forEach((found, i) => {
          const row = group.map((id) => A[i * ids.length + ids.indexOf(id)] / 2);
          expect(found).toBeCloseTo(row.reduce((sum, each) => sum + each, 0) / row.length, 12);
        });
      }),
      { numRuns: 150 },
    );
  });
});
