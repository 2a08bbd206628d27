import { describe, expect, it } from '@jest/globals';
import {
  buildPedigree,
  type PedigreeLayout,
  type PedigreeRow,
  pedigreeLayout,
} from '@scutewright/pedigree';
import fc from 'fast-check';
import { pedigrees, toRows } from './twin.js';

/** Pieces of all lines between neighbouring layers; a line may share its ends with others. */
function pieces(layout: PedigreeLayout): { top: number; bottom: number; layer: number }[] {
  return layout.pairs
    .flatMap(({ parents, young }) => [...parents, ...young].map(({ line }) => line))
    .flatMap((line) =>
      line
        .slice(1)
        .map((point, k) => ({ top: line[k].x, bottom: point.x, layer: line[k].generation })),
    );
}

describe('pedigreeLayout', () => {
  it('stands parents above young, keeps distances and counts its crossings', () => {
    fc.assert(
      fc.property(pedigrees(14, 4, 3), (twin) => {
        const { rows, paternity } = toRows(twin);
        const pedigree = buildPedigree(rows, { paternity });
        const layout = pedigreeLayout(
          pedigree,
          rows.map((row) => row.id),
        );
        const at = new Map(layout.animals.map((animal) => [animal.row, animal]));
        for (const pair of layout.pairs) {
          for (const { row, line } of pair.parents) {
            expect(at.get(row)?.generation).toBeLessThan(pair.generation);
            expect(line[0]).toEqual({ x: at.get(row)?.x, generation: at.get(row)?.generation });
          }
          for (const { row } of pair.young) {
            expect(at.get(row)?.generation).toBeGreaterThan(pair.generation);
          }
        }
        const young = layout.pairs.flatMap((pair) => pair.young.map((each) => each.row));
        expect(new Set(young).size).toBe(young.length);
        const hasParent = ({ sire, dam }: Pick<PedigreeRow, 'sire' | 'dam'>): boolean =>
          Boolean(sire?.length || dam?.length);
        expect(young.length).toBe(
          rows.filter((row) => hasParent(row) || row.possibleClutches?.some(hasParent)).length,
        );
        for (let g = 0; g < layout.generations; g++) {
          const xs = layout.animals.filter((each) => each.generation === g).map((each) => each.x);
          xs.sort((a, b) => a - b);
          for (let k = 1; k < xs.length; k++) expect(xs[k] - xs[k - 1]).toBeGreaterThan(1 - 1e-9);
          expect(xs.every((x) => x >= 0 && x <= layout.width - 1 + 1e-9)).toBe(true);
        }
        const all = pieces(layout);
        let crossings = 0;
        for (let i = 0; i < all.length; i++) {
          for (let j = 0; j < i; j++) {
            const [p, q] = [all[i], all[j]];
            if (p.layer === q.layer && (p.top - q.top) * (p.bottom - q.bottom) < 0) crossings++;
          }
        }
        expect(layout.crossings).toBe(crossings);
      }),
      { numRuns: 150 },
    );
  });

  it('draws two unlinked families and a loop without crossings', () => {
    const family = (name: string) => [
      { id: `${name}s` },
      { id: `${name}d` },
      { id: `${name}1`, sire: `${name}s`, dam: `${name}d` },
      { id: `${name}2`, sire: `${name}s`, dam: `${name}d` },
      { id: `${name}3`, sire: `${name}1`, dam: `${name}2` },
    ];
    const rows = [...family('a'), ...family('b')].reverse();
    const layout = pedigreeLayout(
      buildPedigree(rows),
      rows.map((row) => row.id),
    );
    expect(layout.crossings).toBe(0);
    expect(layout.generations).toBe(3);
  });

  it('answers an empty list', () => {
    const layout = pedigreeLayout(buildPedigree([]), []);
    expect(layout).toEqual({ animals: [], pairs: [], crossings: 0, generations: 0, width: 0 });
  });
});
