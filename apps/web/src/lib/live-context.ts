import { createContext } from 'react';

/** What is known of the program's revision while its pages are open. */
export interface LiveRevision {
  /** Grows when another member writes; every open read is asked again then. */
  readonly revision: number;
  /** Tells of an act of one's own, after which everything is read anew anyway. */
  readonly wrote: (revision: number) => void;
}

export const LiveContext = createContext<LiveRevision>({ revision: 0, wrote: () => {} });
