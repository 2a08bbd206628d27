/** Entries of the big table that share one run of offsets; longer runs cost memory, shorter ones time. */
const RUN = 729;

/** Steps through a table over `big` and, beside it, a table over `small`, whose variables are among those of `big`. */
export class Walk {
  readonly outer: number;
  readonly outerSizes: number[] = [];
  readonly outerStrides: number[] = [];
  /** Within a run: where each entry of the big table lies in the small one, from where the run begins there. */
  readonly inner: Int32Array;

  constructor(big: readonly number[], small: readonly number[], sizes: readonly number[]) {
    const strides = new Array<number>(big.length).fill(0);
    let stride = 1;
    for (let axis = small.length - 1; axis >= 0; axis--) {
      strides[big.indexOf(small[axis])] = stride;
      stride *= sizes[small[axis]];
    }
    let split = big.length;
    let run = 1;
    while (split > 0 && run * sizes[big[split - 1]] <= RUN) run *= sizes[big[--split]];
    this.inner = new Int32Array(run);
    let filled = 1;
    for (let axis = big.length - 1; axis >= split; axis--) {
      for (let state = 1; state < sizes[big[axis]]; state++) {
        const shift = state * strides[axis];
        for (let i = 0; i < filled; i++) this.inner[state * filled + i] = this.inner[i] + shift;
      }
      filled *= sizes[big[axis]];
    }
    let outer = 1;
    for (let axis = 0; axis < split; axis++) {
      this.outerSizes.push(sizes[big[axis]]);
      this.outerStrides.push(strides[axis]);
      outer *= sizes[big[axis]];
    }
    this.outer = outer;
  }

  multiply(big: Float64Array, small: Float64Array): void {
    const { inner } = this;
    const run = inner.length;
    eachRun([this], (entry, [base]) => {
      for (let i = 0; i < run; i++) big[entry + i] *= small[base + inner[i]];
    });
  }

  addUp(big: Float64Array, small: Float64Array): void {
    const { inner } = this;
    const run = inner.length;
    eachRun([this], (entry, [base]) => {
      for (let i = 0; i < run; i++) small[base + inner[i]] += big[entry + i];
    });
  }
}

/**
 * Visits the entries of a big table run by run: the first entry of each, and by walk over that table where the run begins in its small
 * one (to which `inner` is added entry by entry).
 */
export function eachRun(
  walks: readonly Walk[],
  visit: (entry: number, bases: Int32Array) => void,
): void {
  const [{ outerSizes, outer, inner }] = walks;
  const counter = new Int32Array(outerSizes.length);
  const bases = new Int32Array(walks.length);
  for (let block = 0; block < outer; block++) {
    visit(block * inner.length, bases);
    for (let axis = outerSizes.length - 1; axis >= 0; axis--) {
      const isDone = ++counter[axis] === outerSizes[axis];
      for (const [w, { outerStrides }] of walks.entries()) {
        bases[w] += outerStrides[axis] * (isDone ? 1 - outerSizes[axis] : 1);
      }
      if (!isDone) break;
      counter[axis] = 0;
    }
  }
}
