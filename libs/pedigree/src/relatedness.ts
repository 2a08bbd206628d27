import { type Solved, solvedPedigree } from './inbreeding.js';
import { compactLineage, type Lineage } from './lineage.js';
import { type AnimalKey, type Pedigree, rowsOf } from './pedigree.js';

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
 * doi 10.1186/1297-9686-34-4-409, on the ancestors of the group only, 8 columns at a time, oldest animals first. The matrix is
 * symmetric to the last digit.
 * Cost: at most k x ancestors of the group, k^2, and once per pedigree its inbreeding. Throws RangeError on an unknown id and
 * above 20,000 animals.
 */
export function relatedness(pedigree: Pedigree, ids: ArrayLike<AnimalKey>): Float64Array {
  const k = ids.length;
  if (k > MOST_ANIMALS) {
    throw new RangeError(`A matrix of ${k} x ${k} is refused; ask for at most ${MOST_ANIMALS}.`);
  }
  return relatednessOfRows(pedigree, solvedPedigree(pedigree), rowsOf(pedigree, ids));
}

/** F that a young of the two would have: half their relatedness. Cost and errors as `relatedness`. */
export function inbreedingOfYoung(pedigree: Pedigree, sire: AnimalKey, dam: AnimalKey): number {
  return relatedness(pedigree, [sire, dam])[1] / 2;
}

/**
 * The same of every animal of one group with every animal of another: entry `i * columns.length + j`. For one male and a
 * thousand females a thousand figures, not a million. Cost: `rows` x ancestors of both groups, so give the smaller group as `rows`.
 */
export function relatednessBetween(
  pedigree: Pedigree,
  rows: ArrayLike<AnimalKey>,
  columns: ArrayLike<AnimalKey>,
): Float64Array {
  const positions = rowsOf(pedigree, [...Array.from(rows), ...Array.from(columns)]);
  const lineage = compactLineage(pedigree, solvedPedigree(pedigree), positions);
  return block(lineage, lineage.at.subarray(0, rows.length), lineage.at.subarray(rows.length));
}

/**
 * As `relatedness`, by row positions or nodes (`size + k` for `draws[k]`). a_ij is read off the column of the one with the higher
 * local number: its ancestors and those of all before it have lower ones, so no pass looks at anything above.
 */
export function relatednessOfRows(
  pedigree: Pedigree,
  solved: Solved,
  rows: Int32Array,
): Float64Array {
  const lineage = compactLineage(pedigree, solved, rows);
  const { at } = lineage;
  const k = at.length;
  const order = Int32Array.from(at.keys()).sort((i, j) => at[i] - at[j]);
  const A = new Float64Array(k * k);
  const columns = new Columns(lineage);
  for (let first = 0; first < k; first += LANES) {
    const lanes = order.subarray(first, first + LANES);
    const nodes = lanes.map((i) => at[i]);
    columns.solve(nodes, nodes[nodes.length - 1]);
    copyOlder(columns.work, at, order, first, A);
    for (let l = 0; l < lanes.length; l++) {
      for (let m = 0; m <= l; m++) {
        A[lanes[l] * k + lanes[m]] = columns.work[nodes[m] * LANES + l];
      }
    }
  }
  // Of a_ij and a_ji one is filled so far, the other 0.
  for (let i = 0; i < k; i++) {
    for (let j = 0; j < i; j++) {
      const a = A[i * k + j] + A[j * k + i];
      A[i * k + j] = a;
      A[j * k + i] = a;
    }
  }
  return A;
}

/** a_ij of the animals i whose columns these are, 8 from position `first` of the order on, with all animals j before them. */
function copyOlder(
  work: Float64Array,
  at: Int32Array,
  order: Int32Array,
  first: number,
  A: Float64Array,
): void {
  const k = order.length;
  const row = (l: number): number => order[Math.min(first + l, k - 1)] * k;
  // From the last lane to the first: where there are fewer, the last that counts is written last.
  const [r7, r6, r5, r4, r3, r2, r1, r0] = [7, 6, 5, 4, 3, 2, 1, 0].map(row);
  for (let n = 0; n < first; n++) {
    const j = order[n];
    const from = at[j] * LANES;
    A[r7 + j] = work[from + 7];
    A[r6 + j] = work[from + 6];
    A[r5 + j] = work[from + 5];
    A[r4 + j] = work[from + 4];
    A[r3 + j] = work[from + 3];
    A[r2 + j] = work[from + 2];
    A[r1 + j] = work[from + 1];
    A[r0 + j] = work[from];
  }
}

/** Rows of A at some nodes of a lineage, read at others. */
function block(lineage: Lineage, rows: Int32Array, read: Int32Array): Float64Array {
  const k = read.length;
  const A = new Float64Array(rows.length * k);
  const columns = new Columns(lineage);
  const last = lineage.count - 1;
  for (let first = 0; first < rows.length; first += LANES) {
    const lanes = rows.subarray(first, first + LANES);
    columns.solve(lanes, last);
    for (let j = 0; j < k; j++) {
      const from = read[j] * LANES;
      for (let l = 0; l < lanes.length; l++) A[(first + l) * k + j] = columns.work[from + l];
    }
  }
  return A;
}

/** Columns of A at up to 8 nodes of a lineage, side by side: 8 figures a node. */
class Columns {
  /** One node more than there are stays 0: parents that are not recorded. */
  readonly work: Float64Array;
  /** 1 for the nodes that hold anything but 0 before the way down; the way up adds to them. */
  private readonly reached: Uint8Array;

  constructor(private readonly lineage: Lineage) {
    this.work = new Float64Array((lineage.count + 1) * LANES);
    this.reached = new Uint8Array(lineage.count);
  }

  /** The columns at `nodes`, from the first node to `last`, which none of them is after. */
  solve(nodes: Int32Array, last: number): void {
    const { lineage, work, reached } = this;
    work.fill(0, 0, (last + 1) * LANES);
    reached.fill(0, 0, last + 1);
    for (let l = 0; l < nodes.length; l++) {
      work[nodes[l] * LANES + l] = 1;
      reached[nodes[l]] = 1;
    }
    passUp(lineage, work, reached, last);
    passDown(lineage, work, last);
  }
}

/** y = D T' x in place, from node `last` to the first. */
function passUp(lineage: Lineage, work: Float64Array, reached: Uint8Array, last: number): void {
  const { sire, dam, D } = lineage;
  for (let i = last; i >= 0; i--) {
    if (reached[i] === 0) continue;
    const from = i * LANES;
    const s = sire[i];
    const d = dam[i];
    if (s < -1) upToMembers(lineage, i, work, reached);
    if (s >= 0) {
      reached[s] = 1;
      add(work, s * LANES, from, 0.5);
    }
    if (d >= 0) {
      reached[d] = 1;
      add(work, d * LANES, from, 0.5);
    }
    scale(work, from, D[i]);
  }
}

/** r = T y in place, from the first node to `last`. */
function passDown(lineage: Lineage, work: Float64Array, last: number): void {
  const { count, sire, dam } = lineage;
  for (let i = 0; i <= last; i++) {
    const to = i * LANES;
    const s = sire[i];
    if (s < -1) {
      downFromMembers(lineage, i, work);
      continue;
    }
    const a = (s < 0 ? count : s) * LANES;
    const b = (dam[i] < 0 ? count : dam[i]) * LANES;
    work[to] += (work[a] + work[b]) / 2;
    work[to + 1] += (work[a + 1] + work[b + 1]) / 2;
    work[to + 2] += (work[a + 2] + work[b + 2]) / 2;
    work[to + 3] += (work[a + 3] + work[b + 3]) / 2;
    work[to + 4] += (work[a + 4] + work[b + 4]) / 2;
    work[to + 5] += (work[a + 5] + work[b + 5]) / 2;
    work[to + 6] += (work[a + 6] + work[b + 6]) / 2;
    work[to + 7] += (work[a + 7] + work[b + 7]) / 2;
  }
}

function upToMembers(
  { sire, start, member, weight }: Lineage,
  i: number,
  work: Float64Array,
  reached: Uint8Array,
): void {
  const m = -2 - sire[i];
  for (let e = start[m]; e < start[m + 1]; e++) {
    reached[member[e]] = 1;
    add(work, member[e] * LANES, i * LANES, weight[e]);
  }
}

function downFromMembers(
  { sire, start, member, weight }: Lineage,
  i: number,
  work: Float64Array,
): void {
  const m = -2 - sire[i];
  for (let e = start[m]; e < start[m + 1]; e++) {
    add(work, i * LANES, member[e] * LANES, weight[e]);
  }
}

function scale(work: Float64Array, at: number, factor: number): void {
  work[at] *= factor;
  work[at + 1] *= factor;
  work[at + 2] *= factor;
  work[at + 3] *= factor;
  work[at + 4] *= factor;
  work[at + 5] *= factor;
  work[at + 6] *= factor;
  work[at + 7] *= factor;
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
