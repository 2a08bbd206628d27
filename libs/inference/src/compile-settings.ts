/** Which part of a program is compiled, and how. */
export interface CompileSettings {
  /** By animal, 1: it takes part. Must be closed upwards (see `closeUpwards`). */
  readonly include: Uint8Array;
  /** By record, 1: leave it out; null for none. */
  readonly without: Uint8Array | null;
  /** Weight in place of a likelihood of 0, so that what a record forbids can be weighed; 0 as it is. */
  readonly soft: number;
  /** Keep the choices of young of one clutch in one table, so that their joint chances can be read. */
  readonly jointSires: boolean;
  /** Animals to keep as variables even if they have no young. */
  readonly keep?: readonly number[];
}
