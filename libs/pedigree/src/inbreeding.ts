import { AVERAGE, DRAWN, FOUNDER } from './mixtures.js';
import { type ParentGraph, parentGraph } from './parent-graph.js';
import type { Pedigree } from './pedigree.js';
import { clear, LANES, mark, passDown, passUp, type Sweep } from './sire-passes.js';
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
  const sweep: Sweep = {
    graph,
    young: youngBySire(pedigree, graph),
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

/** Columns of A for the sires in the lanes, as far as their mates need them. */
function takeBlock(sweep: Sweep, filled: number): void {
  const { graph, young, F, work, ancestors, mateAncestors, lanes } = sweep;
  let hasYoung = false;
  let hasAverage = false;
  for (let l = 0; l < filled; l++) {
    const q = lanes[l];
    work[q * LANES + l] = 1;
    mark(sweep.marks, q);
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
