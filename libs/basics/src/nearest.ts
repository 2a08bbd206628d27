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
    const distance = editDistance(wanted, candidate.toLowerCase());
    if (distance <= reach) found.push({ word: candidate, distance });
  }
  found.sort((a, b) => a.distance - b.distance || (a.word < b.word ? -1 : 1));
  return found.slice(0, limit).map((entry) => entry.word);
}

function editDistance(a: string, b: string): number {
  let beforeLast: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1];
      let cost = Math.min(last[j] + 1, row[j - 1] + 1, last[j - 1] + (same ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) {
        cost = Math.min(cost, beforeLast[j - 2] + 1);
      }
      row.push(cost);
    }
    beforeLast = last;
    last = row;
  }
  return last[b.length];
}
