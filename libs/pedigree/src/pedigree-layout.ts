import { type LayeredGraph, orderLayers } from './order-layers.js';
import { type AnimalKey, type Pedigree, rowsOf } from './pedigree.js';

export interface PedigreeLayout {
  /** The animals asked for, in that order, each with its generation (0 at the top) and place from the left. */
  readonly animals: readonly {
    readonly row: number;
    readonly generation: number;
    readonly x: number;
  }[];
  /** Pairs with their young. A line runs from each parent to the pair and from the pair to each young. */
  readonly pairs: readonly PlacedPair[];
  /** Line crossings left. */
  readonly crossings: number;
  readonly generations: number;
  /** Greatest x + 1; neighbours in a generation are at least 1 apart. */
  readonly width: number;
}

export interface PlacedPair {
  /** Half a generation under the lower parent. */
  readonly generation: number;
  readonly x: number;
  readonly parents: readonly {
    readonly row: number;
    readonly probability: number;
    readonly line: Line;
  }[];
  readonly young: readonly { readonly row: number; readonly line: Line }[];
}

/** Points of a line, from top to bottom. */
export type Line = readonly { readonly x: number; readonly generation: number }[];

/**
 * Places the given animals for drawing: generations downwards (an animal stands under all its parents; one without recorded parents
 * just above its first young), the order within a generation chosen for few crossings. Candidate
 * parents, also over several possible clutches, are parents with their probability. Relations to animals not asked for are left out. Deterministic.
 *
 * Method: layers, dummy points on long lines, barycentre sweeps (Sugiyama, Tagawa & Toda 1981, IEEE Trans. Syst. Man Cybern.
 * 11:109-125, doi 10.1109/TSMC.1981.4308636). Cost: 24 sweeps over the lines; made for up to some thousand animals.
 */
export function pedigreeLayout(pedigree: Pedigree, ids: ArrayLike<AnimalKey>): PedigreeLayout {
  const rows = rowsOf(pedigree, ids);
  const families = gatherFamilies(pedigree, rows);
  const generation = generationsOf(rows.length, families);

  // Vertices: animals, then pairs, then a dummy wherever a line passes a layer. Animals on even layers, pairs on odd ones.
  const layer = Array.from(generation, (g) => 2 * g);
  for (const { parents } of families) {
    layer.push(2 * Math.max(...parents.map(({ at }) => generation[at])) + 1);
  }
  const edges: [number, number][] = [];
  const bends: number[][] = [];
  const connect = (top: number, bottom: number): number => {
    const chain = [top];
    for (let l = layer[top] + 1; l < layer[bottom]; l++) chain.push(layer.push(l) - 1);
    chain.push(bottom);
    for (let k = 1; k < chain.length; k++) edges.push([chain[k - 1], chain[k]]);
    return bends.push(chain) - 1;
  };
  const lines = families.map(({ parents, young }, f) => {
    const pair = rows.length + f;
    return {
      parents: parents.map(({ at }) => connect(at, pair)),
      young: young.map((at) => connect(pair, at)),
    };
  });
  const graph: LayeredGraph = { layer: Int32Array.from(layer), edges };
  const { x, crossings, width } = orderLayers(graph);

  const line = (e: number): Line =>
    bends[e].map((vertex) => ({ x: x[vertex], generation: layer[vertex] / 2 }));
  return {
    animals: Array.from(rows, (row, at) => ({ row, generation: generation[at], x: x[at] })),
    pairs: families.map(({ parents, young }, f) => ({
      generation: layer[rows.length + f] / 2,
      x: x[rows.length + f],
      parents: parents.map(({ at, probability }, k) => ({
        row: rows[at],
        probability,
        line: line(lines[f].parents[k]),
      })),
      young: young.map((at, k) => ({ row: rows[at], line: line(lines[f].young[k]) })),
    })),
    crossings,
    generations: Math.max(-1, ...generation) + 1,
    width,
  };
}

/** Young with the same parents; positions in the list asked for. */
interface Family {
  readonly parents: readonly { readonly at: number; readonly probability: number }[];
  readonly young: readonly number[];
}

function gatherFamilies(pedigree: Pedigree, rows: Int32Array): Family[] {
  const { size, draws, sire, dam } = pedigree;
  const position = new Map(Array.from(rows, (row, at) => [row, at] as const));
  const found = new Map<string, { parents: Family['parents']; young: number[] }>();
  rows.forEach((row, at) => {
    const find = pedigree.finds.get(row);
    const layings = find
      ? Array.from(find.candidates, (egg, k) => ({ row: egg, share: find.probabilities[k] }))
      : [{ row, share: 1 }];
    const key = layings.map((each) => [sire[each.row], dam[each.row], each.share]).join();
    const family = found.get(key);
    if (family) {
      family.young.push(at);
      return;
    }
    const chances = new Map<number, number>();
    const add = (parent: number, probability: number): void => {
      const place = position.get(parent);
      if (place !== undefined) chances.set(place, (chances.get(place) ?? 0) + probability);
    };
    for (const laying of layings) {
      for (const node of [sire[laying.row], dam[laying.row]]) {
        if (node < size) add(node, laying.share);
        else {
          const { candidates, probabilities } = draws[node - size];
          candidates.forEach((each, k) => {
            add(each, laying.share * probabilities[k]);
          });
        }
      }
    }
    const parents = Array.from(chances, ([place, probability]) => ({ at: place, probability }));
    if (parents.length > 0) found.set(key, { parents, young: [at] });
  });
  return [...found.values()];
}

/** Under all parents; animals without parents here directly above their highest young. */
function generationsOf(count: number, families: readonly Family[]): Int32Array {
  const generation = new Int32Array(count);
  const waiting = new Int32Array(count);
  const hasParents = new Uint8Array(count);
  const pairsOf: number[][] = Array.from({ length: count }, () => []);
  const open = families.map(({ parents }) => parents.length);
  families.forEach(({ parents, young }, f) => {
    for (const { at } of parents) pairsOf[at].push(f);
    for (const at of young) {
      waiting[at]++;
      hasParents[at] = 1;
    }
  });
  const ready = Array.from({ length: count }, (_, at) => at).filter((at) => waiting[at] === 0);
  for (let k = 0; k < ready.length; k++) {
    for (const f of pairsOf[ready[k]]) {
      if (--open[f] > 0) continue;
      const { parents, young } = families[f];
      const below = 1 + Math.max(...parents.map(({ at }) => generation[at]));
      for (const at of young) {
        generation[at] = below;
        ready.push(at);
      }
    }
  }
  for (let at = 0; at < count; at++) {
    if (hasParents[at] || pairsOf[at].length === 0) continue;
    const highest = Math.min(...pairsOf[at].map((f) => generation[families[f].young[0]]));
    generation[at] = Math.max(0, highest - 1);
  }
  return generation;
}
