import { useEffect } from 'react';

/** Between two looks at whether the rest is worked out. */
const AGAIN_MS = 1500;

/** Asks again while a part of this answer is still being worked out; each answer that is not whole asks once more. */
export function useAskAgain(answer: unknown, isPending: boolean | undefined, again: () => void) {
  useEffect(() => {
    if (!answer || !isPending) return;
    const timer = setTimeout(again, AGAIN_MS);
    return () => clearTimeout(timer);
  }, [answer, isPending, again]);
}
