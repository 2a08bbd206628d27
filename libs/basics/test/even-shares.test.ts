import { describe, expect, it } from '@jest/globals';
import { evenShares } from '@scutewright/basics';

describe('chances that are told in part', () => {
  it('leave the rest to those that are not told, evenly', () => {
    expect(evenShares([null, null])).toEqual([0.5, 0.5]);
    expect(evenShares([0.5, null, undefined])).toEqual([0.5, 0.25, 0.25]);
    expect(evenShares([0.6, 0.3])).toEqual([0.6, 0.3]);
    expect(evenShares([])).toEqual([]);
  });

  it('are not more than 1, but for a rounding step', () => {
    expect(evenShares([0.1, 0.2, 0.7])).toEqual([0.1, 0.2, 0.7]);
    expect(evenShares([1 + 1e-12])).toEqual([1]);
    expect(evenShares([0.6, 0.5])).toBeNull();
    expect(evenShares([1, null])).toBeNull();
  });
});
