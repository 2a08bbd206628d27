import { describe, expect, it } from '@jest/globals';
import { chartGeometry } from '../src/features/lineage/chart-geometry.js';
import { nextInWalk } from '../src/features/lineage/walk.js';
import { flagGroups } from '../src/features/pens/flag-groups.js';
import { dotsOfFifty } from '../src/lib/dots-of-fifty.js';

describe('fifty dots', () => {
  it('sum to fifty and stay within one dot of the share', () => {
    // Binomial(5, 1/2) is 1, 5, 10, 10, 5, 1 of 32. By hand: 1.56, 7.81, 15.63, 15.63, 7.81, 1.56
    // dots; of the 4 left after rounding down, two go to .81 and two to .63.
    const shares = [1, 5, 10, 10, 5, 1].map((n) => n / 32);
    const dots = dotsOfFifty(shares);
    expect(dots.reduce((sum, n) => sum + n, 0)).toBe(50);
    for (const [k, n] of dots.entries()) {
      expect(Math.abs(n - 50 * (shares[k] ?? 0))).toBeLessThan(1);
    }
    expect(dots).toEqual([1, 8, 16, 16, 8, 1]);
  });
  it('give a certain outcome every dot', () => {
    expect(dotsOfFifty([0, 1, 0])).toEqual([0, 50, 0]);
  });
});

/** A young (generation 1) with two possible fathers and a mother (generation 0). */
const lineage = () => {
  const animal = (id: string, sex: 'MALE' | 'FEMALE' | 'UNKNOWN') => ({
    id,
    code: id,
    name: null,
    sex: { sex },
  });
  const parent = (animalId: string, x: number, probability: number) => ({
    animalId,
    probability,
    line: [
      { x, generation: 0 },
      { x: 1, generation: 0.5 },
    ],
  });
  return {
    animal: animal('Y', 'UNKNOWN'),
    generations: 2,
    width: 3,
    animals: [
      { x: 0, generation: 0, animal: animal('F1', 'MALE') },
      { x: 1, generation: 0, animal: animal('F2', 'MALE') },
      { x: 2, generation: 0, animal: animal('M', 'FEMALE') },
      { x: 1, generation: 1, animal: animal('Y', 'UNKNOWN') },
    ],
    pairs: [
      {
        x: 1,
        generation: 0.5,
        isRelated: true,
        parents: [parent('F1', 0, 0.25), parent('F2', 1, 0.7), parent('M', 2, 1)],
        young: [
          {
            animalId: 'Y',
            line: [
              { x: 1, generation: 0.5 },
              { x: 1, generation: 1 },
            ],
          },
        ],
      },
    ],
  } as unknown as Parameters<typeof chartGeometry>[0];
};

describe('the pedigree chart', () => {
  it('stands parents to the right of their young', () => {
    const { left } = chartGeometry(lineage(), 4);
    expect(left(0)).toBeGreaterThan(left(1));
  });
  it('draws what the possible fathers leave over as a male nobody recorded', () => {
    const [pair] = chartGeometry(lineage(), 4).pairs;
    expect(pair?.nobody.map(({ key }) => key)).toEqual(['MALE']);
    expect(pair?.nobody[0]?.probability).toBeCloseTo(0.05, 12);
  });
  it('says nothing of parents left out, where the drawing ends or goes on to young', () => {
    expect(chartGeometry(lineage(), 0).pairs[0]?.nobody).toEqual([]);
    const ofFather = { ...lineage(), animal: lineage().animals[0]?.animal } as never;
    expect(chartGeometry(ofFather, 4).pairs[0]?.nobody).toEqual([]);
  });
  it('keeps the strokes of two pairs of one generation apart where they meet', () => {
    const one = lineage();
    const twice = { ...one, pairs: [...one.pairs, ...one.pairs] };
    const [first, second] = chartGeometry(twice, 4).pairs.map(({ double }) => double);
    expect(first).not.toBe(second);
  });
});

describe('the walk by arrow keys', () => {
  it('leads to the likeliest parent, to a young, and along the generation', () => {
    const of = lineage();
    expect(nextInWalk(of, 'Y', 'ArrowRight')).toBe('M');
    expect(nextInWalk(of, 'F1', 'ArrowLeft')).toBe('Y');
    expect(nextInWalk(of, 'F1', 'ArrowDown')).toBe('F2');
    expect(nextInWalk(of, 'F1', 'ArrowUp')).toBeNull();
    expect(nextInWalk(of, 'F1', 'End')).toBe('M');
    expect(nextInWalk(of, 'M', 'Home')).toBe('F1');
    expect(nextInWalk(of, 'Y', 'Enter')).toBeNull();
  });
});

describe('flags of a pen', () => {
  it('gather by what they say, now before later', () => {
    const flag = (rule: string, possibleFrom: string) =>
      ({ rule, possibleFrom, severity: 'DANGER', remedy: 'r', source: 's', message: 'm' }) as never;
    const groups = flagGroups(
      [
        flag('a', '2027-01-01'),
        flag('b', '2026-01-01'),
        flag('b', '2026-02-01'),
        flag('b', '2028-01-01'),
      ],
      '2026-06-01',
    );
    expect(groups.map(({ isNow, flags, from }) => [isNow, flags.length, from])).toEqual([
      [true, 2, '2026-01-01'],
      [false, 1, '2027-01-01'],
      [false, 1, '2028-01-01'],
    ]);
  });
});
