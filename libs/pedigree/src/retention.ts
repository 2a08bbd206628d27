import type { Random } from '@scutewright/basics';
import { founderContributions, isFounder } from './founder-contributions.js';
import { candidatesOf, descentOf, type Lineage } from './lineage.js';
import { meanKinship } from './mean-kinship.js';
import { type AnimalKey, drawAt, idOf, type Pedigree } from './pedigree.js';
import { type SireHypothesis, sireHypotheses } from './sire-hypotheses.js';

/** States kept at once before the exact count gives way to sampling: about 10 MB. */
const MOST_STATES = 50_000;
/** States looked at for all founders together before those that are left are sampled: about half a second. */
const MOST_LOOKED_AT = 500_000;

export interface Retention {
  /** Founder by row position, with the share of its genes that is expected to be present in at least one of the group. */
  readonly founders: readonly { readonly row: number; readonly retention: number }[];
  /** True when all are exact; else those that were not are gene drops with this many replicates. */
  readonly exact: boolean;
  readonly replicates: number;
}

/** How chance is followed where an exact count would take too many states. */
export interface GeneDropOptions {
  readonly random?: Random;
  readonly replicates?: number;
}

/**
 * Allele retention of the founders behind a reference group. Exact by following the copies through the
 * pedigree, animals parents first, with equal states merged; where more than 50,000 states would be kept (or 500,000 were looked at), by
 * gene dropping with `random` (standard error at most 0.5 / sqrt(replicates)). Source: MacCluer et al. 1986, Zoo Biol. 5:147-160,
 * doi 10.1002/zoo.1430050209. Throws RangeError when sampling is needed and no `random` is given.
 */
export function founderRetention(
  pedigree: Pedigree,
  reference: ArrayLike<AnimalKey>,
  { random, replicates = 10_000 }: GeneDropOptions = {},
): Retention {
  const { bare, lineage } = descentOf(pedigree, reference);
  const isReference = new Uint8Array(lineage.count);
  for (const i of lineage.at) isReference[i] = 1;
  const budget = { left: MOST_LOOKED_AT };
  let sampled = 0;
  const founders: { row: number; retention: number }[] = [];
  for (let i = 0; i < lineage.count; i++) {
    if (!isFounder(bare, lineage, i)) continue;
    let retention = followCopy(bare, lineage, i, isReference, budget);
    if (retention === null) {
      if (!random) {
        throw new RangeError(
          `The genes of founder '${idOf(bare, lineage.node[i])}' run along too many lines for an exact count: pass a random source.`,
        );
      }
      retention = dropCopy(bare, lineage, i, isReference, random, replicates);
      sampled = replicates;
    }
    founders.push({ row: lineage.node[i], retention });
  }
  founders.sort((a, b) => a.row - b.row);
  return { founders, exact: sampled === 0, replicates: sampled };
}

export interface GenomeEquivalents {
  /** 1 / sum p^2 / r over founders of share p and retention r. Source: Lacy 1989, doi 10.1002/zoo.1430080203. */
  readonly byRetention: number;
  /** 1 / (2 x mean kinship of the group, self included). Source: Lacy 1995, doi 10.1002/zoo.1430140609. */
  readonly byKinship: number;
  readonly exact: boolean;
}

/**
 * Founder genome equivalents of a group: how many founders of which nothing was lost would have the same gene
 * diversity, by both definitions. In `byRetention` an unrecorded parent's share counts as fully retained.
 */
export function genomeEquivalents(
  pedigree: Pedigree,
  reference: ArrayLike<AnimalKey>,
  options: GeneDropOptions = {},
): GenomeEquivalents {
  const { founders, effectiveFounders } = founderContributions(pedigree, reference);
  const retained = founderRetention(pedigree, reference, options);
  const retention = new Map(retained.founders.map((each) => [each.row, each.retention]));
  let sum = 1 / effectiveFounders;
  for (const { row, share } of founders) {
    const r = retention.get(row) ?? 0;
    if (r > 0) sum += (share * share) / r - share * share;
  }
  const kinship = meanKinship(pedigree, reference);
  const mean = kinship.reduce((total, each) => total + each, 0) / kinship.length;
  return { byRetention: 1 / sum, byKinship: 1 / (2 * mean), exact: retained.exact };
}

/**
 * Probability that one copy of a founder's gene reaches the group; null when that takes too many states. A node's state is the
 * probability with which it hands the copy on to a young: 0, 1/2 or 1 for an animal; for an uncertain parent
 * the mean over the sires of one hypothesis. Given the states of the parents, young inherit independently.
 */
function followCopy(
  pedigree: Pedigree,
  lineage: Lineage,
  founder: number,
  isReference: Uint8Array,
  budget: { left: number },
): number | null {
  if (isReference[founder]) return 1;
  if (budget.left <= 0) return null;
  const { carriers, lastUse } = descendants(lineage, founder);
  let active = [founder];
  let states = new Map<string, { state: number[]; probability: number }>();
  states.set('', { state: [0.5], probability: 1 });
  let survived = 0;
  for (const i of carriers.slice(1)) {
    const slot = new Map(active.map((node, k) => [node, k]));
    const kept = active.map((node, k) => ({ node, k })).filter(({ node }) => lastUse[node] > i);
    const keepsNew = lastUse[i] > i;
    const next: typeof states = new Map();
    for (const { state, probability } of states.values()) {
      const chance = (node: number): number => state[slot.get(node) ?? -1] ?? 0;
      for (const [value, p] of transmissions(pedigree, lineage, i, chance)) {
        if (p === 0) continue;
        if (value > 0 && isReference[i]) {
          survived += probability * p;
          continue;
        }
        const after = kept.map(({ k }) => state[k]);
        if (keepsNew) after.push(value);
        if (after.every((each) => each === 0)) continue;
        const key = after.join();
        const same = next.get(key);
        if (same) same.probability += probability * p;
        else next.set(key, { state: after, probability: probability * p });
      }
    }
    budget.left -= states.size;
    if (next.size > MOST_STATES || budget.left <= 0) return null;
    states = next;
    active = kept.map(({ node }) => node);
    if (keepsNew) active.push(i);
  }
  return survived;
}

/** Values that node i's state can take, with their probabilities. */
function transmissions(
  pedigree: Pedigree,
  lineage: Lineage,
  i: number,
  chance: (node: number) => number,
): [number, number][] {
  const { node, sire, dam } = lineage;
  const draw = drawAt(pedigree, node[i]);
  if (!draw) {
    const s = sire[i] < 0 ? 0 : chance(sire[i]);
    const d = dam[i] < 0 ? 0 : chance(dam[i]);
    return [
      [1, s * d],
      [0.5, s * (1 - d) + d * (1 - s)],
      [0, (1 - s) * (1 - d)],
    ];
  }
  const candidates = candidatesOf(lineage, i);
  return sireHypotheses(draw).map(({ probability, shares }) => [
    shares.reduce((sum, share, e) => sum + share * chance(candidates[e]), 0),
    probability,
  ]);
}

/** The founder and its descendants, parents first, with the last of them that reads each node's state. */
function descendants(
  lineage: Lineage,
  founder: number,
): { carriers: number[]; lastUse: Int32Array } {
  const { count, sire, dam } = lineage;
  const carriers = [founder];
  const lastUse = new Int32Array(count).fill(-1);
  const isCarrier = new Uint8Array(count);
  isCarrier[founder] = 1;
  for (let i = founder + 1; i < count; i++) {
    const parents = sire[i] < -1 ? candidatesOf(lineage, i) : [sire[i], dam[i]];
    const from = [...parents].filter((each) => each >= 0 && isCarrier[each]);
    if (from.length === 0) continue;
    isCarrier[i] = 1;
    carriers.push(i);
    for (const each of from) lastUse[each] = i;
  }
  return { carriers, lastUse };
}

/** The same probability by dropping the copy `replicates` times. */
function dropCopy(
  pedigree: Pedigree,
  lineage: Lineage,
  founder: number,
  isReference: Uint8Array,
  random: Random,
  replicates: number,
): number {
  const carriers = descendants(lineage, founder).carriers.slice(1);
  // Made once, so that a replicate makes nothing.
  const uncertain = carriers.map((i) => {
    const draw = drawAt(pedigree, lineage.node[i]);
    return draw ? { ways: sireHypotheses(draw), candidates: candidatesOf(lineage, i) } : null;
  });
  const { sire, dam } = lineage;
  const state = new Float64Array(lineage.count);
  let reached = 0;
  for (let replicate = 0; replicate < replicates; replicate++) {
    state[founder] = 0.5;
    for (let k = 0; k < carriers.length; k++) {
      const i = carriers[k];
      const own = uncertain[k];
      if (own) state[i] = drawChance(own.ways, own.candidates, state, random.next());
      else {
        const s = sire[i] < 0 ? 0 : state[sire[i]];
        const d = dam[i] < 0 ? 0 : state[dam[i]];
        // Each parent hands it on or not, by one number: below s d both, then one of the two, else neither.
        const u = s + d === 0 ? 1 : random.next();
        state[i] = u < s * d ? 1 : u < s + d - s * d ? 0.5 : 0;
      }
      if (isReference[i] && state[i] > 0) {
        reached++;
        break;
      }
    }
  }
  return reached / replicates;
}

/** The chance with which an uncertain parent hands the copy on, under the way of siring that `u` falls on. */
function drawChance(
  ways: readonly SireHypothesis[],
  candidates: Int32Array,
  state: Float64Array,
  u: number,
): number {
  let left = u;
  for (const { probability, shares } of ways) {
    left -= probability;
    if (left >= 0) continue;
    let chance = 0;
    for (let e = 0; e < shares.length; e++) chance += shares[e] * state[candidates[e]];
    return chance;
  }
  return 0;
}
