export { chanceWords } from '@scutewright/basics';

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
