import { createContext, useContext } from 'react';

export type Role = 'READER' | 'KEEPER' | 'OWNER';

/** The program whose pages are open, and what the reader may do in it. */
export interface OpenProgram {
  readonly id: string;
  readonly name: string;
  readonly isDemo: boolean;
  readonly role: Role;
  /** Keepers and owners write; readers read. */
  readonly mayWrite: boolean;
}

export const ProgramContext = createContext<OpenProgram | null>(null);

/** The open program. Throws outside a program's pages. */
export function useProgram(): OpenProgram {
  const program = useContext(ProgramContext);
  if (!program) throw new Error('This page stands outside a program.');
  return program;
}
