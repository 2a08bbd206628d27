import { AVERAGE, DRAWN, FOUNDER } from './mixtures.js';
import { type ParentGraph, parentGraph } from './parent-graph.js';
import type { Pedigree } from './pedigree.js';
import { type YoungBySire, youngBySire } from './young-by-sire.js';

const { clz32 } = Math;

/** Sires taken in one pass, a lane of the work array each. The unrolled lines below count on it. */
const LANES = 4;
/**
 * Ancestors whose share in all lanes is below this are not followed further up. Dropping a share s changes an F by
 * less than s, so even 10^7 of them change no digit of a double.
 */
const SMALLEST_SHARE = 1e-30;

/**
 * Inbreeding coefficients F_i = a(sire, dam) / 2 in row order: the probability that both copies of a
 * gene of animal i come from one copy in a common ancestor. Range 0 to 1. An animal with an unknown parent has 0;
 * founders are unrelated and not inbred unless declared otherwise. Where parents are uncertain: the expectation.
 *
 * Method: one pass up and one down the pedigree for each sire, after Sargolzaei, Iwaisaki & Colleau 2005,
 * J. Anim. Breed. Genet. 122:325-331, doi 10.1111/j.1439-0388.2005.00538.x; A = T D T' of Henderson 1976,
 * Biometrics 32:69-83. Cost: rows + sum over sires of (its ancestors + its mates' ancestors) / 4.
 */
export function inbreeding(pedigree: Pedigree): Float64Array {
  return solve(pedigree).F.subarray(0, pedigree.animals);
}

/** What the other kernels need of a solved pedigree, by place of the parent graph. */
export interface Solved {
  readonly graph: ParentGraph;
  /** a_ii. */
  readonly self: Float64Array;
  /** Mendelian sampling variance: the part of a_ii that does not come through the parents. */
  readonly D: Float64Array;
}

const solved = new WeakMap<Pedigree, Solved>();

/** Solved once per pedigree object. */
export function solvedPedigree(pedigree: Pedigree): Solved {
  return solved.get(pedigree) ?? solve(pedigree).solved;
}

function solve(pedigree: Pedigree): { F: Float64Array; solved: Solved } {
  const graph = parentGraph(pedigree);
  const F = new Float64Array(pedigree.size);
  const { self, D } = sweepSires(pedigree, graph, F, null);
  const result = { graph, self, D };
  solved.set(pedigree, result);
  return { F, solved: result };
}

/**
 * Fills F and answers a_ii and D by place. With `base` null the ordinary coefficients. With `base` by place, the share of
 * each animal's genes that stem from one founder, everything is restricted to that founder's
 * genes: F is then the partial inbreeding coefficient, and animals nobody recorded bring nothing.
 */
export function sweepSires(
  pedigree: Pedigree,
  graph: ParentGraph,
  F: Float64Array,
  base: Float64Array | null,
): { self: Float64Array; D: Float64Array } {
  const { count, nodeOf, sire, dam, levels } = graph;
  const sweep: Sweep = {
    graph,
    young: youngBySire(pedigree, graph),
    self: new Float64Array(count),
    D: new Float64Array(count),
    F,
    base,
    work: new Float64Array((count + 1) * LANES),
    marks: new Int32Array((count >> 5) + 1),
    words: new Int32Array((count >> 10) + 1),
    ancestors: new Int32Array(count),
    mateAncestors: new Int32Array(count),
    lanes: new Int32Array(LANES),
  };
  const { young, self, D, lanes } = sweep;
  for (let h = 0; h + 1 < levels.length; h++) {
    const end = levels[h + 1];
    for (let q = levels[h]; q < end; q++) {
      const s = sire[q];
      if (s < -1) {
        closeMixture(sweep, q);
        continue;
      }
      const own = base ? base[q] : 1;
      self[q] = own + F[nodeOf[q]];
      D[q] = own - ((s < 0 ? 0 : self[s]) + (dam[q] < 0 ? 0 : self[dam[q]])) / 4;
    }
    let filled = 0;
    for (let q = levels[h]; q < end; q++) {
      if (isAverage(graph, q) || young.start[q] < young.start[q + 1]) lanes[filled++] = q;
      if (filled === LANES || (q === end - 1 && filled > 0)) {
        takeBlock(sweep, filled);
        filled = 0;
      }
    }
  }
  return { self, D };
}

/** The work space of one sweep. Passed on and not closed over: the engine then keeps the arrays in registers. */
interface Sweep {
  readonly graph: ParentGraph;
  readonly young: YoungBySire;
  readonly self: Float64Array;
  readonly D: Float64Array;
  readonly F: Float64Array;
  readonly base: Float64Array | null;
  /** LANES figures a place: y on the way up, r on the way down. One place more stays 0: parents that bring nothing. */
  readonly work: Float64Array;
  /** Bit set of places still to visit, and a bit for each word of it that is not 0. */
  readonly marks: Int32Array;
  readonly words: Int32Array;
  readonly ancestors: Int32Array;
  readonly mateAncestors: Int32Array;
  /** Places of the sires of this block, all of one depth. */
  readonly lanes: Int32Array;
}

/** Columns of A for the sires in the lanes, as far as their mates need them. */
function takeBlock(sweep: Sweep, filled: number): void {
  const { graph, young, F, work, ancestors, mateAncestors, lanes } = sweep;
  let hasYoung = false;
  let hasAverage = false;
  for (let l = 0; l < filled; l++) {
    const q = lanes[l];
    work[q * LANES + l] = 1;
    mark(sweep.marks, sweep.words, q);
    if (isAverage(graph, q)) hasAverage = true;
    if (young.start[q] < young.start[q + 1]) hasYoung = true;
  }
  const visited = passUp(sweep, lanes[filled - 1]);
  if (hasAverage) closeAverages(sweep, filled, visited);
  if (hasYoung) {
    const below = passDown(sweep, filled, ancestors[visited - 1]);
    for (let l = 0; l < filled; l++) {
      const q = lanes[l];
      for (let c = young.start[q]; c < young.start[q + 1]; c++) {
        F[young.pairs[2 * c]] = work[young.pairs[2 * c + 1] * LANES + l] / 2;
      }
    }
    clear(work, mateAncestors, below);
  }
  clear(work, ancestors, visited);
}

/** y = T' e: shares of the sires' genes by ancestor, youngest ancestor first. */
function passUp({ graph, work, marks, words, ancestors }: Sweep, highest: number): number {
  const { sire, dam } = graph;
  const { start, member, weight } = graph.mixtures;
  let visited = 0;
  for (let q = takeHighest(marks, words, highest); q >= 0; q = takeHighest(marks, words, q)) {
    ancestors[visited++] = q;
    const y = q * LANES;
    const s = sire[q];
    if (s < -1) {
      const m = -2 - s;
      for (let e = start[m]; e < start[m + 1]; e++) {
        mark(marks, words, member[e]);
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
      mark(marks, words, s);
      const to = s * LANES;
      work[to] += y0;
      work[to + 1] += y1;
      work[to + 2] += y2;
      work[to + 3] += y3;
    }
    if (d >= 0) {
      mark(marks, words, d);
      const to = d * LANES;
      work[to] += y0;
      work[to + 1] += y1;
      work[to + 2] += y2;
      work[to + 3] += y3;
    }
  }
  return visited;
}

/** a_mm of the averages among the lanes: their form w'Aw is sum y^2 D over their ancestors. */
function closeAverages(sweep: Sweep, filled: number, visited: number): void {
  const { graph, self, D, work, ancestors, lanes } = sweep;
  for (let l = 0; l < filled; l++) {
    const q = lanes[l];
    if (!isAverage(graph, q)) continue;
    let form = 0;
    for (let k = 0; k < visited; k++) {
      const j = ancestors[k];
      const y = work[j * LANES + l];
      form += y * y * D[j];
    }
    self[q] = form;
  }
}

/** self and D of a drawn node (its F where it is an animal) or a founder with declared kin; an average waits for its own pass up. */
function closeMixture({ graph, self, D, F, base }: Sweep, q: number): void {
  const { kind, start, member, constant, termStart, term, share } = graph.mixtures;
  const m = -2 - graph.sire[q];
  if (kind[m] === FOUNDER) {
    self[q] = 1;
    D[q] = constant[m];
  } else if (kind[m] === DRAWN) {
    let a = base ? 0 : constant[m];
    for (let t = termStart[m]; t < termStart[m + 1]; t++) a += share[t] * self[term[t]];
    self[q] = a;
    D[q] = a - self[member[start[m]]];
    if (graph.nodeOf[q] < F.length) F[graph.nodeOf[q]] = a - (base ? base[q] : 1);
  }
}

function isAverage({ sire, mixtures }: ParentGraph, q: number): boolean {
  return sire[q] < -1 && mixtures.kind[-2 - sire[q]] === AVERAGE;
}

/**
 * r = T D y for the ancestors of the mates, oldest first, over y in place. Below `lowest`, the oldest
 * ancestor of the sires, r is 0 and nothing is visited.
 */
function passDown(sweep: Sweep, filled: number, lowest: number): number {
  const { graph, young, D, work, marks, words, mateAncestors, lanes } = sweep;
  const { count, sire, dam } = graph;
  const { start, member, weight } = graph.mixtures;
  let highest = 0;
  for (let l = 0; l < filled; l++) {
    const q = lanes[l];
    for (let c = young.start[q]; c < young.start[q + 1]; c++) {
      const d = young.pairs[2 * c + 1];
      if (d < lowest) continue;
      mark(marks, words, d);
      if (d > highest) highest = d;
    }
  }
  let found = 0;
  for (let q = takeHighest(marks, words, highest); q >= 0; q = takeHighest(marks, words, q)) {
    mateAncestors[found++] = q;
    const s = sire[q];
    if (s < -1) {
      const m = -2 - s;
      for (let e = start[m]; e < start[m + 1]; e++) {
        if (member[e] >= lowest) mark(marks, words, member[e]);
      }
      continue;
    }
    const d = dam[q];
    if (s >= lowest) mark(marks, words, s);
    if (d >= lowest) mark(marks, words, d);
  }
  for (let k = found - 1; k >= 0; k--) {
    const q = mateAncestors[k];
    const at = q * LANES;
    const v = D[q];
    const s = sire[q];
    if (s < -1) {
      for (let l = 0; l < LANES; l++) work[at + l] *= v;
      const m = -2 - s;
      for (let e = start[m]; e < start[m + 1]; e++) {
        const from = member[e] * LANES;
        for (let l = 0; l < LANES; l++) work[at + l] += weight[e] * work[from + l];
      }
      continue;
    }
    const a = (s < lowest ? count : s) * LANES;
    const b = (dam[q] < lowest ? count : dam[q]) * LANES;
    work[at] = work[at] * v + (work[a] + work[b]) / 2;
    work[at + 1] = work[at + 1] * v + (work[a + 1] + work[b + 1]) / 2;
    work[at + 2] = work[at + 2] * v + (work[a + 2] + work[b + 2]) / 2;
    work[at + 3] = work[at + 3] * v + (work[a + 3] + work[b + 3]) / 2;
  }
  return found;
}

function clear(work: Float64Array, places: Int32Array, count: number): void {
  for (let k = 0; k < count; k++) {
    const at = places[k] * LANES;
    work[at] = 0;
    work[at + 1] = 0;
    work[at + 2] = 0;
    work[at + 3] = 0;
  }
}

function mark(marks: Int32Array, words: Int32Array, q: number): void {
  marks[q >> 5] |= 1 << (q & 31);
  words[q >> 10] |= 1 << ((q >> 5) & 31);
}

/** The highest marked place, at most `from`; it is marked no longer. -1 when there is none. */
function takeHighest(marks: Int32Array, words: Int32Array, from: number): number {
  for (let b = from >> 10; b >= 0; b--) {
    if (words[b] === 0) continue;
    const w = (b << 5) | (31 - clz32(words[b]));
    const bit = 31 - clz32(marks[w]);
    marks[w] ^= 1 << bit;
    if (marks[w] === 0) words[b] ^= 1 << (w & 31);
    return (w << 5) | bit;
  }
  return -1;
}
