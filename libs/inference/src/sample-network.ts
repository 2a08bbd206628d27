import { type Random, seededRandom } from '@scutewright/basics';
import { deleteStates } from './delete-states.js';
import { eliminationOrder } from './elimination-order.js';
import type { Network } from './network.js';
import { planNetwork, type SolvedNetwork, solvePlanned } from './solve-network.js';

export interface SampledNetwork extends SolvedNetwork {
  /** Largest standard error over the marginals that were asked for so far. */
  error(): number;
  readonly width: number;
  readonly entries: number;
  readonly runs: number;
}

/** Table entries of one conditional solution. */
const STEP_ENTRIES = 2 ** 13;
const CHAINS = 4;
/** Draws of all chains together, more or less: what the time is bounded by. */
const MOST_DRAWS = 20_000;
/** Reductions of the network spent on finding a consistent start for a chain. */
const START_STEPS = 3000;

/**
 * Marginals by blocked Gibbs sampling where no exact solution fits: some variables, selectors first, are drawn in turn from their
 * exact conditional distribution, all others are summed out exactly given these (Rao-Blackwell). Four chains; the error is the standard error
 * between their means. Approximate: chains that mix badly understate it. Null when no consistent start was found.
 */
export function sampleNetwork(
  network: Network,
  selectors: readonly number[],
  wanted: readonly (readonly number[])[],
  mostSweeps: number,
  seed: number,
): SampledNetwork | null {
  const random = seededRandom(seed);
  const cut = chooseCut(network, selectors, random);
  const sums = new Map(wanted.map((scope) => [scope.join(), [] as Float64Array[]]));
  let runs = 0;
  let entries = 0;
  let width = 0;
  let logTotal = 0;
  const touching: number[][] = network.sizes.map(() => []);
  for (const [index, { scope }] of network.factors.entries()) {
    for (const variable of scope) touching[variable].push(index);
  }
  const solve = (fixed: ReadonlyMap<number, number>, part: Network = network): SolvedNetwork => {
    const allowed = network.sizes.map((_, variable) => {
      const state = part.sizes[variable] > 1 ? fixed.get(variable) : undefined;
      return state === undefined ? null : [state];
    });
    const planned = planNetwork(part, random, 1, allowed);
    runs++;
    entries = Math.max(entries, planned.plan.entries);
    width = Math.max(width, planned.plan.width);
    return solvePlanned(part, planned);
  };
  for (let chain = 0; chain < CHAINS; chain++) {
    const state = findStart(network, cut, solve, random);
    if (!state) return null;
    for (const list of sums.values()) list.push(new Float64Array(0));
    const sweeps = Math.max(1, Math.min(mostSweeps, Math.floor(MOST_DRAWS / CHAINS / cut.length)));
    const burnIn = Math.ceil(sweeps / 4);
    for (let sweep = -burnIn; sweep < sweeps; sweep++) {
      for (const variable of cut) {
        const fixed = new Map(state);
        fixed.delete(variable);
        const near = partAround(network, touching, variable, fixed);
        state.set(variable, draw(solve(fixed, near).marginal([variable]), random));
      }
      if (sweep < 0) continue;
      const solved = solve(state);
      logTotal = solved.logTotal;
      for (const scope of wanted) {
        const list = sums.get(scope.join())!;
        const marginal = solved.marginal(scope);
        if (list[chain].length === 0) list[chain] = new Float64Array(marginal.length);
        for (let i = 0; i < marginal.length; i++) list[chain][i] += marginal[i] / sweeps;
      }
    }
  }
  let largest = 0;
  return {
    // The total itself is not estimated; that of the last draw given the rest is a lower bound.
    logTotal,
    width,
    entries,
    runs,
    error: () => largest,
    marginal: (scope) => {
      const chains = sums.get(scope.join());
      if (!chains) throw new Error('a sampled marginal must be named beforehand');
      return Float64Array.from(chains[0], (_, i) => {
        const mean = chains.reduce((sum, own) => sum + own[i], 0) / CHAINS;
        const spread = chains.reduce((sum, own) => sum + (own[i] - mean) ** 2, 0) / (CHAINS - 1);
        largest = Math.max(largest, Math.sqrt(spread / CHAINS));
        return mean;
      });
    },
  };
}

/** Variables to draw so that the rest can be summed out: selectors first, then those with the most neighbours. */
function chooseCut(network: Network, selectors: readonly number[], random: Random): number[] {
  const degree = network.sizes.map(() => 0);
  for (const { scope } of network.factors) for (const v of scope) degree[v] += scope.length - 1;
  const order = [
    ...selectors,
    ...network.sizes
      .map((_, variable) => variable)
      .filter((variable) => !selectors.includes(variable))
      .sort((a, b) => degree[b] - degree[a]),
  ];
  const fits = (count: number): boolean => {
    const fixed = new Set(order.slice(0, count));
    const sizes = network.sizes.map((size, variable) => (fixed.has(variable) ? 1 : size));
    const factors = network.factors.map(({ scope, table }) => ({
      scope: scope.filter((variable) => !fixed.has(variable)),
      table,
    }));
    return planNetworkEntries({ sizes, factors }, random) <= STEP_ENTRIES;
  };
  let [low, high] = [0, order.length];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (fits(middle)) high = middle;
    else low = middle;
  }
  return order.slice(0, high);
}

/** Entries by structure alone: the tables are not looked at. */
function planNetworkEntries(network: Network, random: Random): number {
  return eliminationOrder(network, random, 2).entries;
}

/** The factors that a variable is tied to once the fixed variables are known; all other variables shrink to one state. */
function partAround(
  network: Network,
  touching: readonly (readonly number[])[],
  start: number,
  fixed: ReadonlyMap<number, number>,
): Network {
  const reached = new Set([start]);
  const factors = new Set<number>();
  for (const variable of reached) {
    for (const index of touching[variable]) {
      if (factors.has(index)) continue;
      factors.add(index);
      for (const other of network.factors[index].scope) if (!fixed.has(other)) reached.add(other);
    }
  }
  const list = [...factors].map((index) => network.factors[index]);
  const inScope = new Set(list.flatMap(({ scope }) => scope));
  const sizes = network.sizes.map((size, variable) => (inScope.has(variable) ? size : 1));
  return { sizes, factors: list };
}

function findStart(
  network: Network,
  cut: readonly number[],
  solve: (fixed: ReadonlyMap<number, number>) => SolvedNetwork,
  random: Random,
): Map<number, number> | null {
  const attempts = Math.max(3, Math.floor(START_STEPS / cut.length));
  for (let attempt = 0; attempt < attempts; attempt++) {
    const state = new Map<number, number>();
    let alive: readonly (readonly number[])[] | null = null;
    for (const variable of cut) {
      const allowed = network.sizes.map((_, v) => (state.has(v) ? [state.get(v)!] : null));
      const reduced = deleteStates(network, allowed);
      if (!reduced.possible) break;
      alive = reduced.kept;
      const states = reduced.kept[variable];
      state.set(variable, states[random.below(states.length)]);
    }
    if (alive && state.size === cut.length && solve(state).logTotal > Number.NEGATIVE_INFINITY) {
      return state;
    }
  }
  return null;
}

function draw(chances: Float64Array, random: Random): number {
  let rest = random.next();
  for (let state = 0; state < chances.length; state++) {
    rest -= chances[state];
    if (rest < 0) return state;
  }
  return chances.findLastIndex((chance) => chance > 0);
}
