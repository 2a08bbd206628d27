/** `HG-087` and the ones after it; none where the code does not end in a number. */
export function nextCodes(first: string, count: number): string[] {
  const end = /\d+$/.exec(first)?.[0];
  if (!end) return [];
  const start = first.slice(0, -end.length);
  return Array.from(
    { length: Math.min(count, 200) },
    (_, k) => start + String(Number(end) + k).padStart(end.length, '0'),
  );
}
