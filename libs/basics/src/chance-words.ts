/**
 * A probability as a count of 100, the same denominator everywhere: `81 in 100`, `certain`, `ruled out`.
 * Neither end is reached by rounding: 0.999 is 'more than 99 in 100', 0.001 'less than 1 in 100'.
 */
export function chanceWords(probability: number): string {
  if (probability >= 1) return 'certain';
  if (probability <= 0) return 'ruled out';
  if (probability > 0.99) return 'more than 99 in 100';
  if (probability < 0.01) return 'less than 1 in 100';
  return `${Math.round(probability * 100)} in 100`;
}
