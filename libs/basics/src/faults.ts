/** One thing that the caller must correct: what is wrong, where, and how to mend it. */
export interface Fault {
  /** Stable upper-case word for programs, for example `UNKNOWN_PARENT`. */
  readonly code: string;
  /** One sentence for people that names the thing. */
  readonly message: string;
  /** What to do about it, one sentence. */
  readonly remedy: string;
  /** The ids or codes concerned; empty where the fault is about the whole input. */
  readonly ids: readonly string[];
}

/** Thrown with *all* faults of an input at once, never only the first. */
export class FaultsError extends Error {
  override readonly name = 'FaultsError';
  constructor(readonly faults: readonly Fault[]) {
    super(faults.map((fault) => `${fault.message} ${fault.remedy}`).join('\n'));
  }
}
