/**
 * How the young of one clutch come by their sires, where the sire is not certain. A clutch
 * always has one dam; which of its candidate dams is drawn once for the clutch.
 */
export type Paternity =
  | { readonly kind: 'ONE_SIRE' }
  | { readonly kind: 'EACH_OWN_SIRE' }
  | { readonly kind: 'MIXED'; readonly rate: number }
  | { readonly kind: 'TWO_SIRES'; readonly rate: number };

/** One sire for the whole clutch, drawn once by the candidates' probabilities: clutch mates are full sibs. */
export const ONE_SIRE: Paternity = { kind: 'ONE_SIRE' };

/**
 * Every young's sire is drawn on its own (the average numerator relationship matrix).
 * Source: Henderson 1988, J. Anim. Sci. 66:1614-1621, doi 10.2527/jas1988.6671614x.
 */
export const EACH_OWN_SIRE: Paternity = { kind: 'EACH_OWN_SIRE' };

/** With probability `rate` (0 to 1) every young's sire is drawn on its own, otherwise one sire for all. */
export function MIXED(rate: number): Paternity {
  return { kind: 'MIXED', rate };
}

/**
 * With probability `rate` (0 to 1) the clutch has exactly two different sires, each young being of either with
 * probability 1/2; otherwise one sire for all. The two are two draws by the candidates'
 * probabilities p, given that they differ: P(i, j) = p_i p_j / (1 - sum p^2). With unequal p this shifts a
 * young's own odds towards the less likely candidates. Two males that nobody recorded count as different.
 */
export function TWO_SIRES(rate: number): Paternity {
  return { kind: 'TWO_SIRES', rate };
}

/**
 * The second moments of a clutch's sires: what the kernels need to know of a paternity.
 * With A the relatedness among candidates, mates i and j of the clutch have
 * E a(sire_i, x) = sum weight_k a(k, x) for x outside the clutch, and
 * E a(sire_i, sire_j) = sum same_k a(k, k) + stranger + cross p'Ap.
 */
export interface SireMoments {
  readonly weight: Float64Array;
  readonly same: Float64Array;
  readonly stranger: number;
  readonly cross: number;
}

/** `p`: probabilities of the candidates, sum at most 1; the rest is a male nobody recorded. */
export function sireMoments(p: Float64Array, paternity: Paternity): SireMoments {
  const rest = Math.max(0, 1 - p.reduce((sum, each) => sum + each, 0));
  switch (paternity.kind) {
    case 'ONE_SIRE':
      return { weight: p, same: p, stranger: rest, cross: 0 };
    case 'EACH_OWN_SIRE':
      return { weight: p, same: p.map(() => 0), stranger: 0, cross: 1 };
    case 'MIXED': {
      const one = 1 - paternity.rate;
      return {
        weight: p,
        same: p.map((each) => one * each),
        stranger: one * rest,
        cross: paternity.rate,
      };
    }
    case 'TWO_SIRES': {
      const differ = 1 - p.reduce((sum, each) => sum + each * each, 0);
      const one = 1 - paternity.rate;
      const two = paternity.rate / differ;
      return {
        weight: p.map((each) => one * each + two * each * (1 - each)),
        same: p.map((each) => one * each + (two / 2) * each * (1 - 2 * each)),
        stranger: one * rest + (two / 2) * rest,
        cross: two / 2,
      };
    }
  }
}
