/** Half-open ranges of day numbers, ascending and apart; infinite ends allowed. */
export type DayRanges = readonly (readonly [from: number, to: number])[];

export const EVER: DayRanges = [[Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY]];

/** The one range [from, to), or nothing when it is empty. */
export function daysFrom(from: number, to: number): DayRanges {
  return from < to ? [[from, to]] : [];
}

export function union(parts: readonly DayRanges[]): DayRanges {
  if (parts.length === 1) return parts[0];
  const sorted = parts.flat().sort((a, b) => a[0] - b[0]);
  const joined: [number, number][] = [];
  for (const [from, to] of sorted) {
    const last = joined.at(-1);
    if (last && from <= last[1]) last[1] = Math.max(last[1], to);
    else joined.push([from, to]);
  }
  return joined;
}

export function intersection(a: DayRanges, b: DayRanges): DayRanges {
  const shared: [number, number][] = [];
  let i = 0;
  let j = 0;
  while (i < a.length && j < b.length) {
    const from = Math.max(a[i][0], b[j][0]);
    const to = Math.min(a[i][1], b[j][1]);
    if (from < to) shared.push([from, to]);
    if (a[i][1] < b[j][1]) i++;
    else j++;
  }
  return shared;
}

/** Days of `a` that are not in `b`. */
export function without(a: DayRanges, b: DayRanges): DayRanges {
  const gaps: [number, number][] = [];
  let start = Number.NEGATIVE_INFINITY;
  for (const [from, to] of b) {
    if (start < from) gaps.push([start, from]);
    start = to;
  }
  if (start < Number.POSITIVE_INFINITY) gaps.push([start, Number.POSITIVE_INFINITY]);
  return intersection(a, gaps);
}

export function dayCount(ranges: DayRanges): number {
  return ranges.reduce((sum, [from, to]) => sum + (to - from), 0);
}
