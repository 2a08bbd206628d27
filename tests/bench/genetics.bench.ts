import { type CrossInput, clutchOdds, crossOdds } from '@scutewright/genetics';
import { rankMates, targetChances } from '@scutewright/planning';
import { naiveAllNormal } from './naive-cross.js';

/** Invented odds of a possible carrier: 0, 1, 2 recessive alleles. */
const ODDS = [
  [0.3, 0.6, 0.1],
  [0.5, 0.5, 0],
] as const;

function question(loci: number): CrossInput {
  const names = Array.from({ length: loci }, (_, i) => `L${i + 1}`);
  const mixture = (id: string, odds: readonly number[]) =>
    odds.map((probability, g) => ({
      probability,
      genotypes: { [id]: ['N/N', 'N/r', 'r/r'][g] },
    }));
  const recessive = names.map((id) => ({ locus: id, genotypes: ['r/r'] }));
  return {
    loci: names.map((id) => ({ id, alleles: ['N', 'r'] })),
    traits: [
      { id: 'look', classes: [{ name: 'some', when: { any: recessive } }], otherwise: 'normal' },
    ],
    independent: names.map((id, i) => ({
      sire: mixture(id, ODDS[i % 2]),
      dam: mixture(id, ODDS[(i + 1) % 2]),
    })),
  };
}

/** Median of some runs, in milliseconds. */
function timed<T>(act: () => T, runs: number): { readonly ms: number; readonly result: T } {
  const times: number[] = [];
  let result = act();
  for (let i = 0; i < runs; i++) {
    const start = performance.now();
    result = act();
    times.push(performance.now() - start);
  }
  return { ms: times.sort((a, b) => a - b)[Math.floor(runs / 2)], result };
}

function megabytes(): number {
  return process.memoryUsage().rss / 2 ** 20;
}

export function run(): void {
  console.log('Uncertain parents at every locus, one look over all of them (any recessive shows)');
  console.log(
    '| loci | crossOdds ms | clutchOdds of 12 eggs ms | listing all ms | listed | differ by |',
  );
  console.log('|---|---|---|---|---|---|');
  for (const loci of [1, 2, 3, 4, 5, 8]) {
    const input = question(loci);
    const cross = timed(() => crossOdds(input), 5);
    const clutch = timed(
      () => clutchOdds({ ...input, trait: 'look', target: 'some', eggs: 12 }),
      loci > 5 ? 1 : 5,
    );
    const normal = cross.result.traits.look.classes.normal.toNumber();
    const parents = Array.from({ length: loci }, (_, i) => ({
      sire: ODDS[i % 2],
      dam: ODDS[(i + 1) % 2],
    }));
    const naive = loci <= 4 ? timed(() => naiveAllNormal(parents), 1) : null;
    const own = [loci, cross.ms.toFixed(1), clutch.ms.toFixed(1)];
    const baseline = naive
      ? [naive.ms.toFixed(1), naive.result.listed, Math.abs(naive.result.normal - normal)]
      : ['not run', `${24 ** loci}`, '-'];
    console.log(`| ${[...own, ...baseline].join(' | ')} |`);
  }
  for (const eggs of [12, 100, 500, 10_000]) {
    const { ms, result } = timed(
      () => clutchOdds({ ...question(1), trait: 'look', target: 'some', eggs }),
      3,
    );
    console.log(`clutch of ${eggs}: ${ms.toFixed(1)} ms, exact ${result.exact !== null}`);
  }
  const [males, females] = [100, 300];
  const cell = (at: number): number => ((at * 2654435761) % 1000) / 1000;
  const mates = {
    ...{ males, females, lethalEquivalents: 3.14, highestF: 0.125 },
    kinship: Float64Array.from({ length: males * females }, (_, at) => cell(at) / 4),
    target: Float64Array.from({ length: males * females }, (_, at) => cell(at + 7)),
    hatchlings: Float64Array.from({ length: females }, (_, at) => 20 * cell(at)),
    fertility: new Float64Array(males).fill(0.8),
  };
  console.log(`rankMates 100 x 300: ${timed(() => rankMates(mates), 5).ms.toFixed(1)} ms`);
  // A trait of two loci, every animal with odds of its own: no two are alike, so nothing is reckoned once for several.
  const own = (count: number, turn: number) =>
    Array.from({ length: count }, (_, at) => {
      const [a, b] = [cell(at + turn) * 0.9, cell(at + turn + 3) * 0.1];
      const odds = { 'N/N': 1 - a - b, 'N/r': a, 'r/r': b };
      return { L1: odds, L2: odds };
    });
  const { loci } = question(2);
  const when = { any: loci.map(({ id }) => ({ locus: id, genotypes: ['r/r'] })) };
  const chances = timed(
    () =>
      targetChances(
        { loci, traits: [{ id: 'look', when }] },
        { trait: 'look', target: 'shown' },
        own(males, 1),
        own(females, 5),
      ),
    5,
  );
  console.log(`targetChances 100 x 300, two loci: ${chances.ms.toFixed(1)} ms`);
  console.log(`memory ${megabytes().toFixed(0)} MB`);
}
