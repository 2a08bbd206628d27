import { solvedPedigree, sweepSires } from './inbreeding.js';
import { byDescent } from './lineage.js';
import { type AnimalKey, type Pedigree, positionOf } from './pedigree.js';

/**
 * Partial inbreeding coefficients by founder, in row order: the probability that both copies of a gene come from one
 * copy of this founder. Summed over the founders (half-founders' unrecorded parents included) it is F without declared founder kin.
 * Source: Lacy, Alaks & Walsh 1996, Evolution 50:2187-2200, doi 10.1111/j.1558-5646.1996.tb03609.x.
 * Cost: as `inbreeding`. Throws RangeError when the animal is unknown or has a recorded parent.
 */
export function partialInbreeding(pedigree: Pedigree, founder: AnimalKey): Float64Array {
  const row = positionOf(pedigree, founder);
  if (pedigree.sire[row] !== -1 || pedigree.dam[row] !== -1) {
    throw new RangeError(`'${founder}' has a recorded parent: it is not a founder.`);
  }
  const bare = byDescent(pedigree);
  const { graph } = solvedPedigree(bare);
  const F = new Float64Array(bare.size);
  if (graph.placeOf[row] < 0) return F.subarray(0, bare.animals);
  const { start, member, weight } = graph.mixtures;
  // The founder's share of each animal's genes, parents first.
  const share = new Float64Array(graph.count);
  for (let q = 0; q < graph.count; q++) {
    const s = graph.sire[q];
    const d = graph.dam[q];
    if (s >= -1) share[q] = ((s < 0 ? 0 : share[s]) + (d < 0 ? 0 : share[d])) / 2;
    else
      for (let e = start[-2 - s]; e < start[-1 - s]; e++) share[q] += weight[e] * share[member[e]];
    if (graph.nodeOf[q] === row) share[q] = 1;
  }
  sweepSires(bare, graph, F, share);
  return F.subarray(0, bare.animals);
}
