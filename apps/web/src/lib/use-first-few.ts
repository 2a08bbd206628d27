import { startTransition, useEffect, useState } from 'react';

/**
 * How many lines of a long list to draw: `few` at first, then all. The rest is drawn after the first
 * paint, in slices that let the reader act between them.
 */
export function useFirstFew(few: number): number {
  const [isAll, setIsAll] = useState(false);
  useEffect(() => startTransition(() => setIsAll(true)), []);
  return isAll ? Number.POSITIVE_INFINITY : few;
}
