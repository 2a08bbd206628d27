/**
 * States what the code relies on. Fails loudly when it does not hold: a broken
 * invariant is a fault of ours, never of the person who asked.
 */
export function invariant(condition: unknown, message: string): asserts condition {
  if (!condition) throw new Error(`Broken invariant: ${message}`);
}
