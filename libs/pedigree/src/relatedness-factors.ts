import { descentOf } from './lineage.js';
import type { AnimalKey, Pedigree } from './pedigree.js';
import { relatedness } from './relatedness.js';

/** A = T D T' on k animals, row by row: entry `i * k + j`. */
export interface RelatednessFactors {
  /** Gene flow: the expected share of j's genes in i, by descent. 1 on the diagonal. */
  readonly T: Float64Array;
  /** Mendelian sampling variance of each animal: 1 for a founder, 1/2 - (F_s + F_d) / 4 with both parents known. */
  readonly D: Float64Array;
  /** T sqrt(D): a Cholesky factor of A when the k animals are closed under 'parent of' and all parents certain. */
  readonly L: Float64Array;
}

/**
 * The factors of the relationship matrix after Henderson 1976, Biometrics 32:69-83, doi 10.2307/2529339, for `ids`.
 * Cost: k x ancestors. Throws RangeError on an unknown id.
 */
export function relatednessFactors(
  pedigree: Pedigree,
  ids: ArrayLike<AnimalKey>,
): RelatednessFactors {
  const { lineage } = descentOf(pedigree, ids);
  const k = ids.length;
  const T = new Float64Array(k * k);
  const D = Float64Array.from(lineage.at, (i) => lineage.D[i]);
  const share = new Float64Array(lineage.count);
  lineage.at.forEach((i, row) => {
    share.fill(0);
    share[i] = 1;
    for (let j = i; j >= 0; j--) {
      const s = lineage.sire[j];
      if (s < -1) {
        for (let e = lineage.start[-2 - s]; e < lineage.start[-1 - s]; e++) {
          share[lineage.member[e]] += lineage.weight[e] * share[j];
        }
      } else {
        if (s >= 0) share[s] += share[j] / 2;
        if (lineage.dam[j] >= 0) share[lineage.dam[j]] += share[j] / 2;
      }
    }
    lineage.at.forEach((j, column) => {
      T[row * k + column] = share[j];
    });
  });
  return { T, D, L: T.map((share, e) => share * Math.sqrt(D[e % k])) };
}

/**
 * Inverse of the relatedness among `ids` (k x k, row by row), by Cholesky factorisation. For all animals of a pedigree it is
 * the sparse inverse of Henderson's rules. Cost: k^3 / 2. Throws RangeError where the matrix is singular
 * (for example full sibs of a completely inbred line, or an animal named twice).
 */
export function relatednessInverse(pedigree: Pedigree, ids: ArrayLike<AnimalKey>): Float64Array {
  const k = ids.length;
  const C = relatedness(pedigree, ids);
  for (let j = 0; j < k; j++) {
    for (let i = j; i < k; i++) {
      let sum = C[i * k + j];
      for (let m = 0; m < j; m++) sum -= C[i * k + m] * C[j * k + m];
      if (i > j) C[i * k + j] = sum / C[j * k + j];
      else if (sum > 1e-12) C[j * k + j] = Math.sqrt(sum);
      else throw new RangeError('The relatedness of these animals has no inverse.');
    }
  }
  const inverse = new Float64Array(k * k);
  const x = new Float64Array(k);
  for (let column = 0; column < k; column++) {
    for (let i = 0; i < k; i++) {
      let sum = i === column ? 1 : 0;
      for (let m = 0; m < i; m++) sum -= C[i * k + m] * x[m];
      x[i] = sum / C[i * k + i];
    }
    for (let i = k - 1; i >= 0; i--) {
      let sum = x[i];
      for (let m = i + 1; m < k; m++) sum -= C[m * k + i] * x[m];
      x[i] = sum / C[i * k + i];
      inverse[i * k + column] = x[i];
    }
  }
  return inverse;
}
