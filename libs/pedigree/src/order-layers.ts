/** Vertices on layers, edges between neighbouring layers only, each from the upper to the lower one. */
export interface LayeredGraph {
  readonly layer: Int32Array;
  readonly edges: readonly (readonly [number, number])[];
}

export interface LayerOrder {
  /** Horizontal place by vertex; vertices of one layer are at least 1 apart. */
  readonly x: Float64Array;
  readonly crossings: number;
  readonly width: number;
}

const SWEEPS = 24;
/** Passes that pull vertices over their neighbours once the order stands. */
const STRAIGHTENINGS = 8;

/** Orders each layer for few crossings by barycentre sweeps, keeps the best order met, then straightens the lines. */
export function orderLayers({ layer, edges }: LayeredGraph): LayerOrder {
  const up = neighbours(layer.length, edges, 1);
  const down = neighbours(layer.length, edges, 0);
  const order = firstOrder(layer, down, up);
  const place = new Float64Array(layer.length);
  for (const list of order) settle(list, place);
  let best = order.map((list) => list.slice());
  let fewest = countCrossings(order, down, place);
  for (let sweep = 0; sweep < SWEEPS && fewest > 0; sweep++) {
    const isDown = sweep % 2 === 0;
    for (let k = 1; k < order.length; k++) {
      const list = order[isDown ? k : order.length - 1 - k];
      sortByNeighbours(list, isDown ? up : down, place);
      settle(list, place);
    }
    const crossings = countCrossings(order, down, place);
    if (crossings < fewest) {
      fewest = crossings;
      best = order.map((list) => list.slice());
    }
  }
  const x = straighten(best, up, down, layer.length);
  let width = 0;
  for (const each of x) width = Math.max(width, each + 1);
  return { x, crossings: fewest, width };
}

type Neighbours = readonly (readonly number[])[];

function neighbours(count: number, edges: LayeredGraph['edges'], from: 0 | 1): Neighbours {
  const lists: number[][] = Array.from({ length: count }, () => []);
  for (const edge of edges) lists[edge[from]].push(edge[1 - from]);
  return lists;
}

/** Depth first from the top, so that families start out together. */
function firstOrder(layer: Int32Array, down: Neighbours, up: Neighbours): number[][] {
  const layers = layer.reduce((most, each) => Math.max(most, each + 1), 0);
  const order: number[][] = Array.from({ length: layers }, () => []);
  const seen = new Uint8Array(layer.length);
  for (let root = 0; root < layer.length; root++) {
    const stack = [root];
    for (let v = stack.pop(); v !== undefined; v = stack.pop()) {
      if (seen[v]) continue;
      seen[v] = 1;
      order[layer[v]].push(v);
      for (const next of [down[v], up[v]]) {
        for (let e = next.length - 1; e >= 0; e--) if (!seen[next[e]]) stack.push(next[e]);
      }
    }
  }
  return order;
}

function settle(list: readonly number[], place: Float64Array): void {
  list.forEach((v, k) => {
    place[v] = k;
  });
}

/** Sorts a layer by the mean place of the neighbours; vertices without any keep their place. */
function sortByNeighbours(list: number[], near: Neighbours, place: Float64Array): void {
  const wish = new Map(list.map((v) => [v, meanPlace(near[v], place) ?? place[v]]));
  list.sort((a, b) => (wish.get(a) ?? 0) - (wish.get(b) ?? 0) || place[a] - place[b]);
}

function meanPlace(vertices: readonly number[], place: Float64Array): number | null {
  if (vertices.length === 0) return null;
  let sum = 0;
  for (const v of vertices) sum += place[v];
  return sum / vertices.length;
}

/** Inversions among the lower ends of the edges, read from left to right: an accumulator tree a layer. */
function countCrossings(
  order: readonly (readonly number[])[],
  down: Neighbours,
  place: Float64Array,
): number {
  let crossings = 0;
  for (let k = 0; k + 1 < order.length; k++) {
    const tree = new Int32Array(order[k + 1].length + 1);
    let total = 0;
    for (const v of order[k]) {
      const ends = down[v].map((w) => place[w]).sort((a, b) => a - b);
      for (const end of ends) {
        let notRight = 0;
        for (let t = end + 1; t > 0; t &= t - 1) notRight += tree[t];
        crossings += total - notRight;
      }
      for (const end of ends) {
        total++;
        for (let t = end + 1; t < tree.length; t += t & -t) tree[t]++;
      }
    }
  }
  return crossings;
}

/** Places by order, then pulled towards their neighbours without changing the order or coming closer than 1. */
function straighten(
  order: readonly (readonly number[])[],
  up: Neighbours,
  down: Neighbours,
  count: number,
): Float64Array {
  const x = new Float64Array(count);
  for (const list of order) settle(list, x);
  for (let pass = 0; pass < STRAIGHTENINGS; pass++) {
    const isDown = pass % 2 === 0;
    for (let k = 0; k < order.length; k++) {
      const list = order[isDown ? k : order.length - 1 - k];
      const near = isDown ? up : down;
      spread(
        list,
        list.map((v) => meanPlace(near[v], x) ?? x[v]),
        x,
      );
    }
  }
  const least = x.reduce((low, each) => Math.min(low, each), Number.POSITIVE_INFINITY);
  return count > 0 ? x.map((each) => each - least) : x;
}

/**
 * The places nearest to the wishes (least squares) that keep the order and distances of 1: neighbours whose wishes
 * collide move as one block about their mean (pool adjacent violators).
 */
function spread(list: readonly number[], wishes: readonly number[], x: Float64Array): void {
  const starts: number[] = [];
  const sums: number[] = [];
  const sizes: number[] = [];
  wishes.forEach((wish, k) => {
    starts.push(k);
    sums.push(wish - k);
    sizes.push(1);
    while (
      starts.length > 1 &&
      sums[sums.length - 2] / sizes[sizes.length - 2] >
        sums[sums.length - 1] / sizes[sizes.length - 1]
    ) {
      starts.pop();
      const sum = sums.pop() ?? 0;
      const size = sizes.pop() ?? 0;
      sums[sums.length - 1] += sum;
      sizes[sizes.length - 1] += size;
    }
  });
  starts.forEach((start, b) => {
    for (let k = start; k < start + sizes[b]; k++) x[list[k]] = sums[b] / sizes[b] + k;
  });
}
