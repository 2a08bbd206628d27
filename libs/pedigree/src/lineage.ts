import { type Solved, solvedPedigree } from './inbreeding.js';
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

/** Gathers the ancestors of `rows` (row positions or draw nodes). Cost: ancestors + parents of the pedigree / 32. */
export function compactLineage(pedigree: Pedigree, solved: Solved, rows: Int32Array): Lineage {
  const { graph, self, D } = solved;
  const { placeOf, mixtures } = graph;
  const marks = new Int32Array((graph.count >> 5) + 1);
  const mark = (place: number): void => {
    if (place >= 0) marks[place >> 5] |= 1 << (place & 31);
  };
  const leaves = [...new Set(rows)].filter((row) => placeOf[row] < 0);
  for (const row of rows) {
    if (placeOf[row] >= 0) mark(placeOf[row]);
    else {
      if (pedigree.sire[row] >= 0) mark(placeOf[pedigree.sire[row]]);
      if (pedigree.dam[row] >= 0) mark(placeOf[pedigree.dam[row]]);
    }
  }
  const found: number[] = [];
  for (let w = marks.length - 1; w >= 0; w--) {
    for (let word = marks[w]; word !== 0; word = marks[w]) {
      const bit = 31 - Math.clz32(word);
      marks[w] &= ~(1 << bit);
      const q = (w << 5) | bit;
      found.push(q);
      const s = graph.sire[q];
      if (s < -1) {
        for (let e = mixtures.start[-2 - s]; e < mixtures.start[-1 - s]; e++) {
          mark(mixtures.member[e]);
        }
      } else {
        mark(s);
        mark(graph.dam[q]);
      }
    }
  }
  const inner = found.length;
  const count = inner + leaves.length;
  const local = new Int32Array(graph.count).fill(-1);
  const lineage = {
    count,
    node: new Int32Array(count),
    sire: new Int32Array(count),
    dam: new Int32Array(count),
    D: new Float64Array(count),
  };
  for (let i = 0; i < inner; i++) {
    const q = found[inner - 1 - i];
    local[q] = i;
    const s = graph.sire[q];
    lineage.node[i] = graph.nodeOf[q];
    lineage.sire[i] = s >= 0 ? local[s] : s;
    lineage.dam[i] = graph.dam[q] >= 0 ? local[graph.dam[q]] : -1;
    lineage.D[i] = D[q];
  }
  const localOfLeaf = new Map<number, number>();
  leaves.forEach((row, n) => {
    const i = inner + n;
    const s = pedigree.sire[row] < 0 ? -1 : placeOf[pedigree.sire[row]];
    const d = pedigree.dam[row] < 0 ? -1 : placeOf[pedigree.dam[row]];
    lineage.node[i] = row;
    lineage.sire[i] = s < 0 ? -1 : local[s];
    lineage.dam[i] = d < 0 ? -1 : local[d];
    lineage.D[i] = 1 - ((s < 0 ? 0 : self[s]) + (d < 0 ? 0 : self[d])) / 4;
    localOfLeaf.set(row, i);
  });
  return {
    ...lineage,
    start: mixtures.start,
    member: mixtures.member.map((place) => local[place]),
    weight: mixtures.weight,
    at: rows.map((row) => localOfLeaf.get(row) ?? local[placeOf[row]]),
  };
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

/** Local numbers of the candidates of a clutch's uncertain parent, in the order of its draw. */
export function candidatesOf({ sire, start, member }: Lineage, i: number): Int32Array {
  const average = member[start[-2 - sire[i]]];
  return member.subarray(start[-2 - sire[average]], start[-1 - sire[average]]);
}
