/** Today as days since 1970-01-01 (UTC). */
export function today(): number {
  return Math.floor(Date.now() / 86_400_000);
}
