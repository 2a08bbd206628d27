import { type Random, seededRandom } from '@scutewright/basics';
import { deleteStates } from './delete-states.js';
import { eliminationOrder } from './elimination-order.js';
import type { Factor, Network } from './network.js';
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
const MOST_DRAWS = 6_000;
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
  const scopes = new Map(wanted.map((scope) => [scope.join(), scope]));
  let runs = 0;
  let entries = 0;
  let width = 0;
  let logTotal = 0;
  const touching: number[][] = network.sizes.map(() => []);
  for (const [index, { scope }] of network.factors.entries()) {
    for (const variable of scope) touching[variable].push(index);
  }
  const solve = (fixed: ReadonlyMap<number, number>): SolvedNetwork => {
    const allowed = network.sizes.map((_, variable) => {
      const state = fixed.get(variable);
      return state === undefined ? null : [state];
    });
    const planned = planNetwork(network, random, 1, allowed);
    runs++;
    entries = Math.max(entries, planned.plan.entries);
    width = Math.max(width, planned.plan.width);
    return solvePlanned(network, planned);
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
        const planned = planNetwork(near, random, 1);
        runs++;
        state.set(variable, draw(solvePlanned(near, planned).marginal([0]), random));
      }
      if (sweep < 0) continue;
      const solved = solve(state);
      logTotal = solved.logTotal;
      for (const [key, scope] of scopes) {
        const list = sums.get(key)!;
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

/** A variable and what it is tied to once the fixed variables are known, as a small network in which it is number 0. */
function partAround(
  network: Network,
  touching: readonly (readonly number[])[],
  start: number,
  fixed: ReadonlyMap<number, number>,
): Network {
  const local = new Map([[start, 0]]);
  const taken = new Set<number>();
  const factors: Factor[] = [];
  // A Map is walked in the order of insertion, also over what is added meanwhile.
  for (const variable of local.keys()) {
    for (const index of touching[variable]) {
      if (taken.has(index)) continue;
      taken.add(index);
      const factor = network.factors[index];
      for (const other of factor.scope) {
        if (!fixed.has(other) && !local.has(other)) local.set(other, local.size);
      }
      factors.push(slice(factor, network.sizes, fixed, local));
    }
  }
  return { sizes: Array.from(local.keys(), (variable) => network.sizes[variable]), factors };
}

/** A factor with the fixed variables at their states, over local numbers. */
function slice(
  { scope, table }: Factor,
  sizes: readonly number[],
  fixed: ReadonlyMap<number, number>,
  local: ReadonlyMap<number, number>,
): Factor {
  let from = 0;
  let stride = 1;
  const open: { variable: number; size: number; stride: number }[] = [];
  for (let axis = scope.length - 1; axis >= 0; axis--) {
    const variable = scope[axis];
    const state = fixed.get(variable);
    if (state === undefined) open.unshift({ variable, size: sizes[variable], stride });
    else from += state * stride;
    stride *= sizes[variable];
  }
  let offsets = [from];
  for (const { size, stride: step } of open) {
    offsets = offsets.flatMap((at) =>
      Array.from({ length: size }, (_, state) => at + state * step),
    );
  }
  return {
    scope: open.map(({ variable }) => local.get(variable)!),
    table: Float64Array.from(offsets, (at) => table[at]),
  };
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
