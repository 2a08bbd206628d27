import type { Random } from '@scutewright/basics';
import { JointQuery } from './joint-query.js';
import { tableSize } from './network.js';
import { Walk } from './table-walk.js';

/**
 * Every marginal of a network by one pass up and one down. Bucket elimination kept as a tree of
 * cliques (Lauritzen & Spiegelhalter 1988, J. R. Stat. Soc. B 50:157; division by the old message as in Jensen, Lauritzen & Olesen 1990,
 * with 0/0 = 0). Messages are rescaled to a largest entry of 1, so that nothing underflows.
 * The tree is laid out once by the scopes; the factors' tables may then change from pass to pass.
 */
export class CliqueTree {
  /** By variable: its clique, the one in which it is summed out; -1 for those of one state. */
  readonly position: Int32Array;
  /** By clique: its variables, its own (which is summed out) last. */
  readonly cliques: readonly (readonly number[])[];
  /** By clique: the one that holds all but its own variable; -1 for a root. Always higher. */
  readonly parents: Int32Array;
  private readonly children: readonly (readonly number[])[];
  /** By clique: the factors multiplied into it, and how their tables lie in its own. */
  private readonly factors: readonly (readonly { readonly index: number; readonly walk: Walk }[])[];
  /** By clique: how its message lies in its parent's table. */
  readonly upwards: Walk[] = [];
  /** By clique. For each state of the other variables, its own ones weigh as in the joint distribution; once lowered, all do. */
  readonly tables: Float64Array[] = [];
  /** By clique: its message of the last pass up. */
  private messages: Float64Array[] = [];
  /** By clique, 1: its table also holds what the rest of the tree says. */
  private readonly lowered: Uint8Array;

  /** `order` names every variable with more than one state. */
  constructor(
    readonly sizes: readonly number[],
    private readonly scopes: readonly (readonly number[])[],
    order: readonly number[],
  ) {
    this.position = new Int32Array(sizes.length).fill(-1);
    for (const [p, variable] of order.entries()) this.position[variable] = p;
    const assigned: number[][] = order.map(() => []);
    for (const [index, scope] of scopes.entries()) assigned[this.home(scope)].push(index);
    this.parents = new Int32Array(order.length).fill(-1);
    const children: number[][] = order.map(() => []);
    const cliques: number[][] = [];
    this.children = children;
    this.cliques = cliques;
    this.lowered = new Uint8Array(order.length);
    for (const [p, variable] of order.entries()) {
      const clique = this.cliqueOf(variable, assigned[p], children[p]);
      cliques.push(clique);
      for (const child of children[p]) {
        this.upwards[child] = new Walk(clique, separatorOf(cliques[child]), sizes);
      }
      if (clique.length > 1) {
        this.parents[p] = this.position[clique[clique.length - 2]];
        children[this.parents[p]].push(p);
      }
    }
    this.factors = assigned.map((list, p) =>
      list.map((index) => ({ index, walk: new Walk(cliques[p], scopes[index], sizes) })),
    );
  }

  /**
   * Natural logarithm of the total weight; -Infinity when it is 0. `tables[i]` is the table over the i-th scope. Half the time of
   * `calibrate` and little memory, but no marginals.
   */
  total(tables: readonly Float64Array[]): number {
    return this.passUp(tables, null);
  }

  /**
   * As `total`, and every marginal at hand afterwards unless it is -Infinity. Memory: the sum over cliques of their table entries,
   * 8 bytes each; called again, the same memory serves. Time: a few visits to each entry here, and as many again, only
   * for the cliques between what is read and the root, when a marginal is read.
   */
  calibrate(tables: readonly Float64Array[]): number {
    this.messages = [];
    this.lowered.fill(0);
    return this.passUp(tables, this.messages);
  }

  /** Keeps tables and messages where `kept` is given. */
  private passUp(tables: readonly Float64Array[], kept: Float64Array[] | null): number {
    const messages: Float64Array[] = kept ?? [];
    let logTotal = 0;
    for (const [p, clique] of this.cliques.entries()) {
      let table = this.tables[p];
      if (!table) table = new Float64Array(tableSize(clique, this.sizes));
      if (kept) this.tables[p] = table;
      table.fill(1);
      for (const { index, walk } of this.factors[p]) walk.multiply(table, tables[index]);
      for (const child of this.children[p]) {
        this.upwards[child].multiply(table, messages[child]);
        if (!kept) messages[child] = EMPTY;
      }
      const message = sumOutLast(table, this.sizes[clique[clique.length - 1]]);
      logTotal += rescale(message);
      if (logTotal === Number.NEGATIVE_INFINITY) break;
      messages.push(message);
    }
    return logTotal;
  }

  /** What the rest of the tree says comes down from the root to this clique, where it has not yet. */
  lower(clique: number): void {
    const path: number[] = [];
    for (let p = clique; p >= 0 && !this.lowered[p]; p = this.parents[p]) path.push(p);
    for (let step = path.length - 1; step >= 0; step--) {
      const p = path[step];
      if (this.parents[p] >= 0) this.takeFromParent(p);
      rescale(this.tables[p]);
      this.lowered[p] = 1;
    }
  }

  private takeFromParent(p: number): void {
    const table = this.tables[p];
    const message = this.messages[p];
    const outside = new Float64Array(message.length);
    this.upwards[p].addUp(this.tables[this.parents[p]], outside);
    rescale(outside);
    const inner = table.length / message.length;
    for (let s = 0; s < message.length; s++) {
      const ratio = message[s] > 0 ? outside[s] / message[s] : 0;
      for (let k = 0; k < inner; k++) table[s * inner + k] *= ratio;
    }
  }

  /** Variables of the bucket: latest eliminated first, so that the bucket's own variable is the fastest axis. */
  private cliqueOf(
    variable: number,
    factors: readonly number[],
    children: readonly number[],
  ): number[] {
    const members = new Set<number>([variable]);
    for (const index of factors) for (const v of this.scopes[index]) members.add(v);
    for (const child of children) for (const v of separatorOf(this.cliques[child])) members.add(v);
    return [...members].sort((a, b) => this.position[b] - this.position[a]);
  }

  /** The bucket of a scope: that of its first eliminated variable. */
  private home(scope: readonly number[]): number {
    let first = this.position[scope[0]];
    for (const variable of scope) first = Math.min(first, this.position[variable]);
    return first;
  }

  /** Joint probabilities of variables of the tree, in the order of `scope`, last fastest; sums to 1. Cheap where some clique holds them all. */
  marginal(scope: readonly number[]): Float64Array {
    return this.isTogether(scope)
      ? this.marginalReader(scope)()
      : new JointQuery(this, scope).answer();
  }

  /** Visits to table entries that a marginal takes. */
  costOf(scope: readonly number[]): number {
    return this.isTogether(scope)
      ? this.tables[this.home(scope)].length
      : new JointQuery(this, scope).cost;
  }

  private isTogether(scope: readonly number[]): boolean {
    const clique = this.cliques[this.home(scope)];
    return scope.every((variable) => clique.includes(variable));
  }

  /** As `marginal`, for variables that stand in some clique together (those of one factor do), read after many passes. */
  marginalReader(scope: readonly number[]): () => Float64Array {
    const p = this.home(scope);
    const walk = new Walk(this.cliques[p], scope, this.sizes);
    const size = tableSize(scope, this.sizes);
    return () => {
      this.lower(p);
      const result = new Float64Array(size);
      walk.addUp(this.tables[p], result);
      let total = 0;
      for (const value of result) total += value;
      for (let i = 0; i < result.length; i++) result[i] /= total;
      return result;
    };
  }

  /**
   * Draws all variables of the tree together from their joint distribution into `states`; the others stay as they are. Needs no
   * lowering: what the rest says is the same for every state of a clique's own variable.
   */
  draw(states: Int32Array, random: Random): void {
    const { sizes } = this;
    for (let p = this.cliques.length - 1; p >= 0; p--) {
      const clique = this.cliques[p];
      const variable = clique[clique.length - 1];
      let row = 0;
      for (const other of separatorOf(clique)) row = row * sizes[other] + states[other];
      row *= sizes[variable];
      const table = this.tables[p];
      let rest = 0;
      for (let state = 0; state < sizes[variable]; state++) rest += table[row + state];
      rest *= random.next();
      let state = 0;
      for (let next = 0; next < sizes[variable]; next++) {
        const weight = table[row + next];
        if (weight === 0) continue;
        state = next;
        rest -= weight;
        if (rest < 0) break;
      }
      states[variable] = state;
    }
  }
}

const EMPTY = new Float64Array(0);

function separatorOf(clique: readonly number[]): readonly number[] {
  return clique.slice(0, -1);
}

/** Divides by the largest entry and answers its logarithm (-Infinity for all zeros, which stay). */
function rescale(table: Float64Array): number {
  let largest = 0;
  for (let i = 0; i < table.length; i++) if (table[i] > largest) largest = table[i];
  if (largest === 0) return Number.NEGATIVE_INFINITY;
  if (largest !== 1) {
    const factor = 1 / largest;
    if (Number.isFinite(factor)) for (let i = 0; i < table.length; i++) table[i] *= factor;
    else for (let i = 0; i < table.length; i++) table[i] /= largest;
  }
  return Math.log(largest);
}

function sumOutLast(table: Float64Array, size: number): Float64Array {
  const result = new Float64Array(table.length / size);
  for (let s = 0, entry = 0; s < result.length; s++) {
    let sum = 0;
    for (let k = 0; k < size; k++) sum += table[entry++];
    result[s] = sum;
  }
  return result;
}
