import type { Random } from '@scutewright/basics';
import { CliqueTree } from './clique-tree.js';
import { type DeletedStates, deleteStates } from './delete-states.js';
import { type EliminationOrder, eliminationOrder } from './elimination-order.js';
import { type Network, tableSize } from './network.js';

/** A network made small and given an order, its cost known, nothing computed yet. */
export interface PlannedNetwork {
  readonly reduced: DeletedStates;
  readonly plan: EliminationOrder;
}

export interface SolvedNetwork {
  /** Natural logarithm of the total weight; -Infinity when the factors contradict one another. */
  readonly logTotal: number;
  /**
   * Joint probabilities over variables that stand in one factor together, in their full states, last fastest. Only
   * where the total is positive.
   */
  marginal(scope: readonly number[]): Float64Array;
}

/** Solved exactly: the variables of a marginal may stand anywhere. */
export interface ExactNetwork extends SolvedNetwork {
  /** Visits to table entries that a marginal takes. */
  costOf(scope: readonly number[]): number;
}

/**
 * Deletes impossible states and orders the rest; `entries` of the plan says what solving will cost, Infinity where it would be more
 * than `most`.
 */
export function planNetwork(
  network: Network,
  random: Random,
  restarts: number,
  most: number,
  allowed?: readonly (readonly number[] | null)[],
): PlannedNetwork {
  const reduced = deleteStates(network, allowed);
  const plan = reduced.possible
    ? (eliminationOrder(reduced.network, random, restarts, most + 1) ?? TOO_LARGE)
    : { order: [], entries: 0, width: 0 };
  return { reduced, plan };
}

/** Exact marginals of a planned network, by one clique tree. */
export function solvePlanned(network: Network, planned: PlannedNetwork): ExactNetwork {
  const { reduced } = planned;
  if (!reduced.possible) return IMPOSSIBLE;
  const tree = treeOf(planned);
  return {
    logTotal: tree.calibrate(tablesOf(planned)) + reduced.logConstant,
    marginal: (scope) => spread(reduced, network.sizes, scope, (open) => tree.marginal(open)),
    costOf: (scope) => {
      const open = openOf(reduced, scope);
      return open.length > 0 ? tree.costOf(open) : 0;
    },
  };
}

/** Only the total weight of a planned network: half the time, little memory. */
export function totalOfPlanned(planned: PlannedNetwork): number {
  const { reduced } = planned;
  if (!reduced.possible) return Number.NEGATIVE_INFINITY;
  return treeOf(planned).total(tablesOf(planned)) + reduced.logConstant;
}

function treeOf({ reduced, plan }: PlannedNetwork): CliqueTree {
  const { sizes, factors } = reduced.network;
  const scopes = factors.map(({ scope }) => scope);
  return new CliqueTree(sizes, scopes, plan.order);
}

function tablesOf({ reduced }: PlannedNetwork): Float64Array[] {
  return reduced.network.factors.map(({ table }) => table);
}

const TOO_LARGE: EliminationOrder = { order: [], entries: Number.POSITIVE_INFINITY, width: 0 };

const IMPOSSIBLE: ExactNetwork = {
  logTotal: Number.NEGATIVE_INFINITY,
  marginal: () => {
    throw new Error('there is no marginal of records that cannot all be true');
  },
  costOf: () => 0,
};

/** Those with more than one state left. */
function openOf({ kept }: DeletedStates, scope: readonly number[]): number[] {
  return scope.filter((variable) => kept[variable].length > 1);
}

/** A marginal over all states of `scope`, from that over the variables and states that are left. */
export function spread(
  reduced: DeletedStates,
  sizes: readonly number[],
  scope: readonly number[],
  marginal: (open: readonly number[]) => Float64Array,
): Float64Array {
  const open = openOf(reduced, scope);
  const compact = open.length > 0 ? marginal(open) : ONE;
  if (open.length === scope.length && compact.length === tableSize(scope, sizes)) return compact;
  const full = new Float64Array(tableSize(scope, sizes));
  const counter = new Int32Array(open.length);
  for (const value of compact) {
    let entry = 0;
    let next = 0;
    for (const variable of scope) {
      const kept = reduced.kept[variable];
      const state = kept.length > 1 ? kept[counter[next++]] : kept[0];
      entry = entry * sizes[variable] + state;
    }
    full[entry] = value;
    for (let axis = open.length - 1; axis >= 0; axis--) {
      if (++counter[axis] < reduced.kept[open[axis]].length) break;
      counter[axis] = 0;
    }
  }
  return full;
}

const ONE = new Float64Array([1]);
