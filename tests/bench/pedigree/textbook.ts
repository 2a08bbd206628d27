/**
 * Inbreeding by the algorithm of Meuwissen & Luo 1992, Genet. Sel. Evol. 24:305-313,
 * doi 10.1186/1297-9686-24-4-305, in plain textbook form: for each animal the ancestors are taken from the youngest
 * down and a_ii = sum L^2 D. Independent of the library; rows in any order. -1 for an unknown parent.
 */
export function textbookInbreeding(sire: Int32Array, dam: Int32Array): Float64Array {
  const n = sire.length;
  const order = parentsFirst(sire, dam);
  const rank = new Int32Array(n);
  order.forEach((row, r) => {
    rank[row] = r;
  });
  // By rank, one place up: 0 is the unknown parent with F = -1.
  const F = new Float64Array(n + 1);
  const D = new Float64Array(n + 1);
  const L = new Float64Array(n + 1);
  const up = Int32Array.from(order, (row) => (sire[row] < 0 ? 0 : rank[sire[row]] + 1));
  const across = Int32Array.from(order, (row) => (dam[row] < 0 ? 0 : rank[dam[row]] + 1));
  const next = new Int32Array(n + 1); // sorted chain of ancestors still to visit, youngest first
  F[0] = -1;
  for (let i = 1; i <= n; i++) {
    const s = up[i - 1];
    const d = across[i - 1];
    D[i] = 0.5 - 0.25 * (F[s] + F[d]);
    if (s === 0 || d === 0) continue;
    if (i > 1 && up[i - 2] === s && across[i - 2] === d) {
      F[i] = F[i - 1];
      continue;
    }
    let a = 0;
    L[i] = 1;
    next[i] = 0;
    for (let j = i; j !== 0; ) {
      for (const parent of [up[j - 1], across[j - 1]]) {
        if (parent === 0) continue;
        let k = j;
        while (next[k] > parent) k = next[k];
        if (next[k] !== parent) {
          next[parent] = next[k];
          next[k] = parent;
        }
        L[parent] += L[j] / 2;
      }
      a += L[j] * L[j] * D[j];
      L[j] = 0;
      const k = next[j];
      next[j] = 0;
      j = k;
    }
    F[i] = a - 1;
  }
  return Float64Array.from(rank, (r) => F[r + 1]);
}

function parentsFirst(sire: Int32Array, dam: Int32Array): Int32Array {
  const n = sire.length;
  const waiting = new Uint8Array(n);
  const first = new Int32Array(n + 2);
  for (let i = 0; i < n; i++) {
    for (const parent of [sire[i], dam[i]]) {
      if (parent < 0) continue;
      waiting[i]++;
      first[parent + 2]++;
    }
  }
  for (let i = 0; i <= n; i++) first[i + 1] += first[i];
  const young = new Int32Array(first[n + 1]);
  for (let i = 0; i < n; i++) {
    if (sire[i] >= 0) young[first[sire[i] + 1]++] = i;
    if (dam[i] >= 0) young[first[dam[i] + 1]++] = i;
  }
  const order = new Int32Array(n);
  let end = 0;
  for (let i = 0; i < n; i++) if (waiting[i] === 0) order[end++] = i;
  for (let k = 0; k < end; k++) {
    for (let e = first[order[k]]; e < first[order[k] + 1]; e++) {
      if (--waiting[young[e]] === 0) order[end++] = young[e];
    }
  }
  return order;
}
