import { invariant, type Random } from '@scutewright/basics';
import type { Draw } from './pedigree.js';

/**
 * One way in which a clutch may have come by its sires: given it, each young's sire is drawn on its own with these
 * shares of the candidates (what they lack to 1: a male nobody recorded).
 */
export interface SireHypothesis {
  readonly probability: number;
  readonly shares: readonly number[];
  /** How many males nobody recorded the clutch shares for what is missing in `shares`; Infinity: a new one for each young. */
  readonly strangers: number;
}

/** All hypotheses of a draw with a probability over 0; they sum to 1. */
export function sireHypotheses({ probabilities: p, paternity }: Draw): SireHypothesis[] {
  const rest = 1 - p.reduce((sum, each) => sum + each, 0);
  const stranger = rest > 1e-12 ? rest : 0;
  const only = (k: number): number[] => Array.from(p, (_, e) => Number(e === k));
  const single: SireHypothesis[] = Array.from(p, (probability, k) => ({
    probability,
    shares: only(k),
    strangers: 1,
  }));
  if (stranger > 0) single.push({ probability: stranger, shares: only(-1), strangers: 1 });
  const own: SireHypothesis = {
    probability: 1,
    shares: [...p],
    strangers: Number.POSITIVE_INFINITY,
  };
  const scaled = (list: readonly SireHypothesis[], factor: number): SireHypothesis[] =>
    factor > 0 ? list.map((each) => ({ ...each, probability: each.probability * factor })) : [];
  switch (paternity.kind) {
    case 'ONE_SIRE':
      return single;
    case 'EACH_OWN_SIRE':
      return [own];
    case 'MIXED':
      return [...scaled(single, 1 - paternity.rate), ...scaled([own], paternity.rate)];
    case 'TWO_SIRES':
      return [...scaled(single, 1 - paternity.rate), ...scaled(pairs(p, stranger), paternity.rate)];
  }
}

/** Two draws given that they differ. */
function pairs(p: Float64Array, stranger: number): SireHypothesis[] {
  const differ = 1 - p.reduce((sum, each) => sum + each * each, 0);
  const found: SireHypothesis[] = [];
  const add = (probability: number, k: number, l: number): void => {
    found.push({
      probability: probability / differ,
      shares: Array.from(p, (_, e) => (Number(e === k) + Number(e === l)) / 2),
      strangers: Number(k < 0) + Number(l < 0),
    });
  };
  for (let k = 0; k < p.length; k++) {
    for (let l = k + 1; l < p.length; l++) add(2 * p[k] * p[l], k, l);
    if (stranger > 0) add(2 * p[k] * stranger, k, -1);
  }
  if (stranger > 0) add(stranger * stranger, -1, -1);
  return found;
}

/** One of the hypotheses of a draw, by its probability. */
export function pickHypothesis(list: readonly SireHypothesis[], random: Random): SireHypothesis {
  const weights = list.map(({ probability }) => probability);
  const picked = list[pickIndex(weights, random)] ?? list.at(-1);
  invariant(picked, 'a draw has at least one hypothesis');
  return picked;
}

/** An index drawn by weights that sum to at most 1; the length of the list for what is missing. */
export function pickIndex(weights: ArrayLike<number>, random: Random): number {
  let u = random.next();
  for (let k = 0; k < weights.length; k++) {
    u -= weights[k];
    if (u < 0) return k;
  }
  return weights.length;
}
