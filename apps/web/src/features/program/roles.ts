import type { Role } from '../../lib/program-context.js';

/** What a role may do: as a name to choose, and as a sentence after 'You'. */
export const ROLE_WORDS: Record<Role, { readonly name: string; readonly does: string }> = {
  READER: { name: 'Reader: sees everything', does: 'read it' },
  KEEPER: { name: 'Keeper: records and plans', does: 'read it and write in it' },
  OWNER: { name: 'Owner: also lets others in', does: 'own it: you write, and let others in' },
};

export const ROLES = Object.keys(ROLE_WORDS) as Role[];
