import { type CutTable, cutTable, startOfCut } from './cut-table.js';
import { tableSize } from './network.js';
import type { ThinBlock } from './thin-blocks.js';

/** Mean over draws of the exact marginal of some variables, and how far it may be off. */
export class SampledMarginal {
  /** By chain and stretch: sum of the marginals, and their number. */
  private readonly sums: Float64Array[];
  private readonly counts: Float64Array;
  /** What each block says of these variables; nothing where it holds one fixed and another block holds none. */
  private readonly views = new Map<ThinBlock, View>();

  constructor(
    scope: readonly number[],
    sizes: readonly number[],
    blocks: readonly ThinBlock[],
    private readonly chains: number,
    private readonly stretches: number,
  ) {
    this.counts = new Float64Array(chains * stretches);
    this.sums = Array.from(this.counts, () => new Float64Array(tableSize(scope, sizes)));
    const open = blocks.filter(({ fixed }) => scope.every((variable) => !fixed[variable]));
    for (const block of open.length > 0 ? open : blocks) {
      this.views.set(block, new View(scope, sizes, block));
    }
  }

  /** Adds what a block says after it was calibrated given these states. */
  add(chain: number, stretch: number, block: ThinBlock, states: Int32Array): void {
    const view = this.views.get(block);
    if (!view) return;
    const place = chain * this.stretches + stretch;
    view.addTo(this.sums[place], states);
    this.counts[place]++;
  }

  /** Makes one stretch of every two; the later half is empty then. */
  joinStretches(): void {
    const { sums, counts, stretches } = this;
    for (let chain = 0; chain < this.chains; chain++) {
      for (let stretch = 1; stretch < stretches; stretch++) {
        const to = chain * stretches + (stretch >> 1);
        const from = chain * stretches + stretch;
        if (to === from) continue;
        for (let i = 0; i < sums[to].length; i++) sums[to][i] += sums[from][i];
        counts[to] += counts[from];
        sums[from].fill(0);
        counts[from] = 0;
      }
    }
  }

  /** Probabilities in the order of the scope, last fastest. */
  mean(): Float64Array {
    const { sums, counts } = this;
    return sums[0].map((_, i) => {
      let mean = 0;
      for (const [place, sum] of sums.entries()) mean += sum[i] / counts[place] / sums.length;
      return mean;
    });
  }

  /** Largest standard error of these probabilities: from the differences between stretches and between chains. */
  error(): number {
    const { sums, counts } = this;
    const n = sums.length;
    let largest = 0;
    for (const [i, mean] of this.mean().entries()) {
      let squares = 0;
      for (const [place, sum] of sums.entries()) squares += (sum[i] / counts[place] - mean) ** 2;
      largest = Math.max(largest, squares / (n - 1) / n);
    }
    return Math.sqrt(largest);
  }
}

/** The marginal as one block gives it: that of its open variables, beside the states of its fixed ones. */
class View {
  private readonly read: () => Float64Array;
  private readonly cut: CutTable;

  constructor(scope: readonly number[], sizes: readonly number[], block: ThinBlock) {
    const open = scope.filter((variable) => !block.fixed[variable]);
    this.read = open.length > 0 ? block.tree.marginalReader(open) : () => CERTAIN;
    this.cut = cutTable(scope, sizes, block.fixed);
  }

  addTo(sum: Float64Array, states: Int32Array): void {
    const { offsets } = this.cut;
    const from = startOfCut(this.cut, states);
    for (const [i, probability] of this.read().entries()) sum[from + offsets[i]] += probability;
  }
}

const CERTAIN = new Float64Array([1]);
