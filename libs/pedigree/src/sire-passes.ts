import type { Memberships } from './mixtures.js';
import type { ParentGraph } from './parent-graph.js';
import type { YoungBySire } from './young-by-sire.js';

const { clz32 } = Math;

/** Sires taken in one pass, a lane of the work array each. The unrolled lines below count on it. */
export const LANES = 4;
/**
 * Ancestors whose share in all lanes is below this are not followed further up. Dropping a share s changes an F by
 * less than s, so even 10^7 of them change no digit of a double.
 */
const SMALLEST_SHARE = 1e-30;

/** The work space of one sweep. Passed on and not closed over: the engine then keeps the arrays in registers. */
export interface Sweep {
  readonly graph: ParentGraph;
  readonly young: YoungBySire;
  readonly memberships: Memberships;
  readonly self: Float64Array;
  readonly D: Float64Array;
  readonly F: Float64Array;
  readonly base: Float64Array | null;
  /** LANES figures a place: y on the way up, r on the way down. One place more stays 0: parents that bring nothing. */
  readonly work: Float64Array;
  /** Bit set of places still to visit. */
  readonly marks: Int32Array;
  readonly ancestors: Int32Array;
  readonly mateAncestors: Int32Array;
  /** Places of the sires of this block, all of one depth. */
  readonly lanes: Int32Array;
}

/** y = T' e: shares of the sires' genes by ancestor, youngest ancestor first. Answers how many ancestors there are. */
export function passUp({ graph, work, marks, ancestors }: Sweep, highest: number): number {
  const { sire, dam } = graph;
  const { start, member, weight } = graph.mixtures;
  let visited = 0;
  for (let w = highest >> 5; w >= 0; w--) {
    while (marks[w] !== 0) {
      const q = takeHighest(marks, w);
      ancestors[visited++] = q;
      const y = q * LANES;
      const s = sire[q];
      if (s < -1) {
        const m = -2 - s;
        for (let e = start[m]; e < start[m + 1]; e++) {
          mark(marks, member[e]);
          const to = member[e] * LANES;
          for (let l = 0; l < LANES; l++) work[to + l] += weight[e] * work[y + l];
        }
        continue;
      }
      const d = dam[q];
      if (s < 0 && d < 0) continue;
      const y0 = work[y] / 2;
      const y1 = work[y + 1] / 2;
      const y2 = work[y + 2] / 2;
      const y3 = work[y + 3] / 2;
      if (y0 + y1 + y2 + y3 < SMALLEST_SHARE) continue;
      if (s >= 0) {
        mark(marks, s);
        const to = s * LANES;
        work[to] += y0;
        work[to + 1] += y1;
        work[to + 2] += y2;
        work[to + 3] += y3;
      }
      if (d >= 0) {
        mark(marks, d);
        const to = d * LANES;
        work[to] += y0;
        work[to + 1] += y1;
        work[to + 2] += y2;
        work[to + 3] += y3;
      }
    }
  }
  return visited;
}

/**
 * r = T D y where it is to be read and for the ancestors of these places, oldest first, over y in place. Below `lowest`, the oldest
 * ancestor of the sires, r is 0 and nothing is visited. Answers how many were.
 *
 * Most of the time goes here. The loops over animals with two parents stand alone, mixtures apart: the engine makes better code of
 * a loop that holds no other loop.
 */
export function passDown(sweep: Sweep, filled: number, lowest: number): number {
  const { graph, D, work, marks, mateAncestors } = sweep;
  const highest = markRead(sweep, filled, lowest);
  let found = 0;
  for (let w = highest >> 5; w >= lowest >> 5; w--) {
    while (marks[w] !== 0) {
      found = listAnimals(graph, marks, w, lowest, mateAncestors, found);
      if (marks[w] === 0) break;
      const q = takeHighest(marks, w);
      mateAncestors[found++] = q;
      markMembers(graph, marks, q, lowest);
    }
  }
  for (let k = found - 1; k >= 0; k--) {
    k = downThroughAnimals(graph, D, work, lowest, mateAncestors, k);
    if (k >= 0) downToMixture(graph, D, work, mateAncestors[k]);
  }
  return found;
}

/**
 * Marks where the columns of the lanes are read: at the mates of the sire, at the mothers of the clutches he may be the father of, and at those before
 * him among the members of a mixture. Answers the highest of these places.
 */
function markRead(sweep: Sweep, filled: number, lowest: number): number {
  const { graph, memberships, lanes } = sweep;
  const { at, start, member } = graph.mixtures;
  let highest = 0;
  for (let l = 0; l < filled; l++) {
    const q = lanes[l];
    highest = markMates(sweep, q, lowest, highest);
    for (let c = memberships.start[q]; c < memberships.start[q + 1]; c++) {
      const e = memberships.entry[c];
      const m = memberships.mixture[e];
      if (isUncertainParent(sweep, at[m])) highest = markMates(sweep, at[m], lowest, highest);
      for (let f = start[m]; f < e; f++) {
        if (member[f] < lowest) continue;
        mark(sweep.marks, member[f]);
        if (member[f] > highest) highest = member[f];
      }
    }
  }
  return highest;
}

/** Marks the mates of the sire at place q; answers the highest of them, or `before` where that is higher. */
function markMates({ young, marks }: Sweep, q: number, lowest: number, before: number): number {
  const { start, pairs } = young;
  let highest = before;
  for (let c = start[q]; c < start[q + 1]; c++) {
    const d = pairs[2 * c + 1];
    if (d < lowest) continue;
    mark(marks, d);
    if (d > highest) highest = d;
  }
  return highest;
}

/** Whether the uncertain parent of a clutch stands here, and not an animal. */
export function isUncertainParent({ graph, F }: Sweep, q: number): boolean {
  return graph.nodeOf[q] >= F.length;
}

/** Takes the marked places of word w, highest first, and marks their parents, until none is left or the next is a mixture. */
function listAnimals(
  { sire, dam }: ParentGraph,
  marks: Int32Array,
  w: number,
  lowest: number,
  list: Int32Array,
  count: number,
): number {
  let found = count;
  while (marks[w] !== 0) {
    const bit = 31 - clz32(marks[w]);
    const q = (w << 5) | bit;
    const s = sire[q];
    if (s < -1) break;
    marks[w] ^= 1 << bit;
    list[found++] = q;
    const d = dam[q];
    if (s >= lowest) mark(marks, s);
    if (d >= lowest) mark(marks, d);
  }
  return found;
}

function markMembers(graph: ParentGraph, marks: Int32Array, q: number, lowest: number): void {
  const { start, member } = graph.mixtures;
  const m = -2 - graph.sire[q];
  for (let e = start[m]; e < start[m + 1]; e++) {
    if (member[e] >= lowest) mark(marks, member[e]);
  }
}

/** r = y D + the mean of the parents' r, from position k of the list down to the next mixture: its position, or -1. */
function downThroughAnimals(
  { count, sire, dam }: ParentGraph,
  D: Float64Array,
  work: Float64Array,
  lowest: number,
  list: Int32Array,
  from: number,
): number {
  let k = from;
  for (; k >= 0; k--) {
    const q = list[k];
    const s = sire[q];
    if (s < -1) break;
    const at = q * LANES;
    const v = D[q];
    const a = (s < lowest ? count : s) * LANES;
    const b = (dam[q] < lowest ? count : dam[q]) * LANES;
    work[at] = work[at] * v + (work[a] + work[b]) / 2;
    work[at + 1] = work[at + 1] * v + (work[a + 1] + work[b + 1]) / 2;
    work[at + 2] = work[at + 2] * v + (work[a + 2] + work[b + 2]) / 2;
    work[at + 3] = work[at + 3] * v + (work[a + 3] + work[b + 3]) / 2;
  }
  return k;
}

function downToMixture(graph: ParentGraph, D: Float64Array, work: Float64Array, q: number): void {
  const { start, member, weight } = graph.mixtures;
  const m = -2 - graph.sire[q];
  const at = q * LANES;
  const v = D[q];
  let r0 = work[at] * v;
  let r1 = work[at + 1] * v;
  let r2 = work[at + 2] * v;
  let r3 = work[at + 3] * v;
  for (let e = start[m]; e < start[m + 1]; e++) {
    const p = weight[e];
    const from = member[e] * LANES;
    r0 += p * work[from];
    r1 += p * work[from + 1];
    r2 += p * work[from + 2];
    r3 += p * work[from + 3];
  }
  work[at] = r0;
  work[at + 1] = r1;
  work[at + 2] = r2;
  work[at + 3] = r3;
}

export function clear(work: Float64Array, places: Int32Array, count: number): void {
  for (let k = 0; k < count; k++) {
    const at = places[k] * LANES;
    work[at] = 0;
    work[at + 1] = 0;
    work[at + 2] = 0;
    work[at + 3] = 0;
  }
}

export function mark(marks: Int32Array, q: number): void {
  marks[q >> 5] |= 1 << (q & 31);
}

/** The highest marked place of word w, which is not 0; it is marked no longer. */
function takeHighest(marks: Int32Array, w: number): number {
  const bit = 31 - clz32(marks[w]);
  marks[w] ^= 1 << bit;
  return (w << 5) | bit;
}
