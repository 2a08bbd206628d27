import { founderRows } from './founder-kin.js';
import { sireMoments } from './paternity.js';
import type { Draw, Pedigree } from './pedigree.js';

/**
 * Rows that are not the mean of two parents: row_m = sum weight_e row_e over its members e. Three kinds:
 * AVERAGE, the mean row of a set of candidates, shared by all clutches with the same set; its a_mm is the form w'Aw, D = 0.
 * DRAWN, the uncertain parent of one clutch or an animal of several possible clutches; its only member is an AVERAGE, and
 * a_mm = constant_m + sum share_t a_tt over its terms t. FOUNDER, one with declared kin: a_mm = 1, D = constant_m.
 */
export interface Mixtures {
  readonly kind: Uint8Array;
  readonly start: Int32Array;
  readonly member: Int32Array;
  readonly weight: Float64Array;
  readonly constant: Float64Array;
  readonly termStart: Int32Array;
  readonly term: Int32Array;
  readonly share: Float64Array;
}

export const AVERAGE = 0;
export const DRAWN = 1;
export const FOUNDER = 2;

/** The mixtures in node numbers, as lists to add to. */
export class MixtureList {
  readonly node: number[] = [];
  readonly kind: number[] = [];
  readonly constant: number[] = [];
  readonly start = [0];
  readonly member: number[] = [];
  readonly weight: number[] = [];
  readonly termStart = [0];
  readonly term: number[] = [];
  readonly share: number[] = [];

  addMember(node: number, weight: number): void {
    this.member.push(node);
    this.weight.push(weight);
  }

  addTerm(node: number, share: number): void {
    this.term.push(node);
    this.share.push(share);
  }

  /** Adds a mixture of the members and terms added since the last one. */
  close(kind: number, node: number, constant: number): void {
    this.kind.push(kind);
    this.node.push(node);
    this.constant.push(constant);
    this.start.push(this.member.length);
    this.termStart.push(this.term.length);
  }

  /** True where mixture m has just these members with these weights. */
  has(m: number, nodes: Int32Array, weights: Float64Array): boolean {
    const first = this.start[m];
    if (this.start[m + 1] - first !== nodes.length) return false;
    for (let e = 0; e < nodes.length; e++) {
      if (this.member[first + e] !== nodes[e] || this.weight[first + e] !== weights[e])
        return false;
    }
    return true;
  }

  atPlaces(placeOf: Int32Array): Mixtures {
    return {
      kind: Uint8Array.from(this.kind),
      start: Int32Array.from(this.start),
      member: placesOf(this.member, placeOf),
      weight: Float64Array.from(this.weight),
      constant: Float64Array.from(this.constant),
      termStart: Int32Array.from(this.termStart),
      term: placesOf(this.term, placeOf),
      share: Float64Array.from(this.share),
    };
  }
}

function placesOf(nodes: readonly number[], placeOf: Int32Array): Int32Array {
  const places = new Int32Array(nodes.length);
  for (let e = 0; e < nodes.length; e++) places[e] = placeOf[nodes[e]];
  return places;
}

/** The draws, the finds and the declared founder kin as mixtures. */
export function nodeMixtures(pedigree: Pedigree): MixtureList {
  const { size, draws, finds } = pedigree;
  const list = new MixtureList();
  /** Averages (mixture numbers) by a hash of their candidates. */
  const averages = new Map<number, number[]>();
  let next = size + draws.length;
  const average = (candidates: Int32Array, weight: Float64Array): number => {
    let hash = candidates.length;
    for (let e = 0; e < candidates.length; e++) hash = (Math.imul(hash, 31) + candidates[e]) | 0;
    const alike = averages.get(hash) ?? [];
    for (const m of alike) if (list.has(m, candidates, weight)) return list.node[m];
    averages.set(hash, alike);
    alike.push(list.node.length);
    for (let e = 0; e < candidates.length; e++) list.addMember(candidates[e], weight[e]);
    list.close(AVERAGE, next, 0);
    return next++;
  };
  const drawn = (node: number, { candidates, probabilities, paternity }: Draw): void => {
    const { weight, same, stranger, cross } = sireMoments(probabilities, paternity);
    const row = average(candidates, weight);
    const plain =
      weight === probabilities || cross === 0 ? row : average(candidates, probabilities);
    if (cross > 0) list.addTerm(plain, cross);
    list.addMember(row, 1);
    for (let e = 0; e < candidates.length; e++) {
      if (same[e] !== 0) list.addTerm(candidates[e], same[e]);
    }
    list.close(DRAWN, node, stranger);
  };
  draws.forEach((draw, k) => {
    drawn(size + k, draw);
  });
  for (const [row, draw] of finds) drawn(row, draw);
  for (const { row, members, weights, own } of founderRows(pedigree)) {
    members.forEach((each, e) => {
      list.addMember(each, weights[e]);
    });
    list.close(FOUNDER, row, own);
  }
  return list;
}
