/** Today as days since 1970-01-01, by the clock and time zone of this computer: the day its people write. */
export function today(): number {
  const now = new Date();
  return Date.UTC(now.getFullYear(), now.getMonth(), now.getDate()) / 86_400_000;
}

/** Today where it is latest on earth, 14 hours ahead of UTC. */
export function latestToday(): number {
  return Math.floor((Date.now() + 14 * 3_600_000) / 86_400_000);
}
