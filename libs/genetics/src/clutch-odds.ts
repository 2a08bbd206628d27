import { Fraction } from '@scutewright/basics';
import { type Clutches, type ClutchInput, readClutches } from './clutch-input.js';
import { type EggDraw, type EggState, eggStates } from './egg-states.js';
import { type EggsNeeded, eggsNeeded } from './eggs-needed.js';
import { type ExactCounts, exactBinomial, exactMixture, exactSum } from './exact-counts.js';

/** Chances of at least one hatchling of the target, and of each sex. */
export interface AtLeastOne<Chance> {
  readonly any: Chance;
  readonly male: Chance;
  readonly female: Chance;
  readonly eachSex: Chance;
}

export interface ClutchOdds {
  /**
   * Chance per egg laid of a hatchling of the target, by what the parents may be (and, in one clutch, by its sire); equal
   * chances are one entry, ascending; weights add to 1. One entry: the eggs are independent.
   */
  readonly perEgg: readonly { readonly probability: Fraction; readonly weight: Fraction }[];
  /** Expected number of the target in all clutches. */
  readonly mean: Fraction;
  /** `counts[k]`: chance of exactly k of the target in all clutches together, k = 0 .. eggs. */
  readonly counts: readonly number[];
  readonly atLeastOne: AtLeastOne<number>;
  /** Eggs of *one* clutch needed for at least one of the target, by level; null where no number of eggs suffices. */
  readonly eggsNeeded: readonly EggsNeeded[];
  /** What 'at least one' approaches as one clutch grows without end. */
  readonly limit: Fraction;
  /** The same as exact fractions; null where they would be too long (over 500 eggs or 20,000 binary digits). */
  readonly exact: {
    readonly counts: readonly Fraction[];
    readonly atLeastOne: AtLeastOne<Fraction>;
  } | null;
}

const MOST_EXACT_EGGS = 500;
const MOST_EXACT_BITS = 20_000;

/**
 * How many of a target class a clutch, or several clutches of the same pair, will hold. All young share what their
 * parents are: P(k of n) = sum over parents of P(parents) x P(k of n | parents), never a binomial of the mean chance. Sex comes from
 * the sex chromosomes or from `maleShare`. Throws FaultsError with every fault of the input.
 * Cost: distinct parents x clutches^2 x eggs; exact fractions beside the numbers where they stay short.
 */
export function clutchOdds(input: ClutchInput): ClutchOdds {
  const clutches = readClutches(input);
  const states = eggStates(clutches).map((state) => hatched(state, clutches.hatch));
  const flat = states.flatMap(({ weight, draws }) =>
    draws.map((draw) => ({ ...draw, weight: draw.weight.times(weight) })),
  );
  const perEgg = joinEqual(flat);
  const total = clutches.eggs.reduce((sum, eggs) => sum + eggs, 0);
  const meanPerEgg = perEgg.reduce(
    (sum, { probability, weight }) => sum.plus(probability.times(weight)),
    Fraction.zero,
  );
  const exact = isShort(flat, total) ? exactOdds(states, clutches.eggs) : null;
  return {
    perEgg,
    mean: meanPerEgg.times(Fraction.of(total)),
    counts: exact
      ? exact.counts.map((chance) => chance.toNumber())
      : numberCounts(states, clutches),
    atLeastOne: exact
      ? inNumbers(exact.atLeastOne)
      : atLeastOne(states.map(numberState), clutches.eggs, numbers),
    ...eggsNeeded(perEgg, clutches.levels),
    exact,
  };
}

function hatched(state: EggState, hatch: Fraction): EggState {
  const draws = state.draws.map((draw) => ({
    ...draw,
    male: draw.male.times(hatch),
    female: draw.female.times(hatch),
  }));
  return { weight: state.weight, draws };
}

function targetChance(draw: EggDraw): Fraction {
  return draw.male.plus(draw.female);
}

function joinEqual(draws: readonly EggDraw[]): ClutchOdds['perEgg'] {
  const found = new Map<string, { probability: Fraction; weight: Fraction }>();
  for (const draw of draws) {
    if (draw.weight.isZero) continue;
    const probability = targetChance(draw);
    const key = probability.toString();
    const known = found.get(key)?.weight ?? Fraction.zero;
    found.set(key, { probability, weight: known.plus(draw.weight) });
  }
  return [...found.values()].sort((a, b) => a.probability.compare(b.probability));
}

function isShort(draws: readonly EggDraw[], eggs: number): boolean {
  const digits = (value: Fraction): number => value.denominator.toString(2).length;
  const longest = Math.max(...draws.map((draw) => digits(draw.male) + digits(draw.female)));
  return eggs <= MOST_EXACT_EGGS && eggs * longest <= MOST_EXACT_BITS;
}

function exactOdds(
  states: readonly EggState[],
  eggs: readonly number[],
): NonNullable<ClutchOdds['exact']> {
  const parts = states.map(({ weight, draws }) => {
    const one = (n: number): ExactCounts =>
      exactMixture(
        draws.map((draw) => ({
          weight: draw.weight,
          counts: exactBinomial(n, targetChance(draw)),
        })),
      );
    return { weight, counts: eggs.map(one).reduce(exactSum) };
  });
  const { numerators, denominator } = exactMixture(parts);
  return {
    counts: numerators.map((numerator) => Fraction.of(numerator, denominator)),
    atLeastOne: atLeastOne(states, eggs, fractions),
  };
}

/** Just enough arithmetic to run one formula on fractions and on doubles. */
interface Arithmetic<N> {
  readonly zero: N;
  readonly one: N;
  plus(a: N, b: N): N;
  minus(a: N, b: N): N;
  times(a: N, b: N): N;
  power(a: N, n: number): N;
}
const fractions: Arithmetic<Fraction> = {
  zero: Fraction.zero,
  one: Fraction.one,
  plus: (a, b) => a.plus(b),
  minus: (a, b) => a.minus(b),
  times: (a, b) => a.times(b),
  power: (a, n) => a.power(n),
};
const numbers: Arithmetic<number> = {
  zero: 0,
  one: 1,
  plus: (a, b) => a + b,
  minus: (a, b) => a - b,
  times: (a, b) => a * b,
  power: (a, n) => a ** n,
};

interface StateIn<N> {
  readonly weight: N;
  readonly draws: readonly { readonly weight: N; readonly male: N; readonly female: N }[];
}

function numberState({ weight, draws }: EggState): StateIn<number> {
  return {
    weight: weight.toNumber(),
    draws: draws.map((draw) => ({
      weight: draw.weight.toNumber(),
      male: draw.male.toNumber(),
      female: draw.female.toNumber(),
    })),
  };
}

/** By the chance of none: given the parents the clutches are independent, given its draw so are a clutch's eggs. */
function atLeastOne<N>(
  states: readonly StateIn<N>[],
  eggs: readonly number[],
  { zero, one, plus, minus, times, power }: Arithmetic<N>,
): AtLeastOne<N> {
  const none = (chance: (draw: StateIn<N>['draws'][number]) => N): N =>
    states.reduce((sum, { weight, draws }) => {
      const inAll = eggs.reduce((product, n) => {
        const inOne = draws.reduce(
          (mixed, draw) => plus(mixed, times(draw.weight, power(minus(one, chance(draw)), n))),
          zero,
        );
        return times(product, inOne);
      }, one);
      return plus(sum, times(weight, inAll));
    }, zero);
  const noMale = none((draw) => draw.male);
  const noFemale = none((draw) => draw.female);
  const noneAtAll = none((draw) => plus(draw.male, draw.female));
  return {
    any: minus(one, noneAtAll),
    male: minus(one, noMale),
    female: minus(one, noFemale),
    eachSex: plus(minus(minus(one, noMale), noFemale), noneAtAll),
  };
}

function inNumbers(chances: AtLeastOne<Fraction>): AtLeastOne<number> {
  return {
    any: chances.any.toNumber(),
    male: chances.male.toNumber(),
    female: chances.female.toNumber(),
    eachSex: chances.eachSex.toNumber(),
  };
}

function numberCounts(states: readonly EggState[], { eggs }: Clutches): number[] {
  const total = eggs.reduce((sum, each) => sum + each, 0);
  const counts = new Array<number>(total + 1).fill(0);
  for (const { weight, draws } of states) {
    let sum = [1];
    for (const n of eggs) {
      const one = new Array<number>(n + 1).fill(0);
      for (const draw of draws) {
        const share = draw.weight.toNumber();
        const chances = binomial(n, targetChance(draw).toNumber());
        for (let k = 0; k <= n; k++) one[k] += share * chances[k];
      }
      sum = convolved(sum, one);
    }
    const share = weight.toNumber();
    for (let k = 0; k <= total; k++) counts[k] += share * sum[k];
  }
  return counts;
}

function convolved(a: readonly number[], b: readonly number[]): number[] {
  if (a.length === 1) return b.map((y) => a[0] * y);
  const sum = new Array<number>(a.length + b.length - 1).fill(0);
  for (let i = 0; i < a.length; i++) {
    for (let j = 0; j < b.length; j++) sum[i + j] += a[i] * b[j];
  }
  return sum;
}

/** Binomial chances 0..n outwards from the likeliest count, so that nothing underflows before it matters. */
function binomial(n: number, p: number): Float64Array {
  const chances = new Float64Array(n + 1);
  if (p <= 0 || p >= 1) {
    chances[p <= 0 ? 0 : n] = 1;
    return chances;
  }
  const mode = Math.min(n, Math.floor((n + 1) * p));
  const odds = p / (1 - p);
  chances[mode] = 1;
  for (let k = mode; k < n; k++) chances[k + 1] = (chances[k] * (n - k) * odds) / (k + 1);
  for (let k = mode; k > 0; k--) chances[k - 1] = (chances[k] * k) / ((n - k + 1) * odds);
  const sum = chances.reduce((total, chance) => total + chance, 0);
  return chances.map((chance) => chance / sum);
}
