import { type Solved, solvedPedigree } from './inbreeding.js';
import type { ParentGraph } from './parent-graph.js';
import { type AnimalKey, type Pedigree, rowsOf } from './pedigree.js';

/** The ancestors of a group and the group itself, parents first, in local numbers. */
export interface Lineage {
  readonly count: number;
  /** Node by local number. */
  readonly node: Int32Array;
  /** Local numbers of the parents, -1 not recorded; `-2 - m` in `sire` for mixture m. */
  readonly sire: Int32Array;
  readonly dam: Int32Array;
  readonly D: Float64Array;
  /** Mixtures in the graph's numbering, members as local numbers. */
  readonly start: Int32Array;
  readonly member: Int32Array;
  readonly weight: Float64Array;
  /** Local number of each of the group, in the order asked. */
  readonly at: Int32Array;
}

/**
 * Gathers the ancestors of `rows` (row positions or draw nodes). The group is taken oldest first, each animal after those of its
 * ancestors that are not listed yet: whatever concerns the first few of it lies in the first numbers.
 * Cost: ancestors + animals with young.
 */
export function compactLineage(pedigree: Pedigree, solved: Solved, rows: Int32Array): Lineage {
  const { graph, self, D } = solved;
  const { placeOf, mixtures } = graph;
  const local = new Int32Array(graph.count).fill(-1);
  const localOfLeaf = new Map<number, number>();
  /** Places; `-1 - row` for animals without young, which have none. */
  const found: number[] = [];
  const at = new Int32Array(rows.length);
  for (const k of oldestFirst(pedigree, graph, rows)) {
    const row = rows[k];
    const place = placeOf[row];
    if (place >= 0) {
      listWithAncestors(graph, place, local, found);
      at[k] = local[place];
      continue;
    }
    for (const parent of [pedigree.sire[row], pedigree.dam[row]]) {
      if (parent >= 0) listWithAncestors(graph, placeOf[parent], local, found);
    }
    at[k] = localOfLeaf.get(row) ?? found.length;
    if (at[k] < found.length) continue;
    localOfLeaf.set(row, found.length);
    found.push(-1 - row);
  }
  const count = found.length;
  const node = new Int32Array(count);
  const sire = new Int32Array(count);
  const dam = new Int32Array(count);
  const variance = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const q = found[i];
    const isLeaf = q < 0;
    node[i] = isLeaf ? -1 - q : graph.nodeOf[q];
    const s = isLeaf ? placeOfParent(graph, pedigree.sire[node[i]]) : graph.sire[q];
    const d = isLeaf ? placeOfParent(graph, pedigree.dam[node[i]]) : graph.dam[q];
    sire[i] = s < 0 ? s : local[s];
    dam[i] = d < 0 ? -1 : local[d];
    variance[i] = isLeaf ? 1 - ((s < 0 ? 0 : self[s]) + (d < 0 ? 0 : self[d])) / 4 : D[q];
  }
  return {
    count,
    node,
    sire,
    dam,
    D: variance,
    start: mixtures.start,
    member: mixtures.member.map((place) => local[place]),
    weight: mixtures.weight,
    at,
  };
}

/** Lists a place after those of its ancestors that are not listed yet, by a walk with its own stack. */
function listWithAncestors(
  { sire, dam, mixtures }: ParentGraph,
  place: number,
  local: Int32Array,
  found: number[],
): void {
  const { start, member } = mixtures;
  const stack = [place];
  while (stack.length > 0) {
    const waiting = stack.length;
    const q = stack[waiting - 1];
    if (local[q] < 0) {
      const s = sire[q];
      const d = dam[q];
      if (d >= 0 && local[d] < 0) stack.push(d);
      if (s >= 0 && local[s] < 0) stack.push(s);
      if (s < -1) {
        for (let e = start[-2 - s]; e < start[-1 - s]; e++) {
          if (local[member[e]] < 0) stack.push(member[e]);
        }
      }
      if (stack.length > waiting) continue;
      local[q] = found.length;
      found.push(q);
    }
    stack.pop();
  }
}

/** Positions in `rows` by depth, the longest line up to a founder; alike ones in the order asked. */
function oldestFirst(pedigree: Pedigree, graph: ParentGraph, rows: Int32Array): Int32Array {
  const { placeOf, levels } = graph;
  const depth = Int32Array.from(rows, (row) => {
    const s = placeOfParent(graph, pedigree.sire[row]);
    const d = placeOfParent(graph, pedigree.dam[row]);
    return placeOf[row] >= 0 ? depthOf(levels, placeOf[row]) : 1 + depthOf(levels, Math.max(s, d));
  });
  return Int32Array.from(rows.keys()).sort((a, b) => depth[a] - depth[b]);
}

/** How many depths start at or below a place, less 1: its depth; -1 for none. */
function depthOf(levels: Int32Array, place: number): number {
  let low = 0;
  let high = levels.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (levels[middle] <= place) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}

function placeOfParent({ placeOf }: ParentGraph, parent: number): number {
  return parent < 0 ? -1 : placeOf[parent];
}

/** The lineage of `ids` by descent alone: declared founder kin is left out. */
export function descentOf(
  pedigree: Pedigree,
  ids: ArrayLike<AnimalKey>,
): { bare: Pedigree; lineage: Lineage } {
  const bare = byDescent(pedigree);
  return { bare, lineage: compactLineage(bare, solvedPedigree(bare), rowsOf(bare, ids)) };
}

/** The pedigree without declared founder kin. */
export function byDescent(pedigree: Pedigree): Pedigree {
  return pedigree.founderKin.length > 0 ? { ...pedigree, founderKin: [] } : pedigree;
}

/** x := T' x: each node hands its share on to its parents. */
export function passUp(lineage: Lineage, x: Float64Array): void {
  const { count, sire, dam, start, member, weight } = lineage;
  for (let i = count - 1; i >= 0; i--) {
    const s = sire[i];
    if (s < -1) {
      for (let e = start[-2 - s]; e < start[-1 - s]; e++) x[member[e]] += weight[e] * x[i];
    } else {
      if (s >= 0) x[s] += x[i] / 2;
      if (dam[i] >= 0) x[dam[i]] += x[i] / 2;
    }
  }
}

/** x := T x: each node adds what it takes over from its parents. */
export function passDown(lineage: Lineage, x: Float64Array): void {
  for (let i = 0; i < lineage.count; i++) x[i] += fromParents(lineage, i, x);
}

/** Mean of a value over the parents of local node i; a parent that is not recorded counts 0. */
export function fromParents(lineage: Lineage, i: number, x: Float64Array): number {
  const { sire, dam, start, member, weight } = lineage;
  const s = sire[i];
  if (s >= -1) return ((s < 0 ? 0 : x[s]) + (dam[i] < 0 ? 0 : x[dam[i]])) / 2;
  let sum = 0;
  for (let e = start[-2 - s]; e < start[-1 - s]; e++) sum += weight[e] * x[member[e]];
  return sum;
}

/** Local numbers of the candidates of an uncertain parent or a found animal, in the order of its draw. */
export function candidatesOf({ sire, start, member }: Lineage, i: number): Int32Array {
  return member.subarray(start[-2 - sire[i]], start[-1 - sire[i]]);
}
