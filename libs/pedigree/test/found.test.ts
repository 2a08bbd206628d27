import { describe, expect, it } from '@jest/globals';
import { seededRandom } from '@scutewright/basics';
import {
  ancestralInbreeding,
  buildPedigree,
  closeYard,
  commonAncestors,
  completeness,
  droppedAncestralInbreeding,
  effectiveAncestors,
  founderContributions,
  founderRetention,
  idOf,
  inbreeding,
  type Pedigree,
  type PedigreeRow,
  partialInbreeding,
  pedigreeLayout,
  relatedness,
  relatednessRange,
  sexLinkedKinship,
  whatIf,
} from '@scutewright/pedigree';
import fc from 'fast-check';
import { pedigrees, type TwinPedigree, toRows } from './twin.js';

/** One animal that may be of several clutches, with others before and after it. */
const oneFound = pedigrees(9, 2, 1).filter(({ finds }) => finds.length === 1);

/** The pedigree with the found animal, and one for each clutch that it may be of, with that chance. */
function worlds(twin: TwinPedigree): { found: Pedigree; each: [Pedigree, number][]; id: string } {
  const { rows: plain, paternity } = toRows(twin);
  const id = `n${twin.finds[0].animal}`;
  const possible = plain.find((row) => row.id === id)?.possibleClutches ?? [];
  const rows = plain.map(({ clutch, ...row }): PedigreeRow => {
    // Animals of no recorded parents stand as founders, but for the mates that the found one may have.
    const isFounder = !row.sire && !row.dam && possible.every((each) => each.clutch !== clutch);
    const sex = Number(row.id.slice(1)) % 2 === 0 ? 'm' : 'f';
    return { ...row, sex, clutch: isFounder ? null : clutch };
  });
  const as = (row: PedigreeRow) =>
    buildPedigree(
      rows.map((each) => (each.id === id ? { ...row, sex: each.sex } : each)),
      { paternity },
    );
  const each = possible.map(({ probability, ...clutch }): [Pedigree, number] => [
    as({ id, ...clutch }),
    probability,
  ]);
  const rest = 1 - each.reduce((sum, [, p]) => sum + p, 0);
  if (rest > 1e-12) each.push([as({ id }), rest]);
  return { found: buildPedigree(rows, { paternity }), each, id };
}

describe('an animal that may be of several clutches', () => {
  it('has the mean figures of the clutches that it may be of', () => {
    fc.assert(
      fc.property(oneFound, (twin) => {
        const { found, each, id } = worlds(twin);
        const group = [id, `n${twin.size - 1}`, `n${twin.size - 2}`];
        const founders = Array.from({ length: found.animals }, (_, row) => row).filter(
          (row) => found.sire[row] === -1 && found.dam[row] === -1,
        );
        const isSame = (figures: (pedigree: Pedigree) => ArrayLike<number>): void => {
          const mean = new Float64Array(figures(found).length);
          for (const [pedigree, p] of each) {
            Array.from(figures(pedigree)).forEach((figure, k) => {
              mean[k] += p * figure;
            });
          }
          Array.from(figures(found)).forEach((figure, k) => {
            expect(figure).toBeCloseTo(mean[k], 12);
          });
        };
        isSame(inbreeding);
        for (const row of founders.slice(0, 2)) {
          isSame((pedigree) => partialInbreeding(pedigree, row));
        }
        isSame((pedigree) => sexLinkedKinship(pedigree, group, 'm'));
        isSame((pedigree) => sexLinkedKinship(pedigree, group, 'f'));
        isSame((pedigree) => ancestralInbreeding(pedigree, [id]));
        isSame((pedigree) =>
          completeness(pedigree, group).flatMap(({ knownByGeneration, equivalentGenerations }) => [
            ...knownByGeneration,
            equivalentGenerations,
          ]),
        );
        isSame((pedigree) => [...completeness(pedigree, [id])[0].index]);
        const shares = (list: readonly { row: number; share: number }[]): number[] =>
          founders.map((row) => list.find((one) => one.row === row)?.share ?? 0);
        isSame((pedigree) => shares(founderContributions(pedigree, group).founders));
        isSame((pedigree) =>
          shares(
            founderRetention(pedigree, group).founders.map(({ row, retention }) => ({
              row,
              share: retention,
            })),
          ),
        );
        const { ancestors } = effectiveAncestors(found, group);
        expect(ancestors.every(({ row }) => row < found.animals)).toBe(true);
      }),
      { numRuns: 120 },
    );
  });

  // An invented yard: the boxes of two clutches of one male were dropped together.
  const yard: PedigreeRow[] = [
    { id: 'Basil' },
    { id: 'Olive' },
    { id: 'Sage' },
    { id: 'son', sire: 'Basil', dam: 'Olive', clutch: 'C1' },
    { id: 'daughter', sire: 'Basil', dam: 'Sage', clutch: 'C2' },
    {
      id: 'found',
      possibleClutches: [
        { clutch: 'C1', sire: 'Basil', dam: 'Olive', probability: 0.6 },
        { clutch: 'C2', sire: 'Basil', dam: 'Sage', probability: 0.4 },
      ],
    },
  ];

  it('takes dam and sire together, and shows the whole range', () => {
    const pedigree = buildPedigree(yard);
    // Full sib of the one or half sib: 0.6 x 1/2 + 0.4 x 1/4 and the other way round.
    const A = relatedness(pedigree, ['found', 'son', 'daughter', 'Olive', 'Basil']);
    [1, 0.4, 0.35, 0.3, 0.5].forEach((expected, k) => {
      expect(A[k]).toBeCloseTo(expected, 12);
    });
    const range = relatednessRange(pedigree, 'found', 'son');
    expect(range).toMatchObject({ lowest: 0.25, highest: 0.5, exact: true });
    expect(range.outcomes.map(({ probability }) => probability)).toEqual([0.4, 0.6]);
    const { paths, remainder } = commonAncestors(pedigree, 'found', 'son');
    expect(remainder).toBe(0);
    expect(paths.map(({ through }) => through)).toEqual([
      [5, 0, 3], // by Basil, of whichever clutch it is
      [5, 1, 3], // by Olive
    ]);
    expect(inbreeding(pedigree).length).toBe(6);
    expect(() => relatedness(pedigree, [6])).toThrow('rows are 0 to 5');
  });

  it('shares the unknown sire of a clutch with its mates', () => {
    // One sire nobody recorded for all young of C3: full sibs as far as the found one is of it.
    const pedigree = buildPedigree([
      ...yard,
      { id: 'mate', dam: 'Olive', clutch: 'C3' },
      {
        id: 'lost',
        possibleClutches: [
          { clutch: 'C3', dam: 'Olive', probability: 0.5 },
          { clutch: 'C2', sire: 'Basil', dam: 'Sage', probability: 0.25 },
        ],
      },
    ]);
    expect(relatedness(pedigree, ['lost', 'mate'])[1]).toBeCloseTo(0.5 * 0.5, 12);
    expect(relatednessRange(pedigree, 'lost', 'mate')).toMatchObject({ lowest: 0, highest: 0.5 });
  });

  it('counts a clutch without recorded parents as unrecorded, not as a founder', () => {
    const [c1] = yard[5].possibleClutches ?? [];
    const pedigree = buildPedigree([
      ...yard.slice(0, -1),
      {
        id: 'found',
        possibleClutches: [
          { clutch: 'C8', probability: 0.5 },
          { ...c1, probability: 0.5 },
        ],
      },
    ]);
    const rows = [0, 1]; // Basil, Olive
    const { founders, unrecorded } = founderContributions(pedigree, ['found']);
    expect(founders).toEqual(rows.map((row) => ({ row, share: 0.25 })));
    expect(unrecorded).toBe(0.5);
    const retention = founderRetention(pedigree, ['found']);
    expect(retention.founders).toEqual(rows.map((row) => ({ row, retention: 0.25 })));
  });

  it('counts as before once the clutch is supposed', () => {
    const supposed = whatIf(buildPedigree(yard), {
      parents: [{ id: 'found', sire: 'Basil', dam: 'Sage' }],
    });
    expect(relatedness(supposed, ['found', 'daughter'])[1]).toBe(0.5);
    expect(() => closeYard(buildPedigree(yard), [{ young: 'found', males: ['Basil'] }])).toThrow(
      'several clutches',
    );
  });

  it('is drawn under every possible parent with its chance, and with others of the same clutches', () => {
    const sire = [
      { id: 'Basil', probability: 0.7 },
      { id: 'Dill', probability: 0.3 },
    ];
    const possibleClutches = [
      { clutch: 'C7', sire, dam: 'Olive', probability: 0.6 },
      { clutch: 'C2', sire: 'Basil', dam: 'Sage', probability: 0.4 },
    ];
    const pedigree = buildPedigree([
      ...yard.slice(0, -1),
      { id: 'Dill' },
      { id: 'one', possibleClutches },
      { id: 'other', possibleClutches },
    ]);
    const ids = ['Basil', 'Olive', 'Sage', 'Dill', 'one', 'other'];
    const { pairs } = pedigreeLayout(pedigree, ids);
    expect(pairs).toHaveLength(1);
    expect(pairs[0].young).toHaveLength(2);
    for (const [id, chance] of [
      ['Basil', 0.6 * 0.7 + 0.4],
      ['Dill', 0.6 * 0.3],
      ['Olive', 0.6],
      ['Sage', 0.4],
    ] as const) {
      const parent = pairs[0].parents.find(({ row }) => idOf(pedigree, row) === id);
      expect(parent?.probability).toBeCloseTo(chance, 12);
    }
  });

  it('drops genes by the clutch drawn: the mean of the clutches within the error', () => {
    const rows: PedigreeRow[] = [
      ...yard,
      { id: 'inbred', sire: 'son', dam: 'daughter', clutch: 'C4' },
      {
        id: 'late',
        possibleClutches: [
          { clutch: 'C5', sire: 'son', dam: 'inbred', probability: 0.5 },
          { clutch: 'C6', sire: 'Basil', dam: 'inbred', probability: 0.3 },
        ],
      },
    ];
    const certain = (sire: string): number =>
      droppedAncestralInbreeding(
        buildPedigree([...rows.slice(0, -1), { id: 'late', sire, dam: 'inbred' }]),
        ['late'],
      )[0].value;
    const [found] = droppedAncestralInbreeding(buildPedigree(rows), ['late'], {
      random: seededRandom(5),
    });
    const mean = 0.5 * certain('son') + 0.3 * certain('Basil');
    expect(mean).toBeGreaterThan(0.02);
    expect(Math.abs(found.value - mean)).toBeLessThan(4 * found.standardError);
  });

  it('reports what is wrong with its clutches', () => {
    const faults = (row: Omit<PedigreeRow, 'id'>) => () =>
      buildPedigree([...yard.slice(0, -1), { id: 'found', ...row }]);
    const c1 = { clutch: 'C1', sire: 'Basil', dam: 'Olive' };
    expect(faults({ possibleClutches: [{ ...c1, probability: 1.2 }] })).toThrow('1.2');
    expect(faults({ clutch: 'C1', possibleClutches: [{ ...c1, probability: 1 }] })).toThrow(
      "'found' has parents or a clutch beside its possible ones",
    );
    expect(faults({ possibleClutches: [{ ...c1, dam: 'Sage', probability: 1 }] })).toThrow(
      "'son' and 'found (if of clutch C1)' of clutch 'C1' have different parents",
    );
    expect(faults({ possibleClutches: [{ sire: 'found', probability: 0.5 }] })).toThrow(
      "'found' is its own ancestor",
    );
  });
});
