import type { Random } from '@scutewright/basics';
import type { Network } from './network.js';

export interface EliminationOrder {
  /** Variables in the order in which they are summed out; those of one state are left out. */
  readonly order: readonly number[];
  /** Entries of all clique tables together. */
  readonly entries: number;
  /** Variables of the largest clique, minus one. */
  readonly width: number;
}

/** Above this many table entries three times as many attempts are worth their time. */
const WORTH_MORE = 2 ** 18;

/** Below this many table entries a better order saves less time than looking for it takes. */
const GOOD_ENOUGH = 2 ** 12;

/**
 * An order in which to sum variables out, small in table entries (not merely in width): greedy by fewest fill-ins
 * and by smallest table, each with random ties, `restarts` times (three times as many where the tables stay large), best kept.
 * Null where every attempt comes to `most` entries or more: it is left there, since a very entangled network takes minutes to order.
 * Source: Kjaerulff 1990, Triangulation of graphs (min-fill, min-weight). Cost per attempt about n^2 / 32 + n d^2 for n variables
 * of degree d.
 */
export function eliminationOrder(
  network: Network,
  random: Random,
  restarts: number,
  most: number,
): EliminationOrder | null {
  const graph = new Graph(network);
  let best: EliminationOrder | null = null;
  for (let attempt = 0; attempt < restarts * 3; attempt++) {
    if (attempt >= restarts && (!best || best.entries < WORTH_MORE)) break;
    const rule = attempt % 2 === 0 ? 'fill' : 'weight';
    const found = graph.eliminate(rule, random, best?.entries ?? most);
    if (found) best = found;
    if (best && best.entries <= GOOD_ENOUGH) break;
  }
  return best;
}

/** An order for all variables but a few, which are taken as known. */
export interface ThinOrder extends EliminationOrder {
  /** By variable, 1: taken as known. */
  readonly fixed: Uint8Array;
}

/**
 * An order by smallest table in which a variable is taken as known whenever every next table would pass `mostClique` entries: the
 * one with the most neighbours there, those least often fixed before (`timesFixed`) first.
 */
export function thinOrder(
  network: Network,
  random: Random,
  mostClique: number,
  timesFixed: Float64Array,
): ThinOrder {
  return new Graph(network).thin(random, mostClique, timesFixed);
}

/** Table entries that a given order needs on a network whose states may be fewer than when it was found. */
export function entriesOf(network: Network, order: readonly number[]): EliminationOrder {
  return new Graph(network).measure(order);
}

/** By how much less a variable is worth fixing for every time it has been. */
const FIXED_AGAIN = 1.5;

class Graph {
  private readonly variables: number[] = [];
  private readonly weights: Float64Array;
  private readonly words: number;
  private readonly edges: Int32Array;

  private readonly sizes: number;

  constructor(network: Network) {
    this.sizes = network.sizes.length;
    const local = new Int32Array(network.sizes.length).fill(-1);
    for (const [variable, size] of network.sizes.entries()) {
      if (size === 1) continue;
      local[variable] = this.variables.length;
      this.variables.push(variable);
    }
    const n = this.variables.length;
    this.weights = Float64Array.from(this.variables, (variable) => network.sizes[variable]);
    this.words = (n + 31) >> 5;
    this.edges = new Int32Array(n * this.words);
    for (const { scope } of network.factors) {
      for (const first of scope) {
        for (const second of scope) {
          const a = local[first];
          const b = local[second];
          if (a >= 0 && b >= 0 && a !== b) this.edges[a * this.words + (b >> 5)] |= 1 << (b & 31);
        }
      }
    }
  }

  /** One greedy attempt; null once it comes to `limit` entries. */
  eliminate(rule: 'fill' | 'weight', random: Random, limit: number): EliminationOrder | null {
    const { words, weights } = this;
    const n = weights.length;
    const edges = this.edges.slice();
    const neighbours = Array.from(weights, (_, v) => listBits(edges, v * words, words));
    const score = new Float64Array(n);
    const gone = new Uint8Array(n);
    const rate = (v: number): number =>
      rule === 'fill'
        ? fillIns(edges, words, neighbours[v])
        : product(weights, neighbours[v]) * weights[v];
    for (let v = 0; v < n; v++) score[v] = rate(v);
    const order: number[] = [];
    let entries = 0;
    let width = 0;
    const dirty = new Uint8Array(n);
    for (let step = 0; step < n; step++) {
      let chosen = -1;
      let ties = 0;
      for (let v = 0; v < n; v++) {
        if (gone[v]) continue;
        if (chosen < 0 || score[v] < score[chosen]) {
          chosen = v;
          ties = 1;
        } else if (score[v] === score[chosen] && random.below(++ties) === 0) {
          chosen = v;
        }
      }
      const around = neighbours[chosen];
      entries += product(weights, around) * weights[chosen];
      if (entries >= limit) return null;
      width = Math.max(width, around.length);
      gone[chosen] = 1;
      order.push(this.variables[chosen]);
      for (const u of around) {
        dirty[u] = 1;
        neighbours[u].splice(neighbours[u].indexOf(chosen), 1);
        edges[u * words + (chosen >> 5)] &= ~(1 << (chosen & 31));
      }
      for (let i = 0; i < around.length; i++) {
        const u = around[i];
        for (let j = i + 1; j < around.length; j++) {
          const w = around[j];
          if ((edges[u * words + (w >> 5)] >>> (w & 31)) & 1) continue;
          edges[u * words + (w >> 5)] |= 1 << (w & 31);
          edges[w * words + (u >> 5)] |= 1 << (u & 31);
          // A new edge can only lower the fill-ins of those that know both its ends.
          for (const x of neighbours[u])
            if ((edges[w * words + (x >> 5)] >>> (x & 31)) & 1) dirty[x] = 1;
          neighbours[u].push(w);
          neighbours[w].push(u);
        }
      }
      for (const u of around) {
        if (rule === 'weight') dirty[u] = 0;
        if (rule === 'weight') score[u] = rate(u);
      }
      if (rule === 'fill') {
        for (let v = 0; v < n; v++) {
          if (!dirty[v]) continue;
          dirty[v] = 0;
          if (!gone[v]) score[v] = rate(v);
        }
      }
    }
    return { order, entries, width };
  }

  thin(random: Random, mostClique: number, timesFixed: Float64Array): ThinOrder {
    const { words, weights } = this;
    const n = weights.length;
    const edges = this.edges.slice();
    const neighbours = Array.from(weights, (_, v) => new Set(listBits(edges, v * words, words)));
    const gone = new Uint8Array(n);
    const fixed = new Uint8Array(this.sizes);
    const rate = (v: number): number => {
      let size = weights[v];
      for (const u of neighbours[v]) size *= weights[u];
      return size;
    };
    const score = Float64Array.from(weights, (_, v) => rate(v));
    const order: number[] = [];
    let entries = 0;
    let width = 0;
    for (let step = 0; step < n; step++) {
      let chosen = -1;
      let ties = 0;
      for (let v = 0; v < n; v++) {
        if (gone[v]) continue;
        if (chosen < 0 || score[v] < score[chosen]) {
          chosen = v;
          ties = 1;
        } else if (score[v] === score[chosen] && random.below(++ties) === 0) {
          chosen = v;
        }
      }
      const around = neighbours[chosen];
      if (score[chosen] > mostClique) {
        const worth = (v: number): number =>
          neighbours[v].size * FIXED_AGAIN ** -timesFixed[this.variables[v]];
        for (const v of around) if (worth(v) > worth(chosen)) chosen = v;
        fixed[this.variables[chosen]] = 1;
        for (const u of neighbours[chosen]) neighbours[u].delete(chosen);
      } else {
        entries += score[chosen];
        width = Math.max(width, around.size);
        order.push(this.variables[chosen]);
        for (const u of around) {
          neighbours[u].delete(chosen);
          for (const w of around) if (u !== w) neighbours[u].add(w);
        }
      }
      gone[chosen] = 1;
      for (const u of neighbours[chosen]) score[u] = rate(u);
    }
    return { order, entries, width, fixed };
  }

  measure(order: readonly number[]): EliminationOrder {
    const { words, weights } = this;
    const edges = this.edges.slice();
    const local = new Map(this.variables.map((variable, v) => [variable, v]));
    let entries = 0;
    let width = 0;
    const kept: number[] = [];
    for (const variable of order) {
      const v = local.get(variable);
      if (v === undefined) continue;
      kept.push(variable);
      const around = listBits(edges, v * words, words);
      entries += product(weights, around) * weights[v];
      width = Math.max(width, around.length);
      for (const u of around) {
        for (let k = 0; k < words; k++) edges[u * words + k] |= edges[v * words + k];
        edges[u * words + (u >> 5)] &= ~(1 << (u & 31));
        edges[u * words + (v >> 5)] &= ~(1 << (v & 31));
      }
    }
    return { order: kept, entries, width };
  }
}

function listBits(edges: Int32Array, from: number, words: number): number[] {
  const list: number[] = [];
  for (let k = 0; k < words; k++) {
    let word = edges[from + k];
    while (word !== 0) {
      const bit = 31 - Math.clz32(word & -word);
      list.push((k << 5) + bit);
      word &= word - 1;
    }
  }
  return list;
}

function product(weights: Float64Array, list: readonly number[]): number {
  let total = 1;
  for (const v of list) total *= weights[v];
  return total;
}

/** Pairs of these variables that are not neighbours of one another. */
function fillIns(edges: Int32Array, words: number, around: readonly number[]): number {
  let missing = 0;
  for (let i = 0; i < around.length; i++) {
    const row = around[i] * words;
    for (let j = i + 1; j < around.length; j++) {
      const w = around[j];
      missing += ((edges[row + (w >> 5)] >>> (w & 31)) & 1) ^ 1;
    }
  }
  return missing;
}
