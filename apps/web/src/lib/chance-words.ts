/**
 * A probability as a count of 100, the same denominator everywhere: `81 in 100`, `certain`.
 * Neither end is reached by rounding: 0.999 is 'more than 99 in 100', 0.001 'less than 1 in 100'.
 */
export function chanceWords(probability: number): string {
  if (probability >= 1) return 'certain';
  if (probability <= 0) return 'ruled out';
  if (probability > 0.99) return 'more than 99 in 100';
  if (probability < 0.01) return 'less than 1 in 100';
  return `${Math.round(probability * 100)} in 100`;
}

/** An inbreeding coefficient F to three places: `0`, `0.066`, `under 0.001`. */
export function inbreedingWords(value: number): string {
  if (value === 0) return '0';
  if (value < 0.0005) return 'under 0.001';
  return String(Number(value.toFixed(3)));
}

/** `1/3, 33 %`, `about 41 %`: beside a count of twenty. Neither end by rounding. */
export function shareNote(share: {
  readonly value: number;
  readonly exact: string | null;
  readonly about: boolean;
}): string {
  const { value, exact, about } = share;
  const percent =
    value > 0 && value < 0.005
      ? 'under 1 %'
      : value < 1 && value > 0.995
        ? 'over 99 %'
        : `${about ? 'about ' : ''}${Math.round(value * 100)} %`;
  return exact && exact !== '0' && exact !== '1' ? `${exact}, ${percent}` : percent;
}
