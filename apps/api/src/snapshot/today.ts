/** Today as days since 1970-01-01 (UTC). */
export function today(): number {
  return Math.floor(Date.now() / 86_400_000);
}

/** Today where it is latest on earth, 14 hours ahead of UTC. */
export function latestToday(): number {
  return Math.floor((Date.now() + 14 * 3_600_000) / 86_400_000);
}
