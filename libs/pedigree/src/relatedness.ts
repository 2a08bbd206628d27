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
 * doi 10.1186/1297-9686-34-4-409, on the ancestors of the group only, 8 columns at a time.
 * Cost: k x ancestors of the group, and once per pedigree its inbreeding. Throws RangeError on an unknown id and
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

/** As `relatedness`, by row positions or nodes (`size + k` for `draws[k]`). */
export function relatednessOfRows(
  pedigree: Pedigree,
  solved: Solved,
  rows: Int32Array,
): Float64Array {
  const lineage = compactLineage(pedigree, solved, rows);
  return block(lineage, lineage.at, lineage.at);
}

/** Rows of A at some nodes of a lineage, read at others. */
function block(lineage: Lineage, rows: Int32Array, columns: Int32Array): Float64Array {
  const { count } = lineage;
  const k = columns.length;
  const A = new Float64Array(rows.length * k);
  // One row more than there are nodes: it stays 0 and stands for parents that are not recorded.
  const work = new Float64Array((count + 1) * LANES);
  const touched = new Uint8Array(count);
  for (let first = 0; first < rows.length; first += LANES) {
    const lanes = Math.min(LANES, rows.length - first);
    work.fill(0);
    touched.fill(0);
    for (let l = 0; l < lanes; l++) {
      work[rows[first + l] * LANES + l] = 1;
      touched[rows[first + l]] = 1;
    }
    multiply(lineage, work, touched);
    for (let j = 0; j < k; j++) {
      const from = columns[j] * LANES;
      for (let l = 0; l < lanes; l++) A[(first + l) * k + j] = work[from + l];
    }
  }
  return A;
}

/**
 * A x = T D T' x in place for the 8 columns held side by side in `work`. Only the nodes in `touched`, which the way
 * up extends, hold anything but 0 before the way down.
 */
function multiply(lineage: Lineage, work: Float64Array, touched: Uint8Array): void {
  const { count, sire, dam, D } = lineage;
  for (let i = count - 1; i >= 0; i--) {
    if (touched[i] === 0) continue;
    const from = i * LANES;
    const s = sire[i];
    const d = dam[i];
    if (s < -1) upToMembers(lineage, i, work, touched);
    if (s >= 0) {
      touched[s] = 1;
      add(work, s * LANES, from, 0.5);
    }
    if (d >= 0) {
      touched[d] = 1;
      add(work, d * LANES, from, 0.5);
    }
    scale(work, from, D[i]);
  }
  const none = count * LANES;
  for (let i = 0; i < count; i++) {
    const to = i * LANES;
    const s = sire[i];
    if (s < -1) {
      downFromMembers(lineage, i, work);
      continue;
    }
    const a = s < 0 ? none : s * LANES;
    const b = dam[i] < 0 ? none : dam[i] * LANES;
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
  touched: Uint8Array,
): void {
  const m = -2 - sire[i];
  for (let e = start[m]; e < start[m + 1]; e++) {
    touched[member[e]] = 1;
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
