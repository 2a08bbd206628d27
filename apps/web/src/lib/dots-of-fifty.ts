/**
 * Fifty dots shared out by probability: whole dots, summing to fifty, the largest remainders
 * rounded up (Hamilton's method); ties go to the earlier one. `shares` sum to 1.
 */
export function dotsOfFifty(shares: readonly number[]): number[] {
  const exact = shares.map((share) => share * 50);
  const dots = exact.map(Math.floor);
  const left = 50 - dots.reduce((sum, n) => sum + n, 0);
  const byRemainder = exact
    .map((value, k) => ({ k, rest: value - Math.floor(value) }))
    .sort((a, b) => b.rest - a.rest || a.k - b.k);
  for (const { k } of byRemainder.slice(0, left)) dots[k] = (dots[k] ?? 0) + 1;
  return dots;
}
