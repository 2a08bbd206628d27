import { describe, expect, it } from '@jest/globals';
import { FaultsError } from '@scutewright/basics';
import {
  buildPedigree,
  inbreeding,
  MIXED,
  type PedigreeOptions,
  type PedigreeRow,
  pedigreeFromColumns,
  positionOf,
  relatedness,
  TWO_SIRES,
} from '@scutewright/pedigree';
import fc from 'fast-check';

function codes(rows: readonly PedigreeRow[], options?: PedigreeOptions): string[] {
  try {
    buildPedigree(rows, options);
  } catch (error) {
    if (error instanceof FaultsError) return error.faults.map((fault) => fault.code);
    throw error;
  }
  return [];
}

describe('buildPedigree', () => {
  it('reports all faults at once, each naming the animals and the remedy', () => {
    const rows: PedigreeRow[] = [
      { id: 'Fern', sex: 'f', hatched: '2010' },
      { id: 'Moss', sex: 'm', hatched: '2009-05' },
      { id: 'Moss' },
      { id: 'Ivy', sire: 'Mos', dam: 'Fern' },
      { id: 'Oak', sire: 'Oak' },
      { id: 'Ash', sire: 'Fern', dam: 'Moss' },
      { id: 'Elm', sire: 'Moss', hatched: '2008' },
      { id: 'Yew', sire: 'Bay' },
      { id: 'Bay', sire: 'Yew' },
      { id: 'h1', clutch: 'c1', sire: 'Moss' },
      { id: 'h2', clutch: 'c1', dam: 'Fern' },
      { id: 'h3', sire: [{ id: 'Moss', probability: 1.01 }] },
      { id: 'h4', hatched: 'spring' },
    ];
    let caught: unknown;
    try {
      buildPedigree(rows);
    } catch (error) {
      caught = error;
    }
    expect(caught).toBeInstanceOf(FaultsError);
    const { faults } = caught as FaultsError;
    const found = faults.map(({ code, ids }) => `${code} ${[...ids].sort().join(' ')}`).sort();
    expect(found).toEqual([
      'BAD_FIELD h4',
      'BAD_PROBABILITY h3',
      'CLUTCH_PARENTS_DIFFER h1 h2',
      'CYCLE Bay Yew',
      'DUPLICATE_ID Moss',
      'OLDER_THAN_PARENT Elm Moss',
      'OWN_PARENT Oak',
      'UNKNOWN_PARENT Ivy Mos',
      'WRONG_SEX Ash Fern',
      'WRONG_SEX Ash Moss',
    ]);
    expect(faults.every((fault) => fault.remedy.length > 10)).toBe(true);
    expect(faults.find((fault) => fault.code === 'UNKNOWN_PARENT')?.remedy).toContain("'Moss'");
  });

  it.each<[string, PedigreeRow[], string[]]>([
    [
      'candidates of 1 + 1e-12',
      [
        { id: 'a' },
        { id: 'b' },
        {
          id: 'y',
          sire: [
            { id: 'a', probability: 0.5 },
            { id: 'b', probability: 0.5 + 1e-12 },
          ],
        },
      ],
      [],
    ],
    [
      'candidates of 1.01',
      [
        { id: 'a' },
        { id: 'b' },
        {
          id: 'y',
          sire: [
            { id: 'a', probability: 0.5 },
            { id: 'b', probability: 0.51 },
          ],
        },
      ],
      ['BAD_PROBABILITY'],
    ],
    [
      'a negative probability',
      [{ id: 'a' }, { id: 'y', sire: [{ id: 'a', probability: -0.1 }] }],
      ['BAD_PROBABILITY'],
    ],
    [
      'not a number',
      [{ id: 'a' }, { id: 'y', sire: [{ id: 'a', probability: Number.NaN }] }],
      ['BAD_PROBABILITY'],
    ],
    [
      'a candidate named twice',
      [
        { id: 'a' },
        {
          id: 'y',
          sire: [
            { id: 'a', probability: 0.3 },
            { id: 'a', probability: 0.3 },
          ],
        },
      ],
      ['BAD_PROBABILITY'],
    ],
    [
      'a candidate that is a descendant',
      [
        { id: 'a', sire: [{ id: 'y', probability: 0.1 }] },
        { id: 'y', sire: 'a' },
      ],
      ['CYCLE'],
    ],
    [
      'a clutch mate as candidate',
      [
        { id: 'a', clutch: 'c', sire: [{ id: 'b', probability: 0.5 }] },
        { id: 'b', clutch: 'c', sire: [{ id: 'b', probability: 0.5 }] },
      ],
      ['OWN_PARENT'],
    ],
    [
      'a sire that is also a dam',
      [{ id: 'a' }, { id: 'y', sire: 'a' }, { id: 'z', dam: 'a' }],
      ['SIRE_AND_DAM'],
    ],
    [
      'a female candidate sire',
      [
        { id: 'a', sex: 'f' },
        { id: 'y', sire: [{ id: 'a', probability: 0.5 }] },
      ],
      ['WRONG_SEX'],
    ],
    ['no id', [{ id: '' }], ['BAD_FIELD']],
    ['no rows', [], []],
    [
      'the same year as a parent written as a year',
      [
        { id: 'a', hatched: '2010' },
        { id: 'y', sire: 'a', hatched: '2010' },
      ],
      [],
    ],
  ])('%s', (_, rows, expected) => {
    expect(codes(rows)).toEqual(expected);
  });

  it('refuses rates outside 0 to 1 and unknown paternities', () => {
    expect(codes([], { paternity: MIXED(1.2) })).toEqual(['BAD_PATERNITY']);
    expect(codes([], { paternity: { c1: TWO_SIRES(Number.NaN) } })).toEqual(['BAD_PATERNITY']);
    expect(codes([], { paternity: { kind: 'SOME' } as never })).toEqual(['BAD_PATERNITY']);
  });

  it('never fails but with faults, whatever the rows are', () => {
    const word = fc.constantFrom('a', 'b', 'c', 'd', '', '__proto__', 'constructor');
    const parent = fc.oneof(
      word,
      fc.constant(null),
      fc.constant(7),
      fc.array(
        fc.record({
          id: word,
          probability: fc.constantFrom(0, 0.5, 0.5, 1, -1, Number.NaN, '0.5'),
        }),
        { maxLength: 3 },
      ),
    );
    const row = fc.record(
      {
        id: word,
        sire: parent,
        dam: parent,
        sex: fc.constantFrom('m', 'f', 'x', null, 'toString'),
        hatched: fc.constantFrom('2010', '2010-13', '', null, 5),
        clutch: fc.constantFrom('c1', 'c2', null, '__proto__'),
      },
      { requiredKeys: ['id'] },
    );
    fc.assert(
      fc.property(fc.array(row, { maxLength: 6 }), (rows) => {
        const input = rows as unknown as PedigreeRow[];
        if (codes(input).length > 0) return;
        for (const F of inbreeding(buildPedigree(input))) expect(F >= 0 && F <= 1).toBe(true);
      }),
      { numRuns: 1000 },
    );
  });

  it('names near ids for an unknown one', () => {
    const pedigree = buildPedigree([{ id: 'K-41' }]);
    expect(() => relatedness(pedigree, ['K-14'])).toThrow("did you mean 'K-41'");
    expect(() => positionOf(pedigree, 3)).toThrow('no row 3');
  });
});

describe('pedigreeFromColumns', () => {
  const columns = (sire: number[], dam: number[]) => ({
    sire: Int32Array.from(sire),
    dam: Int32Array.from(dam),
  });

  it.each([
    ['CYCLE', columns([1, 0], [-1, -1])],
    ['CYCLE', columns([0], [-1])],
    ['UNKNOWN_PARENT', columns([2, -1], [-1, -1])],
    ['UNKNOWN_PARENT', columns([-2, -1], [-1, -1])],
    ['SIRE_AND_DAM', columns([-1, 0], [-1, 0])],
    ['COLUMNS_DIFFER', columns([-1, 0], [-1])],
  ])('%s', (code, given) => {
    expect(() => pedigreeFromColumns(given)).toThrow(FaultsError);
    try {
      pedigreeFromColumns(given);
    } catch (error) {
      expect((error as FaultsError).faults.map((fault) => fault.code)).toEqual([code]);
    }
  });

  it('takes columns on shared memory', () => {
    const shared = (values: number[]) => {
      const column = new Int32Array(new SharedArrayBuffer(4 * values.length));
      column.set(values);
      return column;
    };
    const pedigree = pedigreeFromColumns({
      sire: shared([-1, -1, 0, 0, 2]),
      dam: shared([-1, -1, 1, 1, 3]),
    });
    expect([...inbreeding(pedigree)]).toEqual([0, 0, 0, 0, 0.25]);
    expect([...inbreeding(structuredClone(pedigree))]).toEqual([0, 0, 0, 0, 0.25]);
  });

  it('a line of a million generations overflows nothing, rows youngest first', () => {
    const n = 1_000_000;
    const sire = Int32Array.from({ length: n }, (_, i) => (i + 1 < n ? i + 1 : -1));
    const pedigree = pedigreeFromColumns({ sire, dam: new Int32Array(n).fill(-1) });
    expect(inbreeding(pedigree).every((each) => each === 0)).toBe(true);
    expect(relatedness(pedigree, [0, 10])[1]).toBe(2 ** -10);
  });

  it('a line with a new dam in each of 50,000 generations takes no quadratic time', () => {
    const n = 50_000;
    // Every other row is such a dam, without parents of her own.
    const sire = new Int32Array(2 * n).fill(-1);
    const dam = new Int32Array(2 * n).fill(-1);
    for (let i = 0; i + 1 < n; i++) {
      sire[2 * i] = 2 * (i + 1);
      dam[2 * i] = 2 * i + 1;
    }
    const F = inbreeding(pedigreeFromColumns({ sire, dam }));
    expect(F.every((each) => each === 0)).toBe(true);
  });
});
