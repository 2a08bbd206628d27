import { descentOf, type Lineage } from './lineage.js';
import type { AnimalKey, Pedigree } from './pedigree.js';

export interface Completeness {
  /** Share of the 2^g ancestral places filled, entry 0 for the parents (g = 1); 0 to 1. */
  readonly knownByGeneration: Float64Array;
  /**
   * Index over the first d generations, entry d - 1: the harmonic mean of the sire's and the dam's line; 0 where a
   * parent is unknown. Source: MacCluer et al. 1983, J. Hered. 74:394-399, doi 10.1093/oxfordjournals.jhered.a109824.
   */
  readonly index: Float64Array;
  /**
   * Sum over all known ancestral places of (1/2)^generation, without limit of depth. Source: Maignel, Boichard
   * & Verrier 1996, Interbull Bull. 14:49-54.
   */
  readonly equivalentGenerations: number;
}

/**
 * How much of the pedigree behind each of `ids` is recorded, in the order of `ids`. An ancestor counts as
 * often as it occurs; a candidate parent, or clutch, counts with its probability. Cost: ancestors x `generations`. Throws RangeError on an unknown id.
 */
export function completeness(
  pedigree: Pedigree,
  ids: ArrayLike<AnimalKey>,
  generations = 5,
): Completeness[] {
  const { lineage } = descentOf(pedigree, ids);
  const { filled, equivalent } = fillPlaces(lineage, pedigree.size, generations);
  const width = generations + 1;
  /** Mean share filled over the line's first d generations, the parent itself included. */
  const line = (parent: number, d: number): number => {
    if (parent === -1) return 0;
    let sum = 0;
    for (let g = 0; g < d; g++) sum += filled[parent * width + g];
    return sum / d;
  };
  const index = (i: number, d: number): number => {
    const { sire, dam, start, member, weight } = lineage;
    if (sire[i] < -1) {
      let mean = 0;
      for (let e = start[-2 - sire[i]]; e < start[-1 - sire[i]]; e++) {
        mean += weight[e] * index(member[e], d);
      }
      return mean;
    }
    const sireLine = line(sire[i], d);
    const damLine = line(dam[i], d);
    return sireLine > 0 && damLine > 0 ? (2 * sireLine * damLine) / (sireLine + damLine) : 0;
  };
  return Array.from(lineage.at, (i) => ({
    knownByGeneration: filled.slice(i * width + 1, (i + 1) * width),
    index: Float64Array.from({ length: generations }, (_, g) => index(i, g + 1)),
    equivalentGenerations: equivalent[i],
  }));
}

/** `filled[i * (G + 1) + g]`: share of i's places g generations back that are recorded, g = 0 for i itself. */
function fillPlaces(
  lineage: Lineage,
  size: number,
  generations: number,
): { filled: Float64Array; equivalent: Float64Array } {
  const { count, node, sire, dam, start, member, weight } = lineage;
  const width = generations + 1;
  const filled = new Float64Array(count * width);
  const equivalent = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const at = i * width;
    if (sire[i] < -1) {
      const m = -2 - sire[i];
      for (let e = start[m]; e < start[m + 1]; e++) {
        equivalent[i] += weight[e] * equivalent[member[e]];
        for (let g = 0; g < width; g++) filled[at + g] += weight[e] * filled[member[e] * width + g];
      }
      if (node[i] < size) filled[at] = 1; // an animal is known itself, whatever its clutch
      continue;
    }
    filled[at] = 1;
    for (const parent of [sire[i], dam[i]]) {
      if (parent < 0) continue;
      equivalent[i] += (filled[parent * width] + equivalent[parent]) / 2;
      for (let g = 1; g < width; g++) filled[at + g] += filled[parent * width + g - 1] / 2;
    }
  }
  return { filled, equivalent };
}
