import type { Pedigree } from '@scutewright/pedigree';

/** A pedigree under a name of its own. */
export interface PedigreeInput {
  /** Of this process; another state of any pedigree has another. */
  readonly key: string;
  readonly pedigree: Pedigree;
}

const KEPT = 8;
const kept = new Map<string, Pedigree>();

/** The same object for the same key, so that what the kernels found out about it is kept. */
export function keptPedigree({ key, pedigree }: PedigreeInput): Pedigree {
  const known = kept.get(key);
  if (known) return known;
  kept.set(key, pedigree);
  for (const old of kept.keys()) {
    if (kept.size <= KEPT) break;
    kept.delete(old);
  }
  return pedigree;
}
