/**
 * The known words closest to `word`, best first, at most `limit`: what to offer after
 * 'no animal K-14'. Distance counts insertions, deletions, replacements and swaps of
 * neighbours (restricted Damerau-Levenshtein), case aside; words further off than a third of their length (at
 * least 2) are not offered. Cost: known words x length^2.
 */
export function nearest(word: string, known: Iterable<string>, limit = 3): string[] {
  const wanted = word.toLowerCase();
  const reach = Math.max(2, Math.floor(wanted.length / 3));
  const found: { word: string; distance: number }[] = [];
  for (const candidate of known) {
    if (Math.abs(candidate.length - wanted.length) > reach) continue;
    const distance = editDistance(wanted, candidate.toLowerCase(), reach);
    if (distance <= reach) found.push({ word: candidate, distance });
  }
  found.sort((a, b) => a.distance - b.distance || (a.word < b.word ? -1 : 1));
  return found.slice(0, limit).map((entry) => entry.word);
}

/** The distance, or any number over `reach` where it is larger: a row of the table that is over `reach` ends it. */
function editDistance(a: string, b: string, reach: number): number {
  let [beforeLast, last, row] = tableRows(b.length);
  for (let j = 0; j <= b.length; j++) last[j] = j;
  for (let i = 1; i <= a.length; i++) {
    row[0] = i;
    let least = i;
    for (let j = 1; j <= b.length; j++) {
      let cost = last[j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1);
      if (last[j] < cost) cost = last[j] + 1;
      if (row[j - 1] < cost) cost = row[j - 1] + 1;
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) {
        if (beforeLast[j - 2] < cost) cost = beforeLast[j - 2] + 1;
      }
      row[j] = cost;
      if (cost < least) least = cost;
    }
    // A swap of neighbours reaches back two rows, at the cost of one.
    if (least > reach + 1) return least;
    [beforeLast, last, row] = [last, row, beforeLast];
  }
  return last[b.length];
}

/** Three rows of the table, the same ones for every short word: a list of codes is gone through in one go. */
function tableRows(length: number): [Int32Array, Int32Array, Int32Array] {
  if (length < SHORT) return [...ROWS];
  return [new Int32Array(length + 1), new Int32Array(length + 1), new Int32Array(length + 1)];
}
const SHORT = 64;
const ROWS = [new Int32Array(SHORT), new Int32Array(SHORT), new Int32Array(SHORT)] as const;
