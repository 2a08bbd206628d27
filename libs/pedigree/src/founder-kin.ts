import { type Fault, FaultsError } from '@scutewright/basics';
import { type AnimalKey, type FounderKin, idOf, type Pedigree, positionOf } from './pedigree.js';

export interface DeclaredKin {
  readonly a: AnimalKey;
  readonly b: AnimalKey;
  /** a_ij = 2 x kinship: 1/2 for full sibs or parent and young, 1/4 for half sibs; 0 to 1. */
  readonly relatedness: number;
}

/**
 * The same pedigree with founders declared (or suspected to be) related, for example two animals bought from
 * one seller. Founders stay not inbred. All figures are exact for the declared matrix. Throws FaultsError when an animal is not a founder, a
 * figure is outside 0 to 1, or the figures cannot all be true together. Cost: founders declared cubed.
 */
export function declareFounderKin(pedigree: Pedigree, kin: readonly DeclaredKin[]): Pedigree {
  const faults: Fault[] = [];
  const declared: FounderKin[] = [];
  for (const { a, b, relatedness } of kin) {
    const pair = { a: positionOf(pedigree, a), b: positionOf(pedigree, b), relatedness };
    const report = (message: string, remedy: string): void => {
      faults.push({ code: 'BAD_FOUNDER_KIN', message, remedy, ids: [String(a), String(b)] });
    };
    if (pair.a === pair.b) report(`'${a}' is declared as its own kin.`, 'Name two animals.');
    if (!(relatedness >= 0 && relatedness <= 1)) {
      report(
        `The relatedness of '${a}' and '${b}' is ${relatedness}.`,
        'Give 0 to 1, 1/2 for full sibs.',
      );
    }
    for (const row of [pair.a, pair.b]) {
      if (pedigree.sire[row] === -1 && pedigree.dam[row] === -1) continue;
      report(
        `'${idOf(pedigree, row)}' has a recorded parent: its kinship follows from the pedigree.`,
        'Declare kinship between founders only.',
      );
    }
    declared.push(pair);
  }
  const result = { ...pedigree, founderKin: [...pedigree.founderKin, ...declared] };
  if (faults.length === 0 && founderRows(result).some(({ own }) => own < -1e-12)) {
    faults.push({
      code: 'BAD_FOUNDER_KIN',
      message: 'The declared kinships cannot all be true together.',
      remedy: 'If A is a full sib of B and B of C, A and C must be declared related too.',
      ids: [...new Set(declared.flatMap(({ a, b }) => [idOf(pedigree, a), idOf(pedigree, b)]))],
    });
  }
  if (faults.length > 0) throw new FaultsError(faults);
  return result;
}

/**
 * Each founder with declared kin as a weighted row of those before it, which is one line of the Cholesky factor of
 * their relatedness: weights w with G w = g. `own` is what is left of 1; below 0 the figures contradict.
 */
export function founderRows(
  pedigree: Pedigree,
): { row: number; members: number[]; weights: number[]; own: number }[] {
  const rows = [...new Set(pedigree.founderKin.flatMap(({ a, b }) => [a, b]))].sort(
    (a, b) => a - b,
  );
  const place = new Map(rows.map((row, i) => [row, i]));
  const G = rows.map((_, i) => rows.map((_, j) => Number(i === j)));
  for (const { a, b, relatedness } of pedigree.founderKin) {
    const i = place.get(a) ?? 0;
    const j = place.get(b) ?? 0;
    G[i][j] = relatedness;
    G[j][i] = relatedness;
  }
  return rows.map((row, n) => {
    const weights = solve(G, n);
    const own = 1 - weights.reduce((sum, w, j) => sum + w * G[n][j], 0);
    const members = rows.slice(0, n);
    return { row, members, weights, own };
  });
}

/** w with G w = g for the first n rows of G and g its row n; Gaussian elimination with pivots. */
function solve(G: readonly (readonly number[])[], n: number): number[] {
  const M = Array.from({ length: n }, (_, i) => [...G[i].slice(0, n), G[n][i]]);
  for (let c = 0; c < n; c++) {
    let pivot = c;
    for (let i = c + 1; i < n; i++) if (Math.abs(M[i][c]) > Math.abs(M[pivot][c])) pivot = i;
    [M[c], M[pivot]] = [M[pivot], M[c]];
    if (Math.abs(M[c][c]) < 1e-12) continue;
    for (let i = 0; i < n; i++) {
      if (i === c) continue;
      const factor = M[i][c] / M[c][c];
      for (let j = c; j <= n; j++) M[i][j] -= factor * M[c][j];
    }
  }
  return M.map((row, i) => (Math.abs(row[i]) < 1e-12 ? 0 : row[n] / row[i]));
}
