import type { Block } from './block.js';
import type { Selector, SireSource } from './clutch-parents.js';
import type { FoldedYoung } from './fold-young.js';
import type { Network } from './network.js';

/** Where the posterior of one animal at one block (or several tied ones) is read. */
export type GenotypeReader =
  | {
      readonly kind: 'variable';
      readonly animal: number;
      readonly block: number;
      readonly variable: number;
    }
  | {
      readonly kind: 'folded';
      readonly animal: number;
      readonly blocks: readonly number[];
      readonly family: FoldedYoung;
      readonly likelihood: Float64Array;
    };

/** A young's own choice of clutch and sire. `states[s]`: position of the clutch, and the source there. */
export interface YoungChoice {
  readonly animal: number;
  readonly variable: number;
  readonly states: readonly { readonly clutch: number; readonly source: SireSource }[];
}

/** Where one record can be taken out again: what it says, over what. */
export type RecordReader = { readonly record: number } & (
  | { readonly kind: 'table'; readonly scope: readonly number[]; readonly table: Float64Array }
  | {
      readonly kind: 'folded';
      readonly family: FoldedYoung;
      readonly likelihood: Float64Array;
      readonly own: Float64Array;
    }
  | {
      readonly kind: 'count';
      readonly family: FoldedYoung;
      readonly groups: readonly { readonly likelihood: Float64Array; readonly number: number }[];
    }
);

export interface CompiledProgram {
  /** Records that can be taken out one at a time; several readers of one record multiply only if over the same scope, so it has one at most. */
  readonly recordReaders: readonly RecordReader[];
  /** Variable of an animal at a block, -1 where it was folded or does not take part. */
  readonly variableOf: (animal: number, block: number) => number;
  readonly blocks: readonly Block[];
  readonly network: Network;
  /** By variable: the block states that its states stand for. */
  readonly states: readonly Int32Array[];
  /** Logarithm of the factor by which the network's total is short of the probability of the records. */
  readonly logConstant: number;
  readonly readers: readonly GenotypeReader[];
  /** By clutch, where there is a choice. */
  readonly sireSelectors: ReadonlyMap<number, Selector>;
  readonly damSelectors: ReadonlyMap<number, Selector>;
  readonly choices: readonly YoungChoice[];
  /** By clutch whose young choose for themselves: their choices, where the joint chances can be read. */
  readonly jointChoices: ReadonlyMap<number, readonly YoungChoice[]>;
  /** By variable: states that only a misread or a wrong test would explain. */
  readonly doubtful: ReadonlyMap<number, readonly number[]>;
  /** By animal of unknown sex whose sex matters: its variable (state 0 male, 1 female). */
  readonly sexes: ReadonlyMap<number, number>;
}
