import { type Fault, FaultsError } from '@scutewright/basics';

/** Share of males = 1 / (1 + exp((T - pivotal) / scale)): cool gives males, warm females (pattern Ia). Degrees C, constant. */
export interface SexCurve {
  readonly pivotal: number;
  /** Above 0; the smaller, the steeper. */
  readonly scale: number;
}

/** Expected share of males at a constant temperature. A probability, never a hatchling's sex. */
export function shareOfMales(curve: SexCurve, celsius: number): number {
  return 1 / (1 + Math.exp((celsius - curve.pivotal) / curve.scale));
}

/** Temperatures between which 5 to 95 % are males: pivotal -+ scale x ln 19. */
export function transitionalRange(curve: SexCurve): readonly [number, number] {
  const reach = curve.scale * Math.log(19);
  return [curve.pivotal - reach, curve.pivotal + reach];
}

export interface SexCount {
  readonly celsius: number;
  readonly males: number;
  readonly females: number;
}

/**
 * What counts of sexed young say. `fitted`: a maximum-likelihood curve. `between`: males only up to one temperature, females only from another (equal
 * where one group held both), so that any steep curve between fits. `other pattern`: not cool-male, warm-female.
 */
export type SexFit =
  | {
      readonly kind: 'fitted';
      readonly curve: SexCurve;
      readonly logLikelihood: number;
      /** 95 % profile-likelihood range of the pivotal temperature; an end that lies further than 20 degrees off is null. */
      readonly pivotalRange: readonly [number | null, number | null];
    }
  | { readonly kind: 'between'; readonly pivotalRange: readonly [number, number] }
  | { readonly kind: 'other pattern' };

/** Half the 95 % point of chi-square with one degree of freedom. */
const PROFILE_DROP = 1.920729410347063;
const FARTHEST = 20;

/**
 * Fits a curve to counts at constant temperatures by maximum likelihood (Newton's method on the logistic regression)
 * and gives the profile range of the pivotal temperature. Laboratories differ by half a degree to a degree on one
 * species: show it as +-0.5 to 1 C. Throws FaultsError `BAD_COUNTS`: fewer than two temperatures, no males or females, broken counts.
 */
export function fitSexCurve(counts: readonly SexCount[]): SexFit {
  checkCounts(counts);
  const separated = separation(counts);
  if (separated) return separated;
  const middle = mean(counts);
  const profile = (pivotal: number) => bestSlope(counts, pivotal);
  const { intercept, slope } = logisticRegression(counts, middle);
  if (slope >= 0) return { kind: 'other pattern' };
  const curve = { pivotal: middle - intercept / slope, scale: -1 / slope };
  const logLikelihood = likelihood(counts, curve.pivotal, slope);
  const end = (direction: 1 | -1): number | null => {
    const inside = (reach: number): boolean =>
      profile(curve.pivotal + direction * reach) >= logLikelihood - PROFILE_DROP;
    if (inside(FARTHEST)) return null;
    let low = 0;
    let high = FARTHEST;
    while (high - low > 1e-9) {
      const reach = (low + high) / 2;
      if (inside(reach)) low = reach;
      else high = reach;
    }
    return curve.pivotal + direction * low;
  };
  return { kind: 'fitted', curve, logLikelihood, pivotalRange: [end(-1), end(1)] };
}

/** Complete or quasi-complete separation: the likelihood has no maximum at a finite slope. */
function separation(counts: readonly SexCount[]): SexFit | null {
  const withMales = counts.filter(({ males }) => males > 0).map(({ celsius }) => celsius);
  const withFemales = counts.filter(({ females }) => females > 0).map(({ celsius }) => celsius);
  const [lastMale, firstMale] = [Math.max(...withMales), Math.min(...withMales)];
  const [lastFemale, firstFemale] = [Math.max(...withFemales), Math.min(...withFemales)];
  if (lastMale <= firstFemale) return { kind: 'between', pivotalRange: [lastMale, firstFemale] };
  return lastFemale <= firstMale ? { kind: 'other pattern' } : null;
}

function mean(counts: readonly SexCount[]): number {
  const n = counts.reduce((sum, { males, females }) => sum + males + females, 0);
  const total = counts.reduce((sum, row) => sum + row.celsius * (row.males + row.females), 0);
  return total / n;
}

/** log L at logit P(male) = slope x (T - pivotal). */
function likelihood(counts: readonly SexCount[], pivotal: number, slope: number): number {
  return counts.reduce((sum, { celsius, males, females }) => {
    const logit = slope * (celsius - pivotal);
    return sum - males * softplus(-logit) - females * softplus(logit);
  }, 0);
}

/** log(1 + e^x) without overflow. */
function softplus(x: number): number {
  return x > 0 ? x + Math.log1p(Math.exp(-x)) : Math.log1p(Math.exp(x));
}

/** Best log L over slopes of at most 0 with the pivotal held: concave in the slope, so its derivative is bisected. */
function bestSlope(counts: readonly SexCount[], pivotal: number): number {
  const derivative = (slope: number): number =>
    counts.reduce((sum, { celsius, males, females }) => {
      const x = celsius - pivotal;
      const share = 1 / (1 + Math.exp(-slope * x));
      return sum + x * (males - (males + females) * share);
    }, 0);
  if (derivative(0) >= 0) return likelihood(counts, pivotal, 0);
  let low = -1;
  while (derivative(low) < 0 && low > -1e6) low *= 2;
  let high = 0;
  for (let i = 0; i < 200 && high - low > 1e-12 * -low; i++) {
    const slope = (low + high) / 2;
    if (derivative(slope) > 0) low = slope;
    else high = slope;
  }
  return likelihood(counts, pivotal, (low + high) / 2);
}

/** Newton's method with halved steps on (intercept, slope) of T - middle; the likelihood is concave. */
function logisticRegression(
  counts: readonly SexCount[],
  middle: number,
): { readonly intercept: number; readonly slope: number } {
  let intercept = 0;
  let slope = 0;
  const at = (a: number, b: number): number =>
    counts.reduce((sum, { celsius, males, females }) => {
      const logit = a + b * (celsius - middle);
      return sum - males * softplus(-logit) - females * softplus(logit);
    }, 0);
  let best = at(intercept, slope);
  for (let round = 0; round < 100; round++) {
    let [ga, gb, haa, hab, hbb] = [0, 0, 0, 0, 0];
    for (const { celsius, males, females } of counts) {
      const x = celsius - middle;
      const share = 1 / (1 + Math.exp(-(intercept + slope * x)));
      const off = males - (males + females) * share;
      const spread = (males + females) * share * (1 - share);
      ga += off;
      gb += off * x;
      haa += spread;
      hab += spread * x;
      hbb += spread * x * x;
    }
    const determinant = haa * hbb - hab * hab;
    const stepA = (hbb * ga - hab * gb) / determinant;
    const stepB = (haa * gb - hab * ga) / determinant;
    let size = 1;
    while (size > 1e-9 && at(intercept + size * stepA, slope + size * stepB) < best) size /= 2;
    intercept += size * stepA;
    slope += size * stepB;
    best = at(intercept, slope);
    if (Math.abs(stepA) + Math.abs(stepB) < 1e-12 * (1 + Math.abs(slope))) break;
  }
  return { intercept, slope };
}

function checkCounts(counts: readonly SexCount[]): void {
  const faults: Fault[] = [];
  const fault = (message: string, remedy: string): void => {
    faults.push({ code: 'BAD_COUNTS', message, remedy, ids: [] });
  };
  for (const { celsius, males, females } of counts) {
    const whole = [males, females].every((count) => Number.isSafeInteger(count) && count >= 0);
    if (whole && Number.isFinite(celsius)) continue;
    fault(
      `${males} males and ${females} females at ${celsius} C cannot be read.`,
      'Give whole counts.',
    );
  }
  const sexed = counts.filter(({ males, females }) => males + females > 0);
  if (new Set(sexed.map(({ celsius }) => celsius)).size < 2) {
    fault('A curve needs young from two temperatures.', 'Add the other groups.');
  }
  for (const sex of ['males', 'females'] as const) {
    if (sexed.some((row) => row[sex] > 0)) continue;
    fault(`There are no ${sex} among the young.`, 'A curve needs both sexes.');
  }
  if (faults.length > 0) throw new FaultsError(faults);
}
