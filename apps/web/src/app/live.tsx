import { type ReactNode, useCallback, useEffect, useMemo, useRef, useState } from 'react';
import { LiveContext } from '../lib/live-context.js';

/** Several records written in one go are read once. */
const TOGETHER_MS = 120;

/**
 * Listens for what other members write while the page is in sight. The browser opens a lost stream again by
 * itself, and the first thing a stream tells is the present revision, so nothing is missed.
 */
export function Live(props: {
  readonly programId: string;
  /** The revision before the first page was read. */
  readonly revision: number;
  readonly children: ReactNode;
}) {
  const { programId } = props;
  const [revision, setRevision] = useState(props.revision);
  const own = useRef(props.revision);
  const wrote = useCallback((by: number) => {
    own.current = Math.max(own.current, by);
  }, []);
  useEffect(() => {
    let stream: EventSource | null = null;
    let soon: ReturnType<typeof setTimeout> | undefined;
    const follow = () => {
      if (document.hidden) {
        stream?.close();
        stream = null;
        return;
      }
      if (stream) return;
      stream = new EventSource(`/live/${programId}`);
      stream.onmessage = ({ data }) => {
        clearTimeout(soon);
        soon = setTimeout(() => {
          if (Number(data) > own.current) setRevision(Number(data));
        }, TOGETHER_MS);
      };
    };
    follow();
    document.addEventListener('visibilitychange', follow);
    return () => {
      document.removeEventListener('visibilitychange', follow);
      clearTimeout(soon);
      stream?.close();
    };
  }, [programId]);
  const live = useMemo(() => ({ revision, wrote }), [revision, wrote]);
  return <LiveContext value={live}>{props.children}</LiveContext>;
}
