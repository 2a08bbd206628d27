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
  const best = place.slice();
  const wish = new Float64Array(layer.length);
  const count = crossingCounter(order, down);
  let fewest = count(place);
  for (let sweep = 0; sweep < SWEEPS && fewest > 0; sweep++) {
    const isDown = sweep % 2 === 0;
    for (let k = 1; k < order.length; k++) {
      const list = order[isDown ? k : order.length - 1 - k];
      sortByNeighbours(list, isDown ? up : down, place, wish);
      settle(list, place);
    }
    const crossings = count(place);
    if (crossings < fewest) {
      fewest = crossings;
      best.set(place);
    }
  }
  for (const list of order) list.sort((a, b) => best[a] - best[b]);
  const x = straighten(order, up, down, layer.length);
  let width = 0;
  for (const each of x) width = Math.max(width, each + 1);
  return { x, crossings: fewest, width };
}

/** The neighbours of vertex v on one side: `list[start[v]]` to `list[start[v + 1] - 1]`, in the order of the edges. */
interface Neighbours {
  readonly start: Int32Array;
  readonly list: Int32Array;
}

function neighbours(count: number, edges: LayeredGraph['edges'], from: 0 | 1): Neighbours {
  const start = new Int32Array(count + 2);
  for (const edge of edges) start[edge[from] + 2]++;
  for (let v = 0; v < count; v++) start[v + 2] += start[v + 1];
  const list = new Int32Array(edges.length);
  // start[v + 1] is the next free slot of v while filling, and its end afterwards.
  for (const edge of edges) list[start[edge[from] + 1]++] = edge[1 - from];
  return { start, list };
}

/** Depth first from the top, so that families start out together. */
function firstOrder(layer: Int32Array, down: Neighbours, up: Neighbours): number[][] {
  const layers = layer.reduce((most, each) => Math.max(most, each + 1), 0);
  const order: number[][] = Array.from({ length: layers }, () => []);
  const seen = new Uint8Array(layer.length);
  const stack: number[] = [];
  for (let root = 0; root < layer.length; root++) {
    stack.push(root);
    for (let v = stack.pop(); v !== undefined; v = stack.pop()) {
      if (seen[v]) continue;
      seen[v] = 1;
      order[layer[v]].push(v);
      for (const { start, list } of [down, up]) {
        for (let e = start[v + 1] - 1; e >= start[v]; e--) if (!seen[list[e]]) stack.push(list[e]);
      }
    }
  }
  return order;
}

function settle(list: readonly number[], place: Float64Array): void {
  for (let k = 0; k < list.length; k++) place[list[k]] = k;
}

/** Sorts a layer by the mean place of the neighbours; vertices without any keep their place. `wish`: room for the means. */
function sortByNeighbours(
  list: number[],
  near: Neighbours,
  place: Float64Array,
  wish: Float64Array,
): void {
  for (const v of list) wish[v] = meanPlace(v, near, place);
  list.sort((a, b) => wish[a] - wish[b] || place[a] - place[b]);
}

/** Mean place of the neighbours of v; without any its own. */
function meanPlace(v: number, { start, list }: Neighbours, place: Float64Array): number {
  const first = start[v];
  const end = start[v + 1];
  if (first === end) return place[v];
  let sum = 0;
  for (let e = first; e < end; e++) sum += place[list[e]];
  return sum / (end - first);
}

/** Counts inversions among the lower ends of the edges, read from left to right: an accumulator tree a layer, its room made once. */
function crossingCounter(
  order: readonly (readonly number[])[],
  { start, list }: Neighbours,
): (place: Float64Array) => number {
  const widest = order.reduce((most, { length }) => Math.max(most, length), 0);
  const tree = new Int32Array(widest + 1);
  const ends = new Int32Array(list.length);
  return (place) => {
    let crossings = 0;
    for (let k = 0; k + 1 < order.length; k++) {
      const size = order[k + 1].length + 1;
      tree.fill(0, 0, size);
      let total = 0;
      for (const v of order[k]) {
        // The ends of v in ascending order; they are few.
        let many = 0;
        for (let e = start[v]; e < start[v + 1]; e++) {
          const end = place[list[e]];
          let to = many++;
          for (; to > 0 && ends[to - 1] > end; to--) ends[to] = ends[to - 1];
          ends[to] = end;
        }
        for (let e = 0; e < many; e++) {
          let notRight = 0;
          for (let t = ends[e] + 1; t > 0; t &= t - 1) notRight += tree[t];
          crossings += total - notRight;
        }
        for (let e = 0; e < many; e++) {
          total++;
          for (let t = ends[e] + 1; t < size; t += t & -t) tree[t]++;
        }
      }
    }
    return crossings;
  };
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
  const widest = order.reduce((most, { length }) => Math.max(most, length), 0);
  const blocks = { sums: new Float64Array(widest), sizes: new Int32Array(widest) };
  for (let pass = 0; pass < STRAIGHTENINGS; pass++) {
    const isDown = pass % 2 === 0;
    for (let k = 0; k < order.length; k++) {
      spread(order[isDown ? k : order.length - 1 - k], isDown ? up : down, x, blocks);
    }
  }
  const least = x.reduce((low, each) => Math.min(low, each), Number.POSITIVE_INFINITY);
  return count > 0 ? x.map((each) => each - least) : x;
}

/**
 * The places nearest to the wishes, the mean places of the neighbours (least squares), that keep the order and distances of 1: vertices
 * whose wishes collide move as one block about their mean (pool adjacent violators). `blocks`: room for them.
 */
function spread(
  list: readonly number[],
  near: Neighbours,
  x: Float64Array,
  { sums, sizes }: { readonly sums: Float64Array; readonly sizes: Int32Array },
): void {
  let last = -1;
  for (let k = 0; k < list.length; k++) {
    last++;
    sums[last] = meanPlace(list[k], near, x) - k;
    sizes[last] = 1;
    while (last > 0 && sums[last - 1] / sizes[last - 1] > sums[last] / sizes[last]) {
      sums[last - 1] += sums[last];
      sizes[last - 1] += sizes[last];
      last--;
    }
  }
  let k = 0;
  for (let b = 0; b <= last; b++) {
    for (const end = k + sizes[b]; k < end; k++) x[list[k]] = sums[b] / sizes[b] + k;
  }
}
