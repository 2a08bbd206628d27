/**
 * A table over some variables: `table` is row-major in the order of `scope` (last variable fastest). No variable
 * stands twice in a scope. The number of entries is the product of the variables' sizes.
 */
export interface Factor {
  readonly scope: readonly number[];
  readonly table: Float64Array;
}

/** Variables 0..n-1 with finitely many states each; their joint weight is the product of the factors. */
export interface Network {
  /** Number of states by variable, at least 1. */
  readonly sizes: readonly number[];
  readonly factors: readonly Factor[];
}

/** Entries of a table over these variables. */
export function tableSize(scope: readonly number[], sizes: readonly number[]): number {
  let size = 1;
  for (const variable of scope) size *= sizes[variable];
  return size;
}
