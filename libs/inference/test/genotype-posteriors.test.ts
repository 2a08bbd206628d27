import { describe, expect, it } from '@jest/globals';
import { genotypePosteriors } from '@scutewright/inference';
import fc from 'fast-check';
import { FLAVOURS, verifyAgainstTwin } from './against-twin.js';
import { bruteForce } from './brute-force.js';
import { randomProgram } from './random-program.js';

describe('genotypePosteriors against listing every world', () => {
  // The long run over thousands of programs is in tests/verification.
  it.each(FLAVOURS.map((flavour) => [flavour.name, flavour] as const))('%s', (_, flavour) => {
    let possible = 0;
    fc.assert(
      fc.property(fc.nat(1_000_000), (seed) => {
        const input = randomProgram(seed, flavour);
        const twin = bruteForce(input, 1_500);
        if (!twin) return;
        if (twin.total > 0) possible++;
        verifyAgainstTwin(input, genotypePosteriors(input), twin);
      }),
      { numRuns: 40, seed: 20_260_101 },
    );
    // A property that only ever met contradictions would prove nothing.
    expect(possible).toBeGreaterThan(2);
  });
});
