import type { Factor, Network } from './network.js';

export interface DeletedStates {
  /** False when some variable lost its last state: the factors contradict one another. */
  readonly possible: boolean;
  /** By variable: its states that are left, ascending. */
  readonly kept: readonly (readonly number[])[];
  /** The same variables with the states left, renumbered; variables with one state are in no scope any more. */
  readonly network: Network;
  /** By factor of the input: its position in `network.factors`; -1 where only a constant was left of it. */
  readonly position: Int32Array;
  /** Natural logarithm of the constants that fell out. */
  readonly logConstant: number;
}

/**
 * Deletes states that no combination of the other variables of some factor supports, until nothing changes
 * (generalised arc consistency; Mackworth 1977, Artificial Intelligence 8:99, doi 10.1016/0004-3702(77)90007-8).
 * No total changes: only entries of weight 0 go. `allowed[v]`, if given, are the states to start from.
 * Cost: every factor's table a few times.
 */
export function deleteStates(
  network: Network,
  allowed?: readonly (readonly number[] | null)[],
): DeletedStates {
  const { alive } = new SupportedStates(network, allowed);
  const kept = alive.map((mask) => {
    const states: number[] = [];
    for (let state = 0; state < mask.length; state++) if (mask[state]) states.push(state);
    return states;
  });
  let possible = kept.every((states) => states.length > 0);
  const factors: Factor[] = [];
  const position = new Int32Array(network.factors.length).fill(-1);
  let logConstant = 0;
  if (possible) {
    for (const [index, factor] of network.factors.entries()) {
      const compact = restrict(factor, network.sizes, kept);
      if (compact.scope.length === 0) {
        if (compact.table[0] === 0) possible = false;
        logConstant += Math.log(compact.table[0]);
      } else {
        position[index] = factors.length;
        factors.push(compact);
      }
    }
  }
  const sizes = kept.map((states) => states.length);
  return { possible, kept, network: { sizes, factors }, position, logConstant };
}

/** Which states are supported, kept up to date while variables are set one after another. */
export class SupportedStates {
  /** By variable, by state, 1: supported. A variable without any: the factors contradict one another. */
  readonly alive: readonly Uint8Array[];
  private readonly touching: readonly number[][];
  private readonly queued: Uint8Array;

  constructor(
    private readonly network: Network,
    allowed?: readonly (readonly number[] | null)[],
  ) {
    const { sizes, factors } = network;
    this.alive = sizes.map((size, variable) => {
      const states = allowed?.[variable];
      if (!states) return new Uint8Array(size).fill(1);
      const mask = new Uint8Array(size);
      for (const state of states) mask[state] = 1;
      return mask;
    });
    this.touching = sizes.map(() => []);
    for (const [index, { scope }] of factors.entries()) {
      for (const variable of scope) this.touching[variable].push(index);
    }
    this.queued = new Uint8Array(factors.length).fill(1);
    this.settle(factors.map((_, index) => index));
  }

  /** Sets a variable; answers whether every variable has a state left. */
  set(variable: number, state: number): boolean {
    this.alive[variable].fill(0);
    this.alive[variable][state] = 1;
    const near = [...this.touching[variable]];
    for (const index of near) this.queued[index] = 1;
    return this.settle(near);
  }

  /** The states as they are now, to come back to by `restore`. */
  save(): Uint8Array[] {
    return this.alive.map((mask) => mask.slice());
  }

  restore(saved: readonly Uint8Array[]): void {
    for (const [variable, mask] of saved.entries()) this.alive[variable].set(mask);
  }

  private settle(queue: number[]): boolean {
    const { network, alive, touching, queued } = this;
    let possible = true;
    for (let head = 0; head < queue.length; head++) {
      const index = queue[head];
      queued[index] = 0;
      for (const variable of revise(network.factors[index], network.sizes, alive)) {
        possible &&= alive[variable].includes(1);
        for (const other of touching[variable]) {
          if (other === index || queued[other]) continue;
          queued[other] = 1;
          queue.push(other);
        }
      }
    }
    return possible;
  }
}

/** Deletes the unsupported states of one factor's variables; answers the variables that lost some. */
function revise(factor: Factor, sizes: readonly number[], alive: readonly Uint8Array[]): number[] {
  const { scope, table } = factor;
  const width = scope.length;
  const support = scope.map((variable) => new Uint8Array(sizes[variable]));
  let unsupported = 0;
  for (const variable of scope) {
    for (const state of alive[variable]) unsupported += state;
  }
  const counter = new Int32Array(width);
  for (let entry = 0; entry < table.length && unsupported > 0; entry++) {
    if (table[entry] > 0) {
      let axis = 0;
      while (axis < width && alive[scope[axis]][counter[axis]]) axis++;
      if (axis === width) {
        for (axis = 0; axis < width; axis++) {
          if (support[axis][counter[axis]]) continue;
          support[axis][counter[axis]] = 1;
          unsupported--;
        }
      }
    }
    for (let axis = width - 1; axis >= 0; axis--) {
      if (++counter[axis] < sizes[scope[axis]]) break;
      counter[axis] = 0;
    }
  }
  const changed: number[] = [];
  if (unsupported === 0) return changed;
  for (const [axis, variable] of scope.entries()) {
    let lost = false;
    for (let state = 0; state < sizes[variable]; state++) {
      if (!alive[variable][state] || support[axis][state]) continue;
      alive[variable][state] = 0;
      lost = true;
    }
    if (lost) changed.push(variable);
  }
  return changed;
}

/** The factor over the kept states only, without the variables that have one left. */
function restrict(
  factor: Factor,
  sizes: readonly number[],
  kept: readonly (readonly number[])[],
): Factor {
  const { scope, table } = factor;
  let base = 0;
  const open: number[] = [];
  const offsets: Int32Array[] = [];
  let stride = 1;
  for (let axis = scope.length - 1; axis >= 0; axis--) {
    const variable = scope[axis];
    const states = kept[variable];
    if (states.length === 1) {
      base += states[0] * stride;
    } else {
      open.unshift(variable);
      offsets.unshift(Int32Array.from(states, (state) => state * stride));
    }
    stride *= sizes[variable];
  }
  let size = 1;
  for (const axis of offsets) size *= axis.length;
  if (size === table.length) return open.length === scope.length ? factor : { scope: open, table };
  const compact = new Float64Array(size);
  const counter = new Int32Array(open.length);
  for (let entry = 0; entry < size; entry++) {
    let from = base;
    for (let axis = 0; axis < open.length; axis++) from += offsets[axis][counter[axis]];
    compact[entry] = table[from];
    for (let axis = open.length - 1; axis >= 0; axis--) {
      if (++counter[axis] < offsets[axis].length) break;
      counter[axis] = 0;
    }
  }
  return { scope: open, table: compact };
}
