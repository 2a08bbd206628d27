import { describe, expect, it } from '@jest/globals';
import { clashingRecords, genotypePosteriors, readProgram } from '@scutewright/inference';

/** `families` pairs of pale parents, each with a young that was seen plain, and one pair of plain parents beside them. */
function contradictory(families: number) {
  const animals = [];
  const evidence = [];
  for (let k = 0; k < families; k++) {
    animals.push({ id: `s${k}`, sex: 'm' as const }, { id: `d${k}`, sex: 'f' as const });
    animals.push({ id: `y${k}`, sire: `s${k}`, dam: `d${k}` });
    for (const [animal, seen] of [
      [`s${k}`, true],
      [`d${k}`, true],
      [`y${k}`, false],
    ] as const) {
      evidence.push({ kind: 'phenotype' as const, id: animal, animal, trait: 'pale', seen });
    }
  }
  animals.push({ id: 'S', sex: 'm' as const }, { id: 'D', sex: 'f' as const });
  animals.push({ id: 'Y', sire: 'S', dam: 'D' });
  evidence.push({ kind: 'phenotype' as const, id: 'Y', animal: 'Y', trait: 'pale', seen: true });
  return {
    loci: [{ id: 'p', alleles: ['n', 'a'], frequencies: { n: '9/10', a: '1/10' } }],
    traits: [{ id: 'pale', when: { locus: 'p', genotypes: ['a/a'] } }],
    animals,
    evidence,
  };
}

describe('many contradictions at once', () => {
  it('are all found, each by itself, and the rest is answered', () => {
    const input = contradictory(40);
    const { sets } = clashingRecords(readProgram(input).program);
    expect(sets).toHaveLength(40);
    expect(sets.every((set) => set.length === 3)).toBe(true);
    const found = genotypePosteriors(input);
    expect(found.possible).toBe(false);
    expect(found.clashes).toHaveLength(40);
    expect(found.setAside).toHaveLength(120);
    // A pale young proves that both parents carry: P(n/a | at least one a handed on) = 2pq / (2pq + 2q^2) with q = 1/10.
    expect(found.genotypes.S.p['n/a']).toBeCloseTo(0.9, 12);
    expect(found.genotypes.s7.p['n/n']).toBeCloseTo(0.81, 12);
  });

  it('stop at the number asked for', () => {
    const { sets, complete } = clashingRecords(readProgram(contradictory(9)).program, 4);
    expect(sets).toHaveLength(4);
    expect(complete).toBe(false);
  });
});
