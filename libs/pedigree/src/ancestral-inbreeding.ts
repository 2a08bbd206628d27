import type { Random } from '@scutewright/basics';
import { inbreeding } from './inbreeding.js';
import { byDescent, candidatesOf, descentOf, type Lineage } from './lineage.js';
import { parentGraph } from './parent-graph.js';
import { type AnimalKey, drawAt, type Pedigree, rowsOf } from './pedigree.js';
import type { GeneDropOptions } from './retention.js';
import {
  pickHypothesis,
  pickIndex,
  type SireHypothesis,
  sireHypotheses,
} from './sire-hypotheses.js';

/**
 * Ancestral inbreeding by Ballou's recursion, in the order of `ids`: the share of an animal's genes that were in an inbred
 * ancestor before, f_a = (f_a(s) + (1 - f_a(s)) F_s + f_a(d) + (1 - f_a(d)) F_d) / 2, which takes F and f_a of a parent as independent.
 * Source: Ballou 1997, J. Hered. 88:169-178, doi 10.1093/oxfordjournals.jhered.a023085. Cost: as `inbreeding`.
 */
export function ancestralInbreeding(pedigree: Pedigree, ids: ArrayLike<AnimalKey>): Float64Array {
  const bare = byDescent(pedigree);
  const F = inbreeding(bare);
  const { count, nodeOf, placeOf, sire, dam, mixtures } = parentGraph(bare);
  const { start, member, weight } = mixtures;
  /** Probability that a gene handed on by this place has been in an inbred animal. */
  const passed = new Float64Array(count);
  const fromPair = (s: number, d: number): number =>
    ((s < 0 ? 0 : passed[s]) + (d < 0 ? 0 : passed[d])) / 2;
  for (let q = 0; q < count; q++) {
    const s = sire[q];
    if (s < -1) {
      for (let e = start[-2 - s]; e < start[-1 - s]; e++)
        passed[q] += weight[e] * passed[member[e]];
    } else {
      const fa = fromPair(s, dam[q]);
      passed[q] = fa + (1 - fa) * F[nodeOf[q]];
    }
  }
  const place = (node: number): number => (node < 0 ? -1 : placeOf[node]);
  const ofRow = (row: number): number => {
    const draw = bare.finds.get(row);
    if (!draw) return fromPair(place(bare.sire[row]), place(bare.dam[row]));
    return draw.candidates.reduce((sum, egg, k) => sum + draw.probabilities[k] * ofRow(egg), 0);
  };
  return Float64Array.from(rowsOf(bare, ids), ofRow);
}

export interface DroppedInbreeding {
  readonly value: number;
  /** 0 where every outcome was counted. */
  readonly standardError: number;
}

/** Meioses up to which every outcome is counted: 2^18 take about a second. */
const MOST_MEIOSES = 18;

/**
 * Ancestral inbreeding by gene dropping, in the order of `ids`: the probability that a random gene of the animal has been in an animal that
 * was homozygous by descent for it, without the recursion's assumption of independence. Every outcome is counted
 * where parents are certain and at most 18 meioses matter; else sampled with `random`.
 * Source: Suwanlee et al. 2007, J. Anim. Breed. Genet. 124:386-393 (from memory).
 * Throws RangeError when sampling is needed and no `random` is given.
 */
export function droppedAncestralInbreeding(
  pedigree: Pedigree,
  ids: ArrayLike<AnimalKey>,
  { random, replicates = 10_000 }: GeneDropOptions = {},
): DroppedInbreeding[] {
  return Array.from(rowsOf(pedigree, ids), (row) => {
    const { bare, lineage } = descentOf(pedigree, [row]);
    const dropper = new GeneDropper(bare, lineage);
    if (dropper.meioses !== null && dropper.meioses <= MOST_MEIOSES) {
      let sum = 0;
      const outcomes = 2 ** dropper.meioses;
      for (let outcome = 0; outcome < outcomes; outcome++) {
        let bits = outcome;
        sum += dropper.drop(lineage.at[0], () => {
          const bit = bits & 1;
          bits >>= 1;
          return bit;
        });
      }
      return { value: sum / outcomes, standardError: 0 };
    }
    if (!random) {
      throw new RangeError('Too many meioses for counting every outcome: pass a random source.');
    }
    let sum = 0;
    let squares = 0;
    for (let replicate = 0; replicate < replicates; replicate++) {
      dropper.chooseSires(random);
      const value = dropper.drop(lineage.at[0], () => random.bits() & 1);
      sum += value;
      squares += value * value;
    }
    const value = sum / replicates;
    return { value, standardError: Math.sqrt((squares / replicates - value ** 2) / replicates) };
  });
}

/** Drops founder genes down a lineage, each with a flag: has it been in an animal homozygous by descent? */
class GeneDropper {
  /** Coins that one drop takes; null where parents are uncertain. */
  readonly meioses: number | null;
  private readonly gene: Int32Array;
  private readonly flag: Uint8Array;
  private readonly sire: Int32Array;
  private readonly dam: Int32Array;
  /** By draw, as far as one was asked for. */
  private readonly hypotheses = new Map<number, readonly SireHypothesis[]>();

  constructor(
    private readonly pedigree: Pedigree,
    private readonly lineage: Lineage,
  ) {
    // Draw nodes stand for the male nobody recorded of their clutch; a second one has its genes `count` nodes on.
    this.gene = Int32Array.from({ length: 4 * lineage.count }, (_, k) => k);
    this.flag = new Uint8Array(4 * lineage.count);
    this.sire = lineage.sire.slice();
    this.dam = lineage.dam.slice();
    let coins = 0;
    let isCertain = true;
    for (let i = 0; i < lineage.count; i++) {
      const draw = drawAt(pedigree, lineage.node[i]);
      if (draw) {
        if (draw.candidates.length > 0 || draw.paternity.kind !== 'ONE_SIRE') isCertain = false;
      } else if (lineage.node[i] < pedigree.size) {
        coins += Number(lineage.sire[i] >= 0) + Number(lineage.dam[i] >= 0);
      }
    }
    this.meioses = isCertain ? coins : null;
  }

  /** Draws the uncertain parents of every animal. */
  chooseSires(random: Random): void {
    const { count, node, sire, dam } = this.lineage;
    const { size, finds } = this.pedigree;
    const chosen = new Map<number, SireHypothesis>();
    const pick = (parent: number): number => {
      if (parent < 0 || node[parent] < size) return parent;
      let hypothesis = chosen.get(parent);
      if (!hypothesis) {
        hypothesis = pickHypothesis(this.hypothesesOf(node[parent] - size), random);
        chosen.set(parent, hypothesis);
      }
      const { shares, strangers } = hypothesis;
      const e = pickIndex(shares, random);
      if (e < shares.length) return candidatesOf(this.lineage, parent)[e];
      if (strangers === Number.POSITIVE_INFINITY) return -1;
      return strangers === 2 && random.bits() & 1 ? parent + count : parent;
    };
    for (let i = 0; i < count; i++) {
      if (node[i] >= size) continue;
      const find = finds.get(node[i]);
      if (find) {
        // No other animal is of that egg, so the egg's parents are all it takes.
        const k = pickIndex(find.probabilities, random);
        const egg = k < find.probabilities.length ? candidatesOf(this.lineage, i)[k] : -1;
        this.sire[i] = egg < 0 ? -1 : this.sire[egg];
        this.dam[i] = egg < 0 ? -1 : this.dam[egg];
        continue;
      }
      this.sire[i] = pick(sire[i]);
      this.dam[i] = pick(dam[i]);
    }
  }

  private hypothesesOf(draw: number): readonly SireHypothesis[] {
    const known = this.hypotheses.get(draw) ?? sireHypotheses(this.pedigree.draws[draw]);
    this.hypotheses.set(draw, known);
    return known;
  }

  /** Share of node `target`'s two genes that carry the flag, in one drop. */
  drop(target: number, coin: () => number): number {
    const { gene, flag } = this;
    for (let i = 0; i <= target; i++) {
      if (this.lineage.node[i] >= this.pedigree.size) continue;
      for (const [k, parent] of [this.sire[i], this.dam[i]].entries()) {
        const to = 2 * i + k;
        if (parent < 0) {
          gene[to] = to;
          flag[to] = 0;
          continue;
        }
        const from = 2 * parent + coin();
        gene[to] = gene[from];
        flag[to] = flag[from];
      }
      if (i < target && gene[2 * i] === gene[2 * i + 1]) {
        flag[2 * i] = 1;
        flag[2 * i + 1] = 1;
      }
    }
    return (flag[2 * target] + flag[2 * target + 1]) / 2;
  }
}
