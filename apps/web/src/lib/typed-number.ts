/** `31.5` or `31,5`; null where it is no number. */
export function numberOf(text: string): number | null {
  const plain = text.trim().replace(',', '.');
  return /^\d+(\.\d+)?$/.test(plain) ? Number(plain) : null;
}
