import { memberships } from './mixtures.js';
import { type ParentGraph, parentGraph } from './parent-graph.js';
import type { Pedigree } from './pedigree.js';
import {
  clear,
  isUncertainParent,
  LANES,
  mark,
  passDown,
  passUp,
  type Sweep,
} from './sire-passes.js';
import { youngBySire } from './young-by-sire.js';

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
  // The young are listed in the room of their F, which is not in use yet.
  const young = youngBySire(pedigree, graph, new Int32Array(F.buffer, F.byteOffset, 2 * F.length));
  F.fill(0);
  const sweep: Sweep = {
    graph,
    young,
    memberships: memberships(graph.mixtures, count),
    self: new Float64Array(count),
    D: new Float64Array(count),
    F,
    base,
    work: new Float64Array((count + 1) * LANES),
    marks: new Int32Array((count >> 5) + 1),
    ancestors: new Int32Array(count),
    mateAncestors: new Int32Array(count),
    lanes: new Int32Array(LANES),
  };
  const { self, D, lanes } = sweep;
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
      if (isColumnRead(sweep, q)) lanes[filled++] = q;
      if (filled === LANES || (q === end - 1 && filled > 0)) {
        takeBlock(sweep, filled);
        filled = 0;
      }
    }
  }
  return { self, D };
}

/** Whether there is anything to read in the column of A of this place: an uncertain parent's is the mean of its candidates'. */
function isColumnRead(sweep: Sweep, q: number): boolean {
  const { young, memberships } = sweep;
  if (isUncertainParent(sweep, q)) return false;
  return young.start[q] < young.start[q + 1] || memberships.start[q] < memberships.start[q + 1];
}

/** Columns of A for the sires in the lanes, as far as they are read. */
function takeBlock(sweep: Sweep, filled: number): void {
  const { young, F, work, memberships, ancestors, mateAncestors, lanes } = sweep;
  for (let l = 0; l < filled; l++) {
    work[lanes[l] * LANES + l] = 1;
    mark(sweep.marks, lanes[l]);
  }
  const visited = passUp(sweep, lanes[filled - 1]);
  const below = passDown(sweep, filled, ancestors[visited - 1]);
  for (let l = 0; l < filled; l++) {
    const q = lanes[l];
    readYoung(F, young.pairs, young.start[q], young.start[q + 1], work, l);
    for (let c = memberships.start[q]; c < memberships.start[q + 1]; c++) {
      readAsMember(sweep, l, memberships.entry[c]);
    }
  }
  clear(work, mateAncestors, below);
  clear(work, ancestors, visited);
}

/** F of the young c of a sire, `from <= c < to`: half of what his column holds at their dams. */
function readYoung(
  F: Float64Array,
  pairs: Int32Array,
  from: number,
  to: number,
  work: Float64Array,
  lane: number,
): void {
  for (let c = from; c < to; c++) F[pairs[2 * c]] = work[pairs[2 * c + 1] * LANES + lane] / 2;
}

/**
 * What the column in a lane brings to a mixture that its animal is entry e of: its part of the F of the clutch's young, and of a_mm and
 * D_m all that rests on the relatedness with the members before it.
 */
function readAsMember(sweep: Sweep, lane: number, e: number): void {
  const { graph, young, memberships, self, D, F, work } = sweep;
  const { at, start, member, weight, plain, cross } = graph.mixtures;
  const m = memberships.mixture[e];
  const q = at[m];
  if (isUncertainParent(sweep, q)) {
    for (let c = young.start[q]; c < young.start[q + 1]; c++) {
      F[young.pairs[2 * c]] += (weight[e] * work[young.pairs[2 * c + 1] * LANES + lane]) / 2;
    }
  }
  for (let f = start[m]; f < e; f++) {
    const a = work[member[f] * LANES + lane];
    const joint = cross[m] * plain[e] * plain[f];
    self[q] += 2 * joint * a;
    D[q] += 2 * (joint - weight[e] * weight[f]) * a;
  }
}

/** Adds to a_mm and D_m what rests on the members' relatedness with themselves, and the F of a found animal. */
function closeMixture(sweep: Sweep, q: number): void {
  const { graph, self, D, F, base } = sweep;
  const { start, member, weight, plain, same, stranger, cross } = graph.mixtures;
  const m = -2 - graph.sire[q];
  // Whoever nobody recorded brings nothing of a recorded founder.
  const unrecorded = base ? 0 : stranger[m];
  self[q] += unrecorded;
  D[q] += unrecorded;
  for (let e = start[m]; e < start[m + 1]; e++) {
    const joint = same[e] + cross[m] * plain[e] * plain[e];
    self[q] += joint * self[member[e]];
    D[q] += (joint - weight[e] * weight[e]) * self[member[e]];
  }
  if (!isUncertainParent(sweep, q)) F[graph.nodeOf[q]] = self[q] - (base ? base[q] : 1);
}
