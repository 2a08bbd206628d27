import { useEffect, useState } from 'react';

interface Kept<Draft> {
  readonly base: Draft;
  readonly draft: Draft;
}

/**
 * State of a form that survives a reload, a lost session and a wrong tap: kept in this tab's
 * own storage until `forget`. `base` is what the form began from, however long ago.
 */
export function useKeptDraft<Draft>(key: string, fresh: Draft) {
  const place = `draft ${key}`;
  const [found] = useState(() => read<Kept<Draft>>(place));
  const [kept, setKept] = useState<Kept<Draft>>(found ?? { base: fresh, draft: fresh });
  const [touched, setTouched] = useState(found !== null);
  useEffect(() => {
    if (touched) write(place, kept);
  }, [touched, place, kept]);
  return {
    draft: kept.draft,
    base: kept.base,
    change: (next: Partial<Draft>) => {
      setTouched(true);
      setKept(({ base, draft }) => ({ base, draft: { ...draft, ...next } }));
    },
    /** An earlier draft was found. */
    wasKept: found !== null && touched,
    startAfresh: () => {
      setTouched(false);
      setKept({ base: fresh, draft: fresh });
      write(place, null);
    },
    /** After the act is done, or a later visit would find the draft again. */
    forget: () => {
      setTouched(false);
      write(place, null);
    },
  };
}

function read<Value>(place: string): Value | null {
  try {
    return JSON.parse(sessionStorage.getItem(place) ?? 'null') as Value | null;
  } catch {
    return null; // Storage is closed to us: the form works, it only does not outlive a reload.
  }
}

function write(place: string, value: unknown): void {
  try {
    if (value === null) sessionStorage.removeItem(place);
    else sessionStorage.setItem(place, JSON.stringify(value));
  } catch {
    // As above.
  }
}
