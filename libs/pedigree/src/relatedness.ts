import { type Solved, solvedPedigree } from './inbreeding.js';
import { type AnimalKey, type Pedigree, positionOf } from './pedigree.js';

/** Right-hand sides taken in one pass. */
const LANES = 8;
/** Above this many animals a full matrix (k^2 doubles) is refused: 20,000 take 3.2 GB. */
const MOST_ANIMALS = 20_000;

/**
 * Relatedness a_ij = 2 x kinship of every two of k animals, row by row in the order of `ids`: entry `i * k + j`. The
 * diagonal is 1 + F_i. Range 0 to 2; 0 means no recorded common ancestor. Unknown parents count
 * as unrelated; where parents are uncertain it is the expectation.
 *
 * Method: A x = T D T' x, one pass up and one down, after Colleau 2002, Genet. Sel. Evol. 34:409-421,
 * doi 10.1186/1297-9686-34-4-409, on the ancestors of the group only, 8 columns at a time.
 * Cost: k x ancestors of the group, and once per pedigree its inbreeding. Throws RangeError on an unknown id and
 * above 20,000 animals.
 */
export function relatedness(pedigree: Pedigree, ids: ArrayLike<AnimalKey>): Float64Array {
  const k = ids.length;
  if (k > MOST_ANIMALS) {
    throw new RangeError(`A matrix of ${k} x ${k} is refused; ask for at most ${MOST_ANIMALS}.`);
  }
  const rows = Int32Array.from({ length: k }, (_, i) => positionOf(pedigree, ids[i]));
  return relatednessOfRows(pedigree, solvedPedigree(pedigree), rows);
}

/** As `relatedness`, by row positions or nodes (`size + k` for `draws[k]`). */
export function relatednessOfRows(
  pedigree: Pedigree,
  solved: Solved,
  rows: Int32Array,
): Float64Array {
  const lineage = compactLineage(pedigree, solved, rows);
  const { count, at } = lineage;
  const k = rows.length;
  const A = new Float64Array(k * k);
  const work = new Float64Array(count * LANES);
  for (let first = 0; first < k; first += LANES) {
    const lanes = Math.min(LANES, k - first);
    work.fill(0);
    for (let l = 0; l < lanes; l++) work[at[first + l] * LANES + l] = 1;
    multiply(lineage, work);
    for (let j = 0; j < k; j++) {
      const from = at[j] * LANES;
      for (let l = 0; l < lanes; l++) A[(first + l) * k + j] = work[from + l];
    }
  }
  return A;
}

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
  const marks = new Uint32Array((graph.count >> 5) + 1);
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

/** A x = T D T' x in place for the 8 columns held side by side in `work`. */
function multiply(lineage: Lineage, work: Float64Array): void {
  const { count, sire, dam, D, start, member, weight } = lineage;
  for (let i = count - 1; i >= 0; i--) {
    const from = i * LANES;
    const s = sire[i];
    if (s < -1) {
      for (let e = start[-2 - s]; e < start[-1 - s]; e++) {
        add(work, member[e] * LANES, from, weight[e]);
      }
    } else {
      if (s >= 0) add(work, s * LANES, from, 0.5);
      if (dam[i] >= 0) add(work, dam[i] * LANES, from, 0.5);
    }
  }
  for (let i = 0; i < count; i++) {
    const to = i * LANES;
    const v = D[i];
    for (let l = 0; l < LANES; l++) work[to + l] *= v;
    const s = sire[i];
    if (s < -1) {
      for (let e = start[-2 - s]; e < start[-1 - s]; e++) {
        add(work, to, member[e] * LANES, weight[e]);
      }
    } else {
      if (s >= 0) add(work, to, s * LANES, 0.5);
      if (dam[i] >= 0) add(work, to, dam[i] * LANES, 0.5);
    }
  }
}

function add(work: Float64Array, to: number, from: number, factor: number): void {
  work[to] += factor * work[from];
  work[to + 1] += factor * work[from + 1];
  work[to + 2] += factor * work[from + 2];
  work[to + 3] += factor * work[from + 3];
  work[to + 4] += factor * work[from + 4];
  work[to + 5] += factor * work[from + 5];
  work[to + 6] += factor * work[from + 6];
  work[to + 7] += factor * work[from + 7];
}
