import type { CliqueTree } from './clique-tree.js';
import { tableSize } from './network.js';
import { eachRun, Walk } from './table-walk.js';

/** Weights over variables that stay, each as so many lanes: one for every combination of the states of `of`, the last fastest. */
interface Message {
  readonly over: readonly number[];
  readonly of: readonly number[];
  readonly lanes: number;
  readonly table: Float64Array;
}

/** One clique on the ways from the variables asked for to where these ways meet. */
interface Step {
  readonly clique: number;
  /** Asked for and summed out here, or -1. */
  readonly own: number;
  /** Cliques below whose ways lead through this one. */
  readonly below: readonly number[];
  /** Where all ways of this tree meet: none leads further. */
  readonly isTop: boolean;
}

/**
 * The joint distribution of variables that stand in no clique together, from a calibrated tree: along the ways from each of them to where
 * the ways meet, each clique is the chance of its own variable given the others, and what was asked for is carried along (out-of-clique
 * query by variable elimination in a clique tree; Koller & Friedman 2009, Probabilistic Graphical Models, 10.3.3).
 */
export class JointQuery {
  private readonly steps: readonly Step[];
  /** Visits to table entries that the answer takes. */
  readonly cost: number;

  constructor(
    private readonly tree: CliqueTree,
    private readonly scope: readonly number[],
  ) {
    const ways = scope.map((variable) => wayUp(tree, tree.position[variable]));
    const passing = new Map<number, number>();
    for (const way of ways) {
      for (const clique of way) passing.set(clique, (passing.get(clique) ?? 0) + 1);
    }
    const below = new Map<number, number[]>();
    const tops = new Set<number>();
    for (const way of ways) {
      // A root is passed by all ways of its tree.
      const all = passing.get(way[way.length - 1]);
      const end = way.findIndex((clique) => passing.get(clique) === all);
      tops.add(way[end]);
      for (const [i, clique] of way.slice(0, end + 1).entries()) {
        const list = below.get(clique) ?? [];
        if (i > 0 && !list.includes(way[i - 1])) list.push(way[i - 1]);
        below.set(clique, list);
      }
    }
    this.steps = [...below.keys()]
      .sort((one, other) => one - other)
      .map((clique) => {
        const own = tree.cliques[clique][tree.cliques[clique].length - 1];
        return {
          clique,
          own: scope.includes(own) ? own : -1,
          below: below.get(clique)!,
          isTop: tops.has(clique),
        };
      });
    const carried = new Map<number, number>();
    let cost = 0;
    for (const { clique, own, below, isTop } of this.steps) {
      const factors = below.map((child) => carried.get(child)!);
      if (own >= 0) factors.push(tree.sizes[own]);
      const combinations = factors.reduce((product, factor) => product * factor, 1);
      carried.set(clique, combinations);
      const visited = isTop ? combinations / Math.max(...factors) : combinations;
      cost += visited * tableSize(tree.cliques[clique], tree.sizes);
    }
    this.cost = cost;
  }

  /** Joint probabilities in the order of the scope, last fastest; sums to 1. */
  answer(): Float64Array {
    const messages = new Map<number, Message>();
    let joint = NOTHING;
    for (const { clique, own, below, isTop } of this.steps) {
      const incoming = below.map((child) => messages.get(child)!);
      for (const child of below) messages.delete(child);
      if (own >= 0) incoming.push(statesOf(own, this.tree.sizes));
      if (isTop) joint = apart(joint, this.meet(clique, incoming));
      else messages.set(clique, this.passUp(clique, incoming));
    }
    return this.inOrder(joint);
  }

  /** A clique's message, its own variable summed out. */
  private passUp(p: number, incoming: readonly Message[]): Message {
    const { tree } = this;
    const over = tree.cliques[p].slice(0, -1);
    const message = this.addUp(p, over, incoming);
    const { lanes, table } = message;
    const size = tree.sizes[tree.cliques[p][over.length]];
    const base = tree.tables[p];
    for (let row = 0, entry = 0; entry < base.length; row++) {
      let all = 0;
      for (let state = 0; state < size; state++) all += base[entry++];
      if (all === 0) continue;
      for (let k = row * lanes; k < (row + 1) * lanes; k++) table[k] /= all;
    }
    return message;
  }

  /** The joint weights of all that comes in, where nothing leads further; the one with the most lanes is met last. */
  private meet(p: number, incoming: readonly Message[]): Message {
    this.tree.lower(p);
    const [most, ...others] = incoming.toSorted((a, b) => b.lanes - a.lanes);
    const narrow = this.addUp(p, most.over, others);
    const lanes = narrow.lanes * most.lanes;
    const table = new Float64Array(lanes);
    for (let from = 0, k = 0; from < most.table.length; from += most.lanes) {
      for (let to = 0; to < lanes; k++) {
        const weight = narrow.table[k];
        for (let n = from; n < from + most.lanes; n++) table[to++] += weight * most.table[n];
      }
    }
    return { over: [], of: [...narrow.of, ...most.of], lanes, table };
  }

  /** The clique's table times all that comes in, summed to the variables of `over`. */
  private addUp(p: number, over: readonly number[], given: readonly Message[]): Message {
    const { cliques, sizes, tables } = this.tree;
    const incoming = given.length > 0 ? given : [NOTHING];
    const to = new Walk(cliques[p], over, sizes);
    const from = incoming.map((message) => new Walk(cliques[p], message.over, sizes));
    const last = incoming.length - 1;
    const run = to.inner.length;
    const products: Float64Array[] = [];
    let lanes = 1;
    for (const message of incoming) {
      lanes *= message.lanes;
      products.push(new Float64Array(run * lanes));
    }
    const table = new Float64Array(tableSize(over, sizes) * lanes);
    eachRun([to, ...from], (entry, bases) => {
      let product = tables[p].subarray(entry, entry + run);
      for (let m = 0; m < last; m++) {
        multiplyOut(product, incoming[m], from[m].inner, bases[m + 1], products[m]);
        product = products[m];
      }
      const [rows, base] = [from[last].inner, bases[last + 1]];
      addProducts(product, incoming[last], rows, base, table, to.inner, bases[0]);
    });
    return { over, of: incoming.flatMap(({ of }) => of), lanes, table };
  }

  private inOrder({ of, table }: Message): Float64Array {
    const result = new Float64Array(table.length);
    new Walk(of, this.scope, this.tree.sizes).addUp(table, result);
    const total = result.reduce((sum, weight) => sum + weight, 0);
    return result.map((weight) => weight / total);
  }
}

const NOTHING: Message = { over: [], of: [], lanes: 1, table: new Float64Array([1]) };

function wayUp(tree: CliqueTree, from: number): number[] {
  const way: number[] = [];
  for (let clique = from; clique >= 0; clique = tree.parents[clique]) way.push(clique);
  return way;
}

/** For each entry of a run its lanes times those of a message's row, the message's fastest. */
function multiplyOut(
  run: Float64Array,
  { lanes, table }: Message,
  rows: Int32Array,
  base: number,
  product: Float64Array,
): void {
  const before = run.length / rows.length;
  for (let i = 0, k = 0, to = 0; i < rows.length; i++) {
    const from = (base + rows[i]) * lanes;
    for (const end = k + before; k < end; k++) {
      const weight = run[k];
      for (let n = from; n < from + lanes; n++) product[to++] = weight * table[n];
    }
  }
}

/** As `multiplyOut`, each entry added to a row of the sums instead. */
function addProducts(
  run: Float64Array,
  { lanes, table }: Message,
  rows: Int32Array,
  base: number,
  sums: Float64Array,
  sumRows: Int32Array,
  sumBase: number,
): void {
  const before = run.length / rows.length;
  for (let i = 0, k = 0; i < rows.length; i++) {
    const from = (base + rows[i]) * lanes;
    let to = (sumBase + sumRows[i]) * before * lanes;
    for (const end = k + before; k < end; k++) {
      const weight = run[k];
      for (let n = from; n < from + lanes; n++) sums[to++] += weight * table[n];
    }
  }
}

/** A variable's states told apart, as a message of its own clique. */
function statesOf(variable: number, sizes: readonly number[]): Message {
  const size = sizes[variable];
  const table = Float64Array.from({ length: size * size }, (_, at) =>
    Number(at % (size + 1) === 0),
  );
  return { over: [variable], of: [variable], lanes: size, table };
}

/** Of two trees of the forest, which are independent. */
function apart(one: Message, other: Message): Message {
  const table = Float64Array.from(
    { length: one.lanes * other.lanes },
    (_, at) => one.table[Math.floor(at / other.lanes)] * other.table[at % other.lanes],
  );
  return { over: [], of: [...one.of, ...other.of], lanes: table.length, table };
}
