import type { FounderKin } from './pedigree.js';

/** With more ancestors the square of all costs more than passes over them. */
const MOST_ROWS = 400;

/**
 * Relatedness a_ij among the animals of `at` (k x k, row by row) where all parents are certain and ancestors few: the tabular method
 * over these alone (Emik & Terrill 1949, Journal of Heredity 40:51-55, doi 10.1093/oxfordjournals.jhered.a105986). Parents stand
 * before their young, -1 is not recorded; numbers from `ordered` on are founders wherever they stand. Null beyond 400 ancestors.
 * Cost: their square.
 */
export function relatednessOfFew(
  sire: Int32Array,
  dam: Int32Array,
  ordered: number,
  at: Int32Array,
  founderKin: readonly FounderKin[],
): Float64Array | null {
  const rows = ancestorsFirst(sire, dam, ordered, at);
  const n = rows.length;
  if (n > MOST_ROWS) return null;
  const place = new Map(rows.map((row, i) => [row, i]));
  const A = new Float64Array(n * n);
  for (const { a, b, relatedness } of founderKin) {
    const [i, j] = [place.get(a), place.get(b)];
    if (i === undefined || j === undefined) continue;
    A[i * n + j] = relatedness;
    A[j * n + i] = relatedness;
  }
  for (const [i, row] of rows.entries()) {
    const s = place.get(sire[row]) ?? -1;
    const d = place.get(dam[row]) ?? -1;
    A[i * n + i] = 1 + (s >= 0 && d >= 0 ? A[s * n + d] / 2 : 0);
    if (s < 0 && d < 0) continue;
    for (let j = 0; j < i; j++) {
      const a = ((s >= 0 ? A[s * n + j] : 0) + (d >= 0 ? A[d * n + j] : 0)) / 2;
      A[i * n + j] = a;
      A[j * n + i] = a;
    }
  }
  const k = at.length;
  const result = new Float64Array(k * k);
  at.forEach((one, i) => {
    at.forEach((other, j) => {
      result[i * k + j] = A[place.get(one)! * n + place.get(other)!];
    });
  });
  return result;
}

/** The animals and all their ancestors, parents before young and founders before all: these may be kin by declaration. */
function ancestorsFirst(
  sire: Int32Array,
  dam: Int32Array,
  ordered: number,
  at: Int32Array,
): number[] {
  const isWanted = new Uint8Array(sire.length);
  for (const row of at) isWanted[row] = 1;
  const founders: number[] = [];
  const rest: number[] = [];
  for (let row = ordered - 1; row >= 0; row--) {
    if (!isWanted[row]) continue;
    (sire[row] < 0 && dam[row] < 0 ? founders : rest).push(row);
    for (const parent of [sire[row], dam[row]]) {
      if (parent < 0 || isWanted[parent]) continue;
      isWanted[parent] = 1;
      if (parent >= ordered) founders.push(parent);
    }
  }
  return [...founders, ...rest.reverse()];
}
