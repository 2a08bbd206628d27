import { Fraction, type Random, seededRandom } from '@scutewright/basics';
import { chiSquareTail, clutchOdds, goodnessOfFit } from '@scutewright/genetics';

const CLUTCHES = 200_000;
const EGGS = 8;

/**
 * Clutches simulated egg by egg - two candidate sires, a possible het dam, two recessive loci of which one masks, hatching, several sires
 * in a clutch - against the odds of their counts. Holds when the chi-square of the counts is not extreme (p over 0.001).
 */
export function run(): boolean {
  const random = seededRandom(20_260_501);
  const kinds = ['ONE_SIRE', 'EACH_OWN_SIRE', 'MIXED', 'TWO_SIRES'] as const;
  let holds = true;
  for (const kind of kinds) {
    const rate = '2/5';
    const odds = clutchOdds({
      loci: [
        { id: 'p', alleles: ['N', 'p'] },
        { id: 'm', alleles: ['N', 'm'] },
      ],
      // Pale shows only where it is not masked.
      target: {
        all: [{ locus: 'p', genotypes: ['p/p'] }, { not: { locus: 'm', genotypes: ['m/m'] } }],
      },
      sires: [
        { id: 'A', probability: '3/5', genotypes: { p: 'p/p', m: 'N/m' } },
        {
          id: 'B',
          probability: '2/5',
          genotypes: [
            { probability: '1/2', genotypes: { p: 'N/p', m: 'N/N' } },
            { probability: '1/2', genotypes: { p: 'N/N', m: 'm/m' } },
          ],
        },
      ],
      dam: [
        { probability: '2/3', genotypes: { p: 'N/p', m: 'N/m' } },
        { probability: '1/3', genotypes: { p: 'N/N', m: 'N/m' } },
      ],
      paternity: kind === 'ONE_SIRE' || kind === 'EACH_OWN_SIRE' ? kind : { kind, rate },
      eggs: EGGS,
      hatch: '3/4',
    });
    const counts = new Array<number>(EGGS + 1).fill(0);
    for (let i = 0; i < CLUTCHES; i++) counts[simulatedClutch(random, kind)]++;
    const fit = goodnessOfFit(counts, odds.exact!.counts as Fraction[]);
    const atLeastOne = 1 - counts[0] / CLUTCHES;
    const error = 1.96 * Math.sqrt((atLeastOne * (1 - atLeastOne)) / CLUTCHES);
    console.log(
      `${kind}: at least one ${odds.atLeastOne.any.toFixed(5)}, simulated ${atLeastOne.toFixed(5)} +- ${error.toFixed(5)}; chi-square of counts p = ${fit.p.toFixed(4)}`,
    );
    holds &&= fit.p > 0.001;
  }
  // The tail itself: the 95 % points of chi-square tables (3.841, 7.815, 15.507 for 1, 3, 8 degrees of freedom; from memory).
  for (const [x, df] of [
    [3.841, 1],
    [7.815, 3],
    [15.507, 8],
  ]) {
    const p = chiSquareTail(x, df);
    console.log(`tail of chi-square ${x} with ${df} degrees of freedom: ${p.toFixed(5)}`);
    holds &&= Math.abs(p - 0.05) < 1e-4;
  }
  return holds;
}

type Pair = readonly [number, number];
interface Parent {
  readonly p: Pair;
  readonly m: Pair;
}

function simulatedClutch(random: Random, kind: string): number {
  const is = (chance: number): boolean => random.next() < chance;
  const dam: Parent = { p: is(2 / 3) ? [0, 1] : [0, 0], m: [0, 1] };
  const A: Parent = { p: [1, 1], m: [0, 1] };
  const B: Parent = is(1 / 2) ? { p: [0, 1], m: [0, 0] } : { p: [0, 0], m: [1, 1] };
  const draw = (): Parent => (is(3 / 5) ? A : B);
  const one = draw();
  const several = kind === 'EACH_OWN_SIRE' || (kind !== 'ONE_SIRE' && is(2 / 5));
  let count = 0;
  for (let egg = 0; egg < EGGS; egg++) {
    const two = (): Parent => (is(1 / 2) ? A : B);
    const sire = !several ? one : kind === 'TWO_SIRES' ? two() : draw();
    const pick = (pair: Pair): number => pair[random.below(2)];
    const pale = pick(sire.p) + pick(dam.p) === 2;
    const masked = pick(sire.m) + pick(dam.m) === 2;
    if (pale && !masked && is(3 / 4)) count++;
  }
  return count;
}
