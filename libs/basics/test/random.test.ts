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

  it('leaves nobody out whom the whole table of distances would offer', () => {
    const random = seededRandom(7);
    const word = () =>
      Array.from({ length: 1 + random.below(9) }, () => 'ab-1'[random.below(4)]).join('');
    for (let run = 0; run < 2000; run++) {
      const wanted = word();
      const known = [...new Set(Array.from({ length: 6 }, word))];
      const reach = Math.max(2, Math.floor(wanted.length / 3));
      const offered = nearest(wanted, known, known.length);
      expect(new Set(offered)).toEqual(
        new Set(known.filter((each) => wholeTable(wanted, each) <= reach)),
      );
    }
  });
});

/** Restricted Damerau-Levenshtein distance straight from its recurrence, nothing left out. */
function wholeTable(a: string, b: string): number {
  const table = Array.from({ length: a.length + 1 }, (_, i) =>
    Array.from({ length: b.length + 1 }, (_, j) => (i === 0 ? j : j === 0 ? i : 0)),
  );
  for (let i = 1; i <= a.length; i++) {
    for (let j = 1; j <= b.length; j++) {
      const ways = [
        table[i - 1][j] + 1,
        table[i][j - 1] + 1,
        table[i - 1][j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1),
      ];
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) {
        ways.push(table[i - 2][j - 2] + 1);
      }
      table[i][j] = Math.min(...ways);
    }
  }
  return table[a.length][b.length];
}
