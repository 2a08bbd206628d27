/** How the entries of a table lie for given states of some of its variables. */
export interface CutTable {
  /** By entry over the open variables (last fastest): its place while the held variables have state 0. */
  readonly offsets: Int32Array;
  /** What a state of each held variable adds to the place. */
  readonly held: readonly { readonly variable: number; readonly stride: number }[];
}

/** Cuts a table over `scope` along its variables that are `fixed`. */
export function cutTable(
  scope: readonly number[],
  sizes: readonly number[],
  fixed: Uint8Array,
): CutTable {
  const held: { variable: number; stride: number }[] = [];
  let offsets = new Int32Array(1);
  let stride = 1;
  for (let axis = scope.length - 1; axis >= 0; axis--) {
    const variable = scope[axis];
    if (fixed[variable]) {
      held.push({ variable, stride });
    } else {
      const shorter = offsets;
      offsets = new Int32Array(shorter.length * sizes[variable]);
      for (let state = 0; state < sizes[variable]; state++) {
        for (const [i, offset] of shorter.entries()) {
          offsets[state * shorter.length + i] = state * stride + offset;
        }
      }
    }
    stride *= sizes[variable];
  }
  return { offsets, held };
}

/** Place of the first entry for these states. */
export function startOfCut({ held }: CutTable, states: Int32Array): number {
  let place = 0;
  for (const { variable, stride } of held) place += states[variable] * stride;
  return place;
}
