import { type Solved, solvedPedigree } from './inbreeding.js';
import { type AnimalKey, type Pedigree, rowsOf } from './pedigree.js';

/**
 * Mean kinship of each of `ids` to the group (kinship = a_ij / 2; an animal's kinship to itself, (1 + F) / 2, is
 * included where it belongs to the group), in the order of `ids`. Range 0 to 1.
 * Source: Ballou & Lacy 1995, in Population Management for Survival and Recovery, Columbia University Press.
 * Method: one pass up from the whole group and one down (Colleau 2002, doi 10.1186/1297-9686-34-4-409).
 * Cost: animals with young + group + ids, once per call; it does not grow with group x ids.
 */
export function meanKinship(
  pedigree: Pedigree,
  group: ArrayLike<AnimalKey>,
  ids: ArrayLike<AnimalKey> = group,
): Float64Array {
  if (group.length === 0) throw new RangeError('The group has no animals.');
  const solved = solvedPedigree(pedigree);
  const share = new Map<number, number>();
  for (const row of rowsOf(pedigree, group))
    share.set(row, (share.get(row) ?? 0) + 1 / group.length);
  const r = meanRelatedness(pedigree, solved, share);
  const { placeOf } = solved.graph;
  return Float64Array.from(rowsOf(pedigree, ids), (row) => {
    if (placeOf[row] >= 0) return r[placeOf[row]] / 2;
    const { parents, D } = leaf(pedigree, solved, row);
    const own = D * (share.get(row) ?? 0);
    return (own + parents.reduce((sum, place) => sum + r[place] / 2, 0)) / 2;
  });
}

/**
 * Gene diversity of a group: 1 - its mean kinship (self included), the share of the founders' heterozygosity that is expected
 * in young of random matings. Source: Lacy 1995, Zoo Biol. 14:565-577, doi 10.1002/zoo.1430140609.
 */
export function geneDiversity(pedigree: Pedigree, group: ArrayLike<AnimalKey>): number {
  const kinship = meanKinship(pedigree, group);
  return 1 - kinship.reduce((sum, each) => sum + each, 0) / kinship.length;
}

/** A x by place, for x given by row. */
function meanRelatedness(
  pedigree: Pedigree,
  solved: Solved,
  share: ReadonlyMap<number, number>,
): Float64Array {
  const { graph, D } = solved;
  const { sire, dam, placeOf, mixtures } = graph;
  const { start, member, weight } = mixtures;
  const x = new Float64Array(graph.count);
  for (const [row, each] of share) {
    if (placeOf[row] >= 0) x[placeOf[row]] += each;
    else for (const place of leaf(pedigree, solved, row).parents) x[place] += each / 2;
  }
  for (let q = graph.count - 1; q >= 0; q--) {
    const s = sire[q];
    const y = x[q];
    if (y === 0) continue;
    if (s < -1) {
      for (let e = start[-2 - s]; e < start[-1 - s]; e++) x[member[e]] += weight[e] * y;
    } else {
      if (s >= 0) x[s] += y / 2;
      if (dam[q] >= 0) x[dam[q]] += y / 2;
    }
  }
  for (let q = 0; q < graph.count; q++) {
    const s = sire[q];
    let r = D[q] * x[q];
    if (s < -1) {
      for (let e = start[-2 - s]; e < start[-1 - s]; e++) r += weight[e] * x[member[e]];
    } else {
      if (s >= 0) r += x[s] / 2;
      if (dam[q] >= 0) r += x[dam[q]] / 2;
    }
    x[q] = r;
  }
  return x;
}

/** Places of the recorded parents of an animal without young, and its Mendelian sampling variance. */
function leaf(
  pedigree: Pedigree,
  { graph, self }: Solved,
  row: number,
): { parents: number[]; D: number } {
  const parents = [pedigree.sire[row], pedigree.dam[row]]
    .filter((node) => node >= 0)
    .map((node) => graph.placeOf[node]);
  return { parents, D: 1 - parents.reduce((sum, place) => sum + self[place], 0) / 4 };
}
