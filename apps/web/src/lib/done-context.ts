import { createContext, useContext } from 'react';

/** An act that was just done, as the notice shows it. */
export interface DoneAct {
  readonly sentence: string;
  /** Offers Undo. Absent for an act that cannot be undone. */
  readonly commandId?: string;
}

export const DoneContext = createContext<(act: DoneAct) => void>(() => {});

/** Tells the reader that an act is done, with Undo beside it. */
export const useTellDone = () => useContext(DoneContext);
