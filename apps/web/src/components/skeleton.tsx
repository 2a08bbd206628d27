import { type CSSProperties, useEffect, useState } from 'react';
import './skeleton.css';

/** After so long, in ms, the wait is owned up to in sight. */
const LONG = 2500;

/** Hatched bars that keep the height of what is being fetched. Says so when it takes long. */
export function Skeleton({ lines, what }: { readonly lines: number; readonly what: string }) {
  const [isLong, setIsLong] = useState(false);
  useEffect(() => {
    const timer = setTimeout(() => setIsLong(true), LONG);
    return () => clearTimeout(timer);
  }, []);
  return (
    <div className="skeleton" role="status" style={{ '--lines': lines } as CSSProperties}>
      <span className={isLong ? 'long' : 'vh'}>
        {isLong
          ? `Still working on ${what}. The first time after a change may take half a minute.`
          : `Fetching ${what}`}
      </span>
    </div>
  );
}
