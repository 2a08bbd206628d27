import type { Random } from '@scutewright/basics';
import type { Network } from './network.js';
import { type PlannedNetwork, planNetwork, totalOfPlanned } from './solve-network.js';

export interface DoubtfulDeleted {
  readonly planned: PlannedNetwork;
  /**
   * Share of the probability of the records that went with the deleted states, to first order: each doubtful record
   * wrong by itself. Two wrong at once are neglected.
   */
  readonly deletedMass: number;
  readonly runs: number;
}

/** Shares below which a doubtful state is deleted: the first that brings the tables within the budget. */
const LADDER = [1e-4, 1e-3, 1e-2];
/** Entries that a trial with one record free may take. */
const TRIAL_ENTRIES = 2 ** 22;

/**
 * Makes a network small by deleting states that only a misread or a wrong test would explain, unless their share is worth
 * keeping. `doubtful[v]` lists such states. Null when even without them the tables pass `most` entries.
 * Each doubtful variable costs one trial: total weight with that variable free and all others as read.
 */
export function deleteDoubtful(
  network: Network,
  doubtful: ReadonlyMap<number, readonly number[]>,
  most: number,
  random: Random,
): DoubtfulDeleted | null {
  const clamped = new Map(doubtful);
  let runs = 0;
  const plan = (
    closed: ReadonlyMap<number, readonly number[]>,
    restarts: number,
    atMost: number,
  ): PlannedNetwork =>
    planNetwork(network, random, restarts, atMost, allowedWithout(network, closed));
  const total = (closed: ReadonlyMap<number, readonly number[]>): number => {
    runs++;
    const trial = Math.min(most, TRIAL_ENTRIES);
    const planned = plan(closed, 2, trial);
    if (planned.plan.entries > trial) return Number.NaN;
    return totalOfPlanned(planned);
  };
  // Where reading everything as seen is impossible, the records in the conflict are set free first.
  let base = total(clamped);
  while (base === Number.NEGATIVE_INFINITY) {
    const culprit = firstImpossible([...clamped], total);
    if (culprit === null) return null;
    clamped.delete(culprit);
    base = total(clamped);
  }
  if (Number.isNaN(base)) return null;
  const shares = new Map<number, number>();
  for (const variable of clamped.keys()) {
    const others = new Map(clamped);
    others.delete(variable);
    const log = total(others);
    shares.set(
      variable,
      Number.isNaN(log) ? Number.POSITIVE_INFINITY : Math.max(0, Math.expm1(log - base)),
    );
  }
  /** What the deleted states would add, one at a time, beside all that was kept. */
  const massOf = (
    closed: ReadonlyMap<number, readonly number[]>,
    planned: PlannedNetwork,
  ): number => {
    const kept = planned.plan.entries <= TRIAL_ENTRIES ? totalOfPlanned(planned) : Number.NaN;
    let sum = 0;
    for (const variable of closed.keys()) {
      const others = new Map(closed);
      others.delete(variable);
      const log = Number.isNaN(kept) ? Number.NaN : total(others);
      sum += Number.isNaN(log) ? shares.get(variable)! : Math.max(0, Math.expm1(log - kept));
    }
    return sum / (1 + sum);
  };
  for (const threshold of LADDER) {
    const closed = new Map([...clamped].filter(([variable]) => shares.get(variable)! <= threshold));
    const planned = plan(closed, 8, most);
    if (planned.plan.entries > most) continue;
    return { planned, deletedMass: massOf(closed, planned), runs };
  }
  return null;
}

/** The variable whose closing first makes the network impossible, closing them in order; null when it was so before any. */
function firstImpossible(
  entries: readonly (readonly [number, readonly number[]])[],
  total: (closed: ReadonlyMap<number, readonly number[]>) => number,
): number | null {
  const impossible = (count: number): boolean =>
    total(new Map(entries.slice(0, count))) === Number.NEGATIVE_INFINITY;
  if (entries.length === 0 || impossible(0)) return null;
  let [low, high] = [0, entries.length];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (impossible(middle)) high = middle;
    else low = middle;
  }
  return entries[high - 1][0];
}

function allowedWithout(
  network: Network,
  closed: ReadonlyMap<number, readonly number[]>,
): (readonly number[] | null)[] {
  return network.sizes.map((size, variable) => {
    const out = closed.get(variable);
    if (!out) return null;
    return Array.from({ length: size }, (_, state) => state).filter(
      (state) => !out.includes(state),
    );
  });
}
