/** A check file: figures from outside the project that the kernels must reproduce. */
export interface CaseFile {
  readonly title: string;
  readonly source: unknown;
  readonly how_obtained: unknown;
  readonly input?: unknown;
  readonly pedigree?: unknown;
  readonly expected: unknown;
  readonly tolerance?: unknown;
  readonly [key: string]: unknown;
}

/** Thrown by an adapter that meets a key or form it does not know: never skipped in silence. */
export class UnreadableShape extends Error {}

/**
 * Translates the names of one family of check files (`pedigree-`, `odds-`, ...) to the
 * public functions of the libraries and back. Answers how many figures were compared and the first difference.
 * An adapter computes nothing itself.
 */
export type CaseAdapter = (file: CaseFile) => CaseVerdict;

export interface CaseVerdict {
  readonly compared: number;
  /** `F of x: expected 0.25, found 0.1875`; null when all figures agree. */
  readonly difference: string | null;
}
