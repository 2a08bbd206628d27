import { describe, expect, it } from '@jest/globals';
import { crossTask } from '@scutewright/api/inside/compute/cross-task';

describe('the odds of a pair', () => {
  it('leave out what the parents are in less than one case of a million million', () => {
    const row = (sire: string, dam: string, probability: number) => ({
      sire: { a: sire },
      dam: { a: dam },
      probability,
    });
    const [figure] = crossTask({
      definitions: {
        loci: [{ id: 'a', alleles: ['n', 'a'] }],
        traits: [{ id: 'pale', when: { locus: 'a', genotypes: ['a/a'] } }],
      },
      linkage: [],
      joint: { pale: [[row('n/a', 'n/a', 1 - 1e-15), row('a/a', 'a/a', 1e-15)]] },
      eggs: 4,
    });
    // Mendel 1866: a quarter of the young of two carriers.
    expect(figure.share.exact).toBe('1/4');
    expect(figure.cases).toHaveLength(1);
  });
});
