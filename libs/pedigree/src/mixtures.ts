import { founderRows } from './founder-kin.js';
import { type SireMoments, sireMoments } from './paternity.js';
import type { Draw, Pedigree } from './pedigree.js';

/**
 * Nodes whose row of A is not the mean of two parents but row_m = sum weight_e row_e over the members e of mixture m: the uncertain
 * parent of a clutch, an animal of several possible clutches (members: its eggs), a founder with declared kin (members:
 * the founders before it). With a_ef the relatedness of two members,
 * a_mm = stranger_m + sum_e same_e a_ee + cross_m sum_ef plain_e plain_f a_ef and D_m = a_mm - sum_ef weight_e weight_f a_ef.
 */
export interface Mixtures {
  /** By mixture: where it stands. */
  readonly at: Int32Array;
  /** Members e of mixture m: `start[m] <= e < start[m + 1]`. */
  readonly start: Int32Array;
  readonly member: Int32Array;
  /** By member: its share of the row, its probability as recorded, and of a_mm the part that it alone brings (`sireMoments`). */
  readonly weight: Float64Array;
  readonly plain: Float64Array;
  readonly same: Float64Array;
  /** By mixture: the parts of a_mm of an animal that nobody recorded, and of two different draws. */
  readonly stranger: Float64Array;
  readonly cross: Float64Array;
}

/** The draws, the finds and the declared founder kin as mixtures, `at` and `member` in node numbers. Cost: members. */
export function nodeMixtures(pedigree: Pedigree): Mixtures {
  const founders = founderRows(pedigree);
  const total = pedigree.draws.length + pedigree.finds.size + founders.length;
  let members = 0;
  for (const { candidates } of pedigree.draws) members += candidates.length;
  for (const { candidates } of pedigree.finds.values()) members += candidates.length;
  for (const founder of founders) members += founder.members.length;
  const mixtures = {
    at: new Int32Array(total),
    start: new Int32Array(total + 1),
    member: new Int32Array(members),
    weight: new Float64Array(members),
    plain: new Float64Array(members),
    same: new Float64Array(members),
    stranger: new Float64Array(total),
    cross: new Float64Array(total),
  };
  let m = 0;
  const add = (
    node: number,
    nodes: ArrayLike<number>,
    plain: ArrayLike<number>,
    { weight, same, stranger, cross }: SireMoments,
  ): void => {
    const first = mixtures.start[m];
    mixtures.at[m] = node;
    mixtures.stranger[m] = stranger;
    mixtures.cross[m] = cross;
    mixtures.start[m + 1] = first + nodes.length;
    for (let e = 0; e < nodes.length; e++) {
      mixtures.member[first + e] = nodes[e];
      mixtures.weight[first + e] = weight[e];
      mixtures.plain[first + e] = plain[e];
      mixtures.same[first + e] = same[e];
    }
    m++;
  };
  const addDraw = (node: number, { candidates, probabilities, paternity }: Draw): void => {
    add(node, candidates, probabilities, sireMoments(probabilities, paternity));
  };
  for (let k = 0; k < pedigree.draws.length; k++) addDraw(pedigree.size + k, pedigree.draws[k]);
  for (const [row, draw] of pedigree.finds) addDraw(row, draw);
  for (const { row, members: before, weights } of founders) {
    const none = new Float64Array(before.length);
    const weight = Float64Array.from(weights);
    add(row, before, none, { weight, same: none, stranger: 1, cross: 0 });
  }
  return mixtures;
}

/** The same mixtures by places. */
export function mixturesAtPlaces(mixtures: Mixtures, placeOf: Int32Array): Mixtures {
  const place = (node: number): number => placeOf[node];
  return { ...mixtures, at: mixtures.at.map(place), member: mixtures.member.map(place) };
}

/** The entries of a place as a member: `entry[c]` for `start[q] <= c < start[q + 1]`; `mixture[e]` is the mixture of entry e. */
export interface Memberships {
  readonly start: Int32Array;
  readonly entry: Int32Array;
  readonly mixture: Int32Array;
}

export function memberships({ start, member }: Mixtures, places: number): Memberships {
  const mixture = new Int32Array(member.length);
  for (let m = 0; m + 1 < start.length; m++) mixture.fill(m, start[m], start[m + 1]);
  const first = new Int32Array(places + 2);
  for (let e = 0; e < member.length; e++) first[member[e] + 2]++;
  for (let q = 0; q < places; q++) first[q + 2] += first[q + 1];
  const entry = new Int32Array(member.length);
  for (let e = 0; e < member.length; e++) entry[first[member[e] + 1]++] = e;
  return { start: first, entry, mixture };
}
