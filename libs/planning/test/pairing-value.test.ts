import { describe, expect, it } from '@jest/globals';
import { FaultsError } from '@scutewright/basics';
import {
  INBREEDING_COSTS,
  inbreedingSurvival,
  jointTarget,
  pairingValue,
  rankMates,
  targetApart,
  targetTable,
} from '@scutewright/planning';
import fc from 'fast-check';

describe('inbreedingSurvival', () => {
  it('full-sib young keep 0.675 at 3.14 lethal equivalents (Ralls et al. 1988: cost 0.33)', () => {
    const [median] = INBREEDING_COSTS;
    expect(inbreedingSurvival(median.lethalEquivalents, 0.25)).toBeCloseTo(0.675, 3);
    expect(1 - inbreedingSurvival(median.lethalEquivalents, 0.25)).toBeCloseTo(0.33, 1);
  });

  it('multiplies over F and takes negative figures', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -2, max: 30, noNaN: true }),
        fc.double({ min: 0, max: 0.5, noNaN: true }),
        (b, F) => {
          const once = inbreedingSurvival(b, F);
          expect(inbreedingSurvival(b, 2 * F)).toBeCloseTo(once * once, 9);
        },
      ),
    );
    expect(inbreedingSurvival(-1.4, 0.25)).toBeGreaterThan(1);
    expect(() => inbreedingSurvival(3.14, 1.1)).toThrow(RangeError);
  });
});

describe('pairingValue', () => {
  const pairing = {
    ...{ clutches: 2, eggsPerClutch: 5, fertility: 0.8, hatch: 0.5, F: 0.25, target: 0.5 },
    lethalEquivalents: 3.14,
  };

  it('is the product of its parts', () => {
    const found = pairingValue(pairing);
    expect([found.eggs, found.fertileEggs, found.hatchlings]).toEqual([10, 8, 4]);
    // 4 x exp(-1.57 x 0.25) x 1/2
    expect(found.value).toBeCloseTo(1.3507, 4);
    expect(found.healthyHatchlings).toBeCloseTo(2.7015, 4);
  });

  it('names every number out of range', () => {
    try {
      pairingValue({ ...pairing, fertility: 1.2, clutches: -1, F: Number.NaN });
    } catch (error) {
      expect((error as FaultsError).faults.map((fault) => fault.message)).toEqual([
        ...['fertility is 1.2.', 'F is NaN.', 'clutches is -1.'],
      ]);
      return;
    }
    throw new Error('no fault was found');
  });
});

describe('targetTable', () => {
  const definitions = {
    loci: [{ id: 'p', alleles: ['n', 'a'] }],
    traits: [{ id: 'pale', when: { locus: 'p', genotypes: ['a/a'] } }],
  };

  it('holds the textbook odds of the nine pairs', () => {
    const { chance } = targetTable(definitions, 'pale', 'shown');
    expect([...chance]).toEqual([0, 0, 0, 0, 0.25, 0.5, 0, 0.5, 1]);
  });

  it('tells joint odds from odds multiplied: 1/24 against 1/36 for half sibs out of a 66 % het', () => {
    const table = targetTable(definitions, 'pale', 'shown');
    expect(jointTarget(table, [1 / 2, 1 / 6, 0, 1 / 6, 1 / 6, 0, 0, 0, 0])).toBeCloseTo(1 / 24, 12);
    expect(targetApart(table, [2 / 3, 1 / 3, 0], [2 / 3, 1 / 3, 0])).toBeCloseTo(1 / 36, 12);
  });
});

describe('rankMates', () => {
  it('agrees with pairingValue on every pair, best first', () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.record({
            F: fc.double({ min: 0, max: 0.5, noNaN: true }),
            p: fc.double({ min: 0, max: 1, noNaN: true }),
          }),
          { minLength: 6, maxLength: 6 },
        ),
        (cells) => {
          const ranked = rankMates({
            ...{ males: 2, females: 3, lethalEquivalents: 4.6, highestF: 0.25 },
            kinship: Float64Array.from(cells, (cell) => cell.F),
            target: Float64Array.from(cells, (cell) => cell.p),
            hatchlings: Float64Array.of(3, 1.5, 6),
            fertility: Float64Array.of(0.9, 0.4),
          });
          const expected = cells
            .map((cell, at) => ({
              at,
              F: cell.F,
              value: pairingValue({
                ...{ clutches: 1, fertility: [0.9, 0.4][Math.floor(at / 3)], hatch: 1 },
                ...{ eggsPerClutch: [3, 1.5, 6][at % 3], F: cell.F, target: cell.p },
                lethalEquivalents: 4.6,
              }).value,
            }))
            .filter((pair) => pair.F <= 0.25);
          expect(ranked).toHaveLength(expected.length);
          for (const pair of ranked) {
            const own = expected.find((each) => each.at === pair.male * 3 + pair.female)!;
            expect(pair.value).toBeCloseTo(own.value, 12);
          }
          for (let i = 1; i < ranked.length; i++) {
            expect(ranked[i].value).toBeLessThanOrEqual(ranked[i - 1].value);
          }
        },
      ),
    );
  });

  it('refuses broken columns in words', () => {
    const ask = () =>
      rankMates({
        ...{ males: 1, females: 1, lethalEquivalents: Number.NaN, highestF: 1 },
        kinship: Float64Array.of(2),
        target: new Float64Array(2),
        hatchlings: Float64Array.of(1),
        fertility: Float64Array.of(1),
      });
    expect(ask).toThrow(FaultsError);
    expect(ask).toThrow(
      /kinship number 0 is 2[\s\S]*target has 2 numbers[\s\S]*lethal equivalents/,
    );
  });
});
