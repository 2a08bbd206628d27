import { describe, expect, it } from '@jest/globals';
import { nearest, seededRandom } from '@scutewright/basics';

describe('seededRandom', () => {
  it('repeats itself from the same seed and differs from another', () => {
    const draw = (seed: number) => {
      const random = seededRandom(seed);
      return Array.from({ length: 5 }, () => random.bits());
    };
    expect(draw(7)).toEqual(draw(7));
    expect(draw(7)).not.toEqual(draw(8));
  });

  it('is uniform: mean 1/2 and variance 1/12 within five standard errors', () => {
    const random = seededRandom(1);
    const n = 200_000;
    let sum = 0;
    let squares = 0;
    for (let i = 0; i < n; i++) {
      const x = random.next();
      if (x < 0 || x >= 1) throw new Error(`${x} is outside [0, 1)`);
      sum += x;
      squares += (x - 0.5) ** 2;
    }
    expect(Math.abs(sum / n - 0.5)).toBeLessThan(5 * Math.sqrt(1 / 12 / n));
    expect(Math.abs(squares / n - 1 / 12)).toBeLessThan(5 * Math.sqrt(1 / 180 / n));
  });
});

describe('nearest', () => {
  it('offers what was probably meant, closest first', () => {
    expect(nearest('K-14', ['K-41', 'K-15', 'HG-003', 'k-14'])).toEqual(['k-14', 'K-15', 'K-41']);
    expect(nearest('zzz', ['K-41'])).toEqual([]);
  });
});
