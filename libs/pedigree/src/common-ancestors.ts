import { solvedPedigree } from './inbreeding.js';
import { candidatesOf, compactLineage, type Lineage } from './lineage.js';
import { type AnimalKey, type Pedigree, rowsOf } from './pedigree.js';
import { relatednessOfRows } from './relatedness.js';
import { sireHypotheses } from './sire-hypotheses.js';

/** One way in which two animals can hold the same copy of a gene. */
export interface AncestorPath {
  /**
   * From the first animal up to the common ancestor and down to the second, row positions; `size + k` stands for the
   * uncertain parent `draws[k]`, as the ancestor for an animal that nobody recorded.
   */
  readonly through: readonly number[];
  readonly ancestor: number;
  /** What the path adds to the F of a young of the two: (1/2)^animals on the path x (1 + F of the ancestor). */
  readonly contribution: number;
}

export interface CommonAncestors {
  /** Paths by contribution, greatest first. */
  readonly paths: readonly AncestorPath[];
  /** Ancestors with the sum of the listed paths, greatest first. */
  readonly ancestors: readonly { readonly row: number; readonly contribution: number }[];
  /** F of a young of the two (half their relatedness). */
  readonly total: number;
  /** Part of `total` that goes along paths not listed; 0 when all are. */
  readonly remainder: number;
}

/** Most ancestors of the two for which the relatedness among them is held (n^2 doubles: 70 MB). */
const MOST_ANCESTORS = 3000;
/** Steps after which no further paths are sought: about half a second. */
const MOST_STEPS = 300_000;

/**
 * The common ancestors of two animals and the paths through them, after Wright 1922, Am. Nat. 56:330-338,
 * doi 10.1086/279872. At most `mostPaths` are listed (twenty generations of full sibs have a million), those that matter most first; what the others
 * add is `remainder`, exactly. Declared founder kin has no paths and stays in `remainder`.
 *
 * Method: a_ij is split over the parents of the younger of the two, the largest part first; a part whose two ends are one
 * animal is a path. Cost: ancestors^2 + paths x their length. Throws RangeError on an unknown id or more than 3,000 ancestors.
 */
export function commonAncestors(
  pedigree: Pedigree,
  first: AnimalKey,
  second: AnimalKey,
  mostPaths = 1000,
): CommonAncestors {
  const rows = rowsOf(pedigree, [first, second]);
  const solved = solvedPedigree(pedigree);
  const lineage = compactLineage(pedigree, solved, rows);
  const { count, node, at } = lineage;
  if (count > MOST_ANCESTORS) {
    throw new RangeError(`${count} ancestors are more than ${MOST_ANCESTORS}.`);
  }
  const a = relatednessOfRows(pedigree, solved, node);
  const total = a[at[0] * count + at[1]] / 2;
  const paths: AncestorPath[] = [];
  const parts = new PartHeap();
  let listed = 0;
  push({ left: { node: at[0], after: null }, right: { node: at[1], after: null }, weight: 0.5 });
  for (let steps = 0; paths.length < mostPaths && steps < MOST_STEPS; steps++) {
    const part = parts.pop();
    if (!part) break;
    const { left, right, weight } = part;
    if (left.node === right.node && node[left.node] >= pedigree.size) {
      meetInDraw(left, right, weight);
      continue;
    }
    if (left.node === right.node) {
      const contribution = weight * a[left.node * count + left.node];
      list(left, right, contribution);
      continue;
    }
    // Parents have lower numbers, so the higher of the two cannot be an ancestor of the other.
    const [younger, other] = left.node > right.node ? [left, right] : [right, left];
    for (const [parent, share] of parentsOf(pedigree, lineage, younger.node)) {
      const step = { node: parent, after: younger };
      push({
        left: younger === left ? step : other,
        right: younger === left ? other : step,
        weight: weight * share,
      });
    }
  }
  return {
    paths: onceEach(paths),
    ancestors: byAncestor(paths),
    total,
    remainder: total - listed > 1e-12 ? total - listed : 0,
  };

  function push(part: Omit<Part, 'value'>): void {
    const value = part.weight * a[part.left.node * count + part.right.node];
    if (value > 1e-15) parts.push({ ...part, value });
  }

  function list(left: Chain, right: Chain, contribution: number): void {
    if (contribution === 0) return;
    listed += contribution;
    paths.push({
      through: [...downwards(left).reverse(), ...downwards(right).slice(1)]
        .map((i) => node[i])
        .filter((each) => each < pedigree.animals || each >= pedigree.size),
      ancestor: node[left.node],
      contribution,
    });
  }

  /** Two lines that meet in one clutch's uncertain parent: in the same candidate, or in two that are related. */
  function meetInDraw(left: Chain, right: Chain, weight: number): void {
    const draw = pedigree.draws[node[left.node] - pedigree.size];
    const candidates = candidatesOf(lineage, left.node);
    for (const { probability, shares, strangers } of sireHypotheses(draw)) {
      const part = weight * probability;
      const rest = 1 - shares.reduce((sum, share) => sum + share, 0);
      if (rest > 1e-12) list(left, right, (part * rest * rest) / strangers);
      shares.forEach((p, e) => {
        const onLeft = { node: candidates[e], after: left };
        shares.forEach((q, f) => {
          const onRight = { node: candidates[f], after: right };
          push({ left: onLeft, right: onRight, weight: part * p * q });
        });
      });
    }
  }

  function downwards(chain: Chain): number[] {
    const nodes: number[] = [];
    for (let link: Chain | null = chain; link; link = link.after) nodes.push(link.node);
    return nodes;
  }
}

/** A line of descent, from an ancestor down. */
interface Chain {
  readonly node: number;
  readonly after: Chain | null;
}

/** A part of the relatedness of the two: `weight` x a(left, right). */
interface Part {
  readonly left: Chain;
  readonly right: Chain;
  readonly weight: number;
  readonly value: number;
}

function parentsOf(pedigree: Pedigree, lineage: Lineage, i: number): [number, number][] {
  const { node, sire, dam, start, member, weight } = lineage;
  const s = sire[i];
  if (s >= -1) {
    return [s, dam[i]].filter((parent) => parent >= 0).map((parent) => [parent, 0.5]);
  }
  if (node[i] < pedigree.size && !pedigree.finds.has(node[i])) return []; // declared founder kin: not descent
  return Array.from({ length: start[-1 - s] - start[-2 - s] }, (_, e): [number, number] => [
    member[start[-2 - s] + e],
    weight[start[-2 - s] + e],
  ]).filter(([, share]) => share > 0);
}

/** Paths through the same animals (over two possible clutches of one sire, say) as one, greatest first. */
function onceEach(paths: readonly AncestorPath[]): AncestorPath[] {
  const found = new Map<string, AncestorPath>();
  for (const path of paths) {
    const key = path.through.join();
    const contribution = path.contribution + (found.get(key)?.contribution ?? 0);
    found.set(key, { ...path, contribution });
  }
  return [...found.values()].sort((x, y) => y.contribution - x.contribution);
}

function byAncestor(paths: readonly AncestorPath[]): { row: number; contribution: number }[] {
  const sums = new Map<number, number>();
  for (const { ancestor, contribution } of paths) {
    sums.set(ancestor, (sums.get(ancestor) ?? 0) + contribution);
  }
  return [...sums]
    .map(([row, contribution]) => ({ row, contribution }))
    .sort((x, y) => y.contribution - x.contribution || x.row - y.row);
}

/** Binary heap, greatest value first. */
class PartHeap {
  private readonly parts: Part[] = [];

  push(part: Part): void {
    const { parts } = this;
    let k = parts.push(part) - 1;
    while (k > 0) {
      const up = (k - 1) >> 1;
      if (parts[up].value >= part.value) break;
      parts[k] = parts[up];
      k = up;
    }
    parts[k] = part;
  }

  pop(): Part | undefined {
    const { parts } = this;
    const top = parts[0];
    const last = parts.pop();
    if (!last || parts.length === 0) return top;
    let k = 0;
    for (;;) {
      let down = 2 * k + 1;
      if (down >= parts.length) break;
      if (down + 1 < parts.length && parts[down + 1].value > parts[down].value) down++;
      if (parts[down].value <= last.value) break;
      parts[k] = parts[down];
      k = down;
    }
    parts[k] = last;
    return top;
  }
}
