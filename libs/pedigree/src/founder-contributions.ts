import { descentOf, fromParents, type Lineage, passUp } from './lineage.js';
import type { AnimalKey, Pedigree } from './pedigree.js';

export interface FounderContributions {
  /** Founders (neither parent recorded) behind the reference group by row position, with their expected share of its genes. */
  readonly founders: readonly { readonly row: number; readonly share: number }[];
  /** Share that came in through parents nobody recorded (of half-founders, of candidates that sum to less than 1). */
  readonly unrecorded: number;
  /**
   * 1 / sum of squared shares, the number of equal founders that would give the same diversity if nothing were lost by
   * chance; each unrecorded parent counts as a founder of its own. Source: Lacy 1989, Zoo Biol. 8:111-123, doi 10.1002/zoo.1430080203.
   */
  readonly effectiveFounders: number;
}

/**
 * Expected shares of the founders' genes in a reference group, all its animals weighing the same. Shares and `unrecorded` sum
 * to 1. Cost: ancestors of the group. Throws RangeError on an unknown id or an empty group.
 */
export function founderContributions(
  pedigree: Pedigree,
  reference: ArrayLike<AnimalKey>,
): FounderContributions {
  const { bare, lineage } = descentOf(pedigree, reference);
  const x = groupShares(lineage);
  passUp(lineage, x);
  const founders: { row: number; share: number }[] = [];
  let unrecorded = 0;
  let squares = 0;
  for (let i = 0; i < lineage.count; i++) {
    if (isFounder(bare, lineage, i)) {
      founders.push({ row: lineage.node[i], share: x[i] });
      squares += x[i] ** 2;
    } else {
      const missing = x[i] * missingShare(lineage, i);
      unrecorded += missing;
      squares += missing ** 2;
    }
  }
  founders.sort((a, b) => a.row - b.row);
  return { founders, unrecorded, effectiveFounders: 1 / squares };
}

/** Whether node i is an animal of which neither parent is recorded. An egg of such parents has no name to count them under. */
export function isFounder(pedigree: Pedigree, { node, sire, dam }: Lineage, i: number): boolean {
  return node[i] < pedigree.animals && sire[i] === -1 && dam[i] === -1;
}

/** 1/k on each of the group. */
function groupShares(lineage: Lineage): Float64Array {
  if (lineage.at.length === 0) throw new RangeError('The group has no animals.');
  const x = new Float64Array(lineage.count);
  for (const i of lineage.at) x[i] += 1 / lineage.at.length;
  return x;
}

/** Share of node i's genes that came from a parent nobody recorded. */
function missingShare(lineage: Lineage, i: number): number {
  const { sire, dam, start, weight } = lineage;
  if (sire[i] >= -1) return (Number(sire[i] === -1) + Number(dam[i] === -1)) / 2;
  let known = 0;
  for (let e = start[-2 - sire[i]]; e < start[-1 - sire[i]]; e++) known += weight[e];
  return Math.max(0, 1 - known);
}

export interface EffectiveAncestors {
  /** Ancestors by row position in order of their marginal share; the shares sum to 1 less what nobody recorded. */
  readonly ancestors: readonly { readonly row: number; readonly marginal: number }[];
  /** 1 / sum of squared marginal shares; lower than the effective founders where the pedigree has bottlenecks. */
  readonly effectiveAncestors: number;
}

/**
 * The ancestors, founders or not, that explain a reference group's genes, each with what is not explained by those
 * before it. An animal of the group itself counts only if it has young in the group's pedigree or no parents. Equal
 * shares are taken in row order. Each unrecorded parent's share counts as an ancestor of its own in the effective number.
 * Source: Boichard, Maignel & Verrier 1997, Genet. Sel. Evol. 29:5-23, doi 10.1186/1297-9686-29-1-5.
 * Cost: ancestors of the group x ancestors listed. Throws RangeError on an unknown id or an empty group.
 */
export function effectiveAncestors(
  pedigree: Pedigree,
  reference: ArrayLike<AnimalKey>,
): EffectiveAncestors {
  const { bare, lineage } = descentOf(pedigree, reference);
  const { count, node, sire, dam } = lineage;
  const hasYoung = youngFlags(lineage);
  const open = { ...lineage, sire: sire.slice(), dam: dam.slice() };
  const chosen = new Uint8Array(count);
  const ancestors: { row: number; marginal: number }[] = [];
  let squares = 0;
  for (;;) {
    const q = groupShares(open);
    passUp(open, q);
    // Share of each node's genes that an ancestor already chosen explains.
    const explained = new Float64Array(count);
    for (let i = 0; i < count; i++) explained[i] = chosen[i] ? 1 : fromParents(open, i, explained);
    let best = -1;
    let marginal = 1e-12;
    for (let i = 0; i < count; i++) {
      if (node[i] >= bare.animals || chosen[i]) continue;
      if (!hasYoung[i] && (sire[i] !== -1 || dam[i] !== -1)) continue;
      const p = q[i] * (1 - explained[i]);
      const isBetter = p > marginal + 1e-12;
      if (isBetter || (best >= 0 && Math.abs(p - marginal) <= 1e-12 && node[i] < node[best])) {
        marginal = Math.max(p, marginal);
        best = i;
      }
    }
    if (best < 0) {
      for (let i = 0; i < count; i++) {
        if (chosen[i] || isFounder(bare, lineage, i)) continue;
        squares += (q[i] * missingShare(lineage, i)) ** 2;
      }
      break;
    }
    chosen[best] = 1;
    open.sire[best] = -1;
    open.dam[best] = -1;
    ancestors.push({ row: node[best], marginal });
    squares += marginal ** 2;
  }
  return { ancestors, effectiveAncestors: 1 / squares };
}

function youngFlags({ count, sire, dam, start, member }: Lineage): Uint8Array {
  const flags = new Uint8Array(count);
  for (let i = 0; i < count; i++) {
    const s = sire[i];
    if (s < -1) for (let e = start[-2 - s]; e < start[-1 - s]; e++) flags[member[e]] = 1;
    if (s >= 0) flags[s] = 1;
    if (dam[i] >= 0) flags[dam[i]] = 1;
  }
  return flags;
}
