import { describe, expect, it } from '@jest/globals';
import { seededRandom } from '@scutewright/basics';
import {
  buildPedigree,
  droppedAncestralInbreeding,
  founderContributions,
  founderRetention,
  genomeEquivalents,
  inbreeding,
  partialInbreeding,
  relatedness,
  sexLinkedKinship,
} from '@scutewright/pedigree';
import fc from 'fast-check';
import { certainParents, eachGeneDrop, pedigrees, type TwinPedigree, toRows } from './twin.js';

/** Small pedigrees with certain parents whose meioses can all be listed: at most 12, 4,096 outcomes. */
const small = pedigrees(7, 0).filter((twin) => {
  const coins = certainParents(twin)
    .flat()
    .filter((parent) => parent >= 0).length;
  return (
    coins > 0 &&
    coins <= 12 &&
    twin.clutches.every(
      (each) => each.young.length === 1 || each.sires.length > 0 || each.dams.length === 0,
    )
  );
});

function built(twin: TwinPedigree) {
  const { rows } = toRows(twin);
  // Each animal a clutch of its own, so that unknown parents stay strangers to each other.
  const single = rows.map(({ clutch: _, ...row }) => ({
    ...row,
    sex: Number(row.id.slice(1)) % 2 === 0 ? ('m' as const) : ('f' as const),
  }));
  return buildPedigree(single);
}

const ids = (twin: TwinPedigree): string[] => Array.from({ length: twin.size }, (_, i) => `n${i}`);

describe('figures against every outcome of every meiosis', () => {
  it('relatedness, partial F, retention and ancestral F', () => {
    fc.assert(
      fc.property(small, (twin) => {
        const parents = certainParents(twin);
        const pedigree = built(twin);
        const n = twin.size;
        const last = n - 1;
        const founder = parents.findIndex(([s, d]) => s < 0 && d < 0);
        let outcomes = 0;
        let kinship = 0;
        let partial = 0;
        let kept = 0;
        let exposed = 0;
        eachGeneDrop(parents, (genes) => {
          outcomes++;
          for (const a of genes[last]) for (const b of genes[n - 2]) kinship += Number(a === b) / 4;
          const own = [-1 - 2 * founder, -2 - 2 * founder];
          if (genes[last][0] === genes[last][1] && own.includes(genes[last][0])) partial++;
          for (const gene of own)
            if (genes[last].includes(gene) || genes[n - 2].includes(gene)) kept += 0.5;
          exposed += exposure(parents, genes, last);
        });
        const A = relatedness(pedigree, [`n${last}`, `n${n - 2}`]);
        expect(A[1] / 2).toBeCloseTo(kinship / outcomes, 12);
        const row = twin.order.indexOf(last);
        expect(partialInbreeding(pedigree, `n${founder}`)[row]).toBeCloseTo(partial / outcomes, 12);
        const retention = founderRetention(pedigree, [`n${last}`, `n${n - 2}`]);
        const found = retention.founders.find((each) => each.row === twin.order.indexOf(founder));
        expect(retention.exact).toBe(true);
        expect(found?.retention ?? 0).toBeCloseTo(kept / outcomes, 12);
        const [dropped] = droppedAncestralInbreeding(pedigree, [`n${last}`]);
        expect(dropped.value).toBeCloseTo(exposed / outcomes, 12);
      }),
      { numRuns: 60 },
    );
  });

  it.each([
    ['m', 0],
    ['f', 1],
  ] as const)('sex-linked kinship, %s heterogametic', (sex, single) => {
    fc.assert(
      fc.property(small, (twin) => {
        const n = twin.size;
        const expected = new Float64Array(n * n);
        let outcomes = 0;
        eachGeneDrop(
          certainParents(twin),
          (genes) => {
            outcomes++;
            for (let i = 0; i < n; i++) {
              for (let j = 0; j < n; j++) {
                const pairs = genes[i].flatMap((a) => genes[j].map((b) => a === b));
                expected[i * n + j] += pairs.filter(Boolean).length / pairs.length;
              }
            }
          },
          single,
        );
        const found = sexLinkedKinship(built(twin), ids(twin), sex);
        found.forEach((each, e) => {
          expect(each).toBeCloseTo(expected[e] / outcomes, 12);
        });
      }),
      { numRuns: 40 },
    );
  });
});

/** Share of an animal's genes that have been in an animal homozygous by descent, found by tracing each gene back. */
function exposure(
  parents: readonly (readonly [number, number])[],
  genes: readonly (readonly number[])[],
  target: number,
): number {
  const wasExposed = (animal: number, side: number): number => {
    const parent = parents[animal][side];
    if (parent < 0) return 0;
    const gene = genes[animal][side];
    if (genes[parent][0] === genes[parent][1]) return 1;
    return wasExposed(parent, genes[parent].indexOf(gene));
  };
  return (wasExposed(target, 0) + wasExposed(target, 1)) / 2;
}

describe('founders', () => {
  it('partial F over all founders sums to F where every parent is recorded', () => {
    fc.assert(
      fc.property(pedigrees(15, 5, 3), (twin) => {
        const { rows, paternity } = toRows(twin);
        const pedigree = buildPedigree(rows, { paternity });
        const founders = rows.flatMap((row) => (row.sire || row.dam ? [] : [row.id]));
        const F = inbreeding(pedigree);
        const sum = new Float64Array(F.length);
        for (const founder of founders) {
          const row = pedigree.positions?.get(founder) ?? -1;
          if (pedigree.sire[row] !== -1 || pedigree.dam[row] !== -1) continue;
          partialInbreeding(pedigree, founder).forEach((each, i) => {
            sum[i] += each;
          });
        }
        const isComplete =
          rows.every((row) => Boolean(row.sire) === Boolean(row.dam)) &&
          [...pedigree.draws, ...pedigree.finds.values()].every(
            (draw) => Math.abs(draw.probabilities.reduce((a, b) => a + b, 0) - 1) < 1e-12,
          );
        F.forEach((each, i) => {
          expect(sum[i]).toBeLessThanOrEqual(each + 1e-12);
          if (isComplete) expect(sum[i]).toBeCloseTo(each, 12);
        });
      }),
      { numRuns: 150 },
    );
  });

  it('contributions and what nobody recorded sum to 1', () => {
    fc.assert(
      fc.property(pedigrees(15, 5, 3), (twin) => {
        const { rows, paternity } = toRows(twin);
        const pedigree = buildPedigree(rows, { paternity });
        const { founders, unrecorded } = founderContributions(
          pedigree,
          rows.slice(0, 3).map((row) => row.id),
        );
        expect(founders.reduce((sum, each) => sum + each.share, unrecorded)).toBeCloseTo(1, 12);
      }),
      { numRuns: 150 },
    );
  });

  it('count the unrecorded father of each clutch as a founder of his own, whoever else may be the father', () => {
    const effective = (stranger: (clutch: number) => { id: string; probability: number }[]) => {
      const young = [0, 1].map((clutch) => ({
        id: `y${clutch}`,
        clutch: `c${clutch}`,
        sire: [{ id: 's', probability: 0.5 }, ...stranger(clutch)],
        dam: `d${clutch}`,
      }));
      const founders = ['s', 'd0', 'd1', 'u0', 'u1'].map((id) => ({ id }));
      const pedigree = buildPedigree([...founders, ...young]);
      return founderContributions(pedigree, ['y0', 'y1']).effectiveFounders;
    };
    const named = effective((clutch) => [{ id: `u${clutch}`, probability: 0.5 }]);
    expect(named).toBeCloseTo(1 / (3 / 16 + 2 / 64), 12);
    expect(effective(() => [])).toBeCloseTo(named, 12);
  });

  it('counts six full sibs exactly', () => {
    const young = Array.from({ length: 6 }, (_, k) => ({ id: `y${k}`, sire: 's', dam: 'd' }));
    const pedigree = buildPedigree([{ id: 's' }, { id: 'd' }, ...young]);
    const { founders, exact } = founderRetention(
      pedigree,
      young.map(({ id }) => id),
    );
    // Each copy misses all six with probability 1/2^6.
    expect(founders.map((each) => each.retention)).toEqual([1 - 1 / 64, 1 - 1 / 64]);
    expect(exact).toBe(true);
  });

  it('samples by a seed where too many carriers have young at once', () => {
    const sibs = Array.from({ length: 60 }, (_, k) => ({ id: `a${k}`, sire: 's', dam: 'd' }));
    const young = Array.from({ length: 60 }, (_, k) => ({
      id: `b${k}`,
      sire: `a${2 * (k % 30)}`,
      dam: `a${2 * ((k * 7) % 30) + 1}`,
    }));
    const pedigree = buildPedigree([{ id: 's' }, { id: 'd' }, ...sibs, ...young]);
    const group = young.map(({ id }) => id);
    expect(() => genomeEquivalents(pedigree, group)).toThrow(RangeError);
    const sample = () =>
      genomeEquivalents(pedigree, group, { random: seededRandom(7), replicates: 400 });
    expect(sample()).toEqual(sample());
    expect(sample().exact).toBe(false);
    // Two founders whose genes reach sixty young: nearly nothing is lost.
    expect(sample().byRetention).toBeGreaterThan(1.9);
    expect(sample().byRetention).toBeLessThanOrEqual(2);
  });
});
