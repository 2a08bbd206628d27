import { describe, expect, it } from '@jest/globals';
import fc from 'fast-check';
import { parentRows, parentShares } from '../src/features/animals/parent-shares.js';

const rows = (...figures: string[]) =>
  figures.map((inHundred, k) => ({ animalId: String(k), code: `A-${k}`, name: null, inHundred }));

describe('parentShares', () => {
  it('takes one without a figure as certain, and more as equal parts', () => {
    expect(parentShares(rows(''))).toEqual({ shares: [1], unrecorded: 0 });
    expect(parentShares(rows('', ''))).toEqual({ shares: [0.5, 0.5], unrecorded: 0 });
    expect(parentShares(rows('60', '', ''))).toEqual({ shares: [0.6, 0.2, 0.2], unrecorded: 0 });
  });

  it('leaves what is missing to 100 to one nobody recorded', () => {
    expect(parentShares(rows('60', '15'))).toEqual({ shares: [0.6, 0.15], unrecorded: 0.25 });
    expect(parentShares([])).toEqual({ shares: [], unrecorded: 1 });
  });

  it('names the row at fault', () => {
    expect(parentShares(rows('60', 'most')).fault?.row).toBe(1);
    expect(parentShares(rows('0')).fault?.row).toBe(0);
    expect(parentShares(rows('60', '41')).fault?.row).toBeNull();
    expect(parentShares(rows('100', '')).fault?.row).toBeNull();
  });

  it('reads a decimal comma', () => {
    expect(parentShares(rows('12,5')).shares).toEqual([0.125]);
  });

  it('always sums to 1, whatever is typed', () => {
    const figure = fc.oneof(fc.constant(''), fc.double({ min: 0.1, max: 100, noNaN: true }));
    fc.assert(
      fc.property(fc.array(figure, { minLength: 1, maxLength: 6 }), (figures) => {
        const typed = figures.map((one) => (one === '' ? '' : Number(one).toFixed(2)));
        const { shares, unrecorded, fault } = parentShares(rows(...typed));
        if (fault) return;
        // Six shares, each rounded once: far below 1e-9.
        expect(shares.reduce((sum, share) => sum + share, unrecorded)).toBeCloseTo(1, 9);
        expect(Math.min(unrecorded, ...shares)).toBeGreaterThanOrEqual(0);
      }),
    );
  });
});

describe('parentRows', () => {
  it('comes back as the same shares', () => {
    const animal = (id: string) => ({ id, code: id, name: null });
    for (const probabilities of [[1], [0.5, 0.5], [0.81, 0.16], [1 / 3, 1 / 3, 1 / 3]]) {
      const candidates = probabilities.map((probability, k) => ({
        animal: animal(`A-${k}`),
        probability,
      }));
      const { shares } = parentShares(parentRows(candidates));
      shares.forEach((share, k) => {
        // Figures are shown to six digits.
        expect(share).toBeCloseTo(probabilities[k] ?? Number.NaN, 6);
      });
    }
  });
});
