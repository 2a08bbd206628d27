import { CLUTCH, type ParentGraph } from './parent-graph.js';
import type { Pedigree } from './pedigree.js';

/** Rows with both parents recorded, grouped by sire: those of the sire at place q are the slots `start[q]` to `start[q + 1]`. */
export interface YoungBySire {
  readonly start: Int32Array;
  /** By slot: the row, and the place of its dam. */
  readonly row: Int32Array;
  readonly dam: Int32Array;
}

/**
 * Groups the rows by sire (counting sort, two passes over the rows). Young of an uncertain sire
 * stand under the average of his clutch's candidates: to animals outside the clutch the two are related alike.
 */
export function youngBySire(pedigree: Pedigree, graph: ParentGraph): YoungBySire {
  const { size, sire, dam } = pedigree;
  const { placeOf, count } = graph;
  const columnOf = columns(graph);
  const start = new Int32Array(count + 2);
  for (let i = 0; i < size; i++) {
    if (sire[i] >= 0 && dam[i] >= 0) start[columnOf[placeOf[sire[i]]] + 2]++;
  }
  for (let q = 0; q < count; q++) start[q + 2] += start[q + 1];
  const total = start[count + 1];
  const row = new Int32Array(total);
  const damPlace = new Int32Array(total);
  // start[q + 1] is the next free slot of q while filling, and its end afterwards.
  for (let i = 0; i < size; i++) {
    if (sire[i] < 0 || dam[i] < 0) continue;
    const slot = start[columnOf[placeOf[sire[i]]] + 1]++;
    row[slot] = i;
    damPlace[slot] = placeOf[dam[i]];
  }
  return { start, row, dam: damPlace };
}

/** By place: itself, or the average over the candidates whose draw it is. */
function columns({ count, sire, mixtures }: ParentGraph): Int32Array {
  const columnOf = new Int32Array(count);
  for (let q = 0; q < count; q++) {
    const m = -2 - sire[q];
    columnOf[q] = m >= 0 && mixtures.kind[m] === CLUTCH ? mixtures.member[mixtures.start[m]] : q;
  }
  return columnOf;
}
