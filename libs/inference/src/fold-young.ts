import type { Block } from './block.js';
import { type NetworkBuilder, newTable } from './network-builder.js';

/** A parent that is nobody recorded: its own animal of the base population. */
export const BASE = -1;

/** Variables of the parents at one block; `BASE` for a parent without a variable. */
export interface ParentSlots {
  readonly sire: number;
  readonly dam: number;
}

/** Young of one pair that are multiplied up directly; beyond that, logarithms. */
const MOST_MULTIPLIED = 100;

/** A young with the chance of each state of its blocks, for one combination of the parents' states. */
interface Chances {
  readonly states: readonly number[];
  readonly probabilities: readonly number[];
}

/**
 * The young of one pair of parents at some blocks that have no young of their own: summed out by hand, one
 * small table over the parents for all of them (Elston & Stewart 1971, Hum. Hered. 21:523, peeling of a nuclear family).
 */
export class FoldedYoung {
  /** Variables of the parents, block by block: sire, dam; base parents left out. */
  readonly scope: readonly number[];
  private readonly table: Float64Array;
  private readonly likes: readonly (readonly Chances[])[];
  private logTable: Float64Array | null = null;
  private readonly messages = new Map<string, Float64Array>();
  /** Position of its factor in the network, once closed; -1 while none of its young says anything. */
  factor = -1;
  private informative = false;
  private added = 0;

  constructor(
    private readonly blocks: readonly Block[],
    slots: readonly ParentSlots[],
    builder: NetworkBuilder,
  ) {
    const scope: number[] = [];
    const likes: Chances[][] = [];
    for (const [k, { sire, dam }] of slots.entries()) {
      if (sire !== BASE) scope.push(sire);
      if (dam !== BASE) scope.push(dam);
      likes.push(chancesOf(blocks[k], stateList(sire, builder), stateList(dam, builder)));
    }
    this.scope = scope;
    this.likes = likes;
    this.table = newTable(scope.map((variable) => builder.size(variable))).fill(1);
  }

  /** Multiplies in `count` young of likelihood `u` over the product of the blocks' states (last fastest). */
  add(u: Float64Array, count: number): void {
    const message = this.message(u);
    this.informative = true;
    this.added += count;
    if (this.added <= MOST_MULTIPLIED && !this.logTable) {
      for (let i = 0; i < message.length; i++) this.table[i] *= message[i] ** count;
      return;
    }
    // The product of many young underflows: keep its logarithm.
    this.logTable ??= this.table.map(Math.log);
    for (let i = 0; i < message.length; i++) this.logTable[i] += count * Math.log(message[i]);
  }

  /** Hands the table to the network; answers the logarithm of what was divided out of it. */
  close(builder: NetworkBuilder, evenIfSilent: boolean): number {
    if ((!this.informative && !evenIfSilent) || this.factor >= 0) return 0;
    let log = 0;
    if (this.logTable) {
      let largest = Number.NEGATIVE_INFINITY;
      for (const value of this.logTable) largest = Math.max(largest, value);
      if (largest > Number.NEGATIVE_INFINITY) {
        log = largest;
        for (const [i, value] of this.logTable.entries()) {
          // A combination that is possible stays so, however unlikely the young make it.
          this.table[i] =
            value === Number.NEGATIVE_INFINITY ? 0 : Math.max(Math.exp(value - largest), 1e-280);
        }
      } else {
        this.table.fill(0);
      }
    }
    this.factor = builder.factor(this.scope, this.table);
    return log;
  }

  /** Weight of the likelihood `u` in each combination of the parents' states. */
  message(u: Float64Array): Float64Array {
    const key = u.join();
    let message = this.messages.get(key);
    if (!message) {
      message = new Float64Array(this.table.length);
      this.eachCombination((entry, chances) => {
        message![entry] = weigh(chances, this.blocks, u, null);
      });
      this.messages.set(key, message);
    }
    return message;
  }

  /**
   * Probabilities of the states of a young of likelihood `u`, that was added, from the joint probabilities of the parents with all records;
   * over the product of the blocks' states.
   */
  posterior(u: Float64Array, parents: Float64Array): Float64Array {
    const message = this.message(u);
    const result = new Float64Array(u.length);
    this.eachCombination((entry, chances) => {
      if (parents[entry] === 0 || message[entry] === 0) return;
      weigh(chances, this.blocks, u, { into: result, by: parents[entry] / message[entry] });
    });
    let total = 0;
    for (const value of result) total += value;
    for (let i = 0; i < result.length; i++) result[i] /= total;
    return result;
  }

  private eachCombination(visit: (entry: number, chances: readonly Chances[]) => void): void {
    const counter = new Int32Array(this.likes.length);
    const chances = this.likes.map((list) => list[0]);
    for (let entry = 0; entry < this.table.length; entry++) {
      visit(entry, chances);
      for (let k = counter.length - 1; k >= 0; k--) {
        if (++counter[k] < this.likes[k].length) {
          chances[k] = this.likes[k][counter[k]];
          break;
        }
        counter[k] = 0;
        chances[k] = this.likes[k][0];
      }
    }
  }
}

function stateList(variable: number, builder: NetworkBuilder): Int32Array | null {
  return variable === BASE ? null : builder.states[variable];
}

/** Chances of the young for every combination of the parents' states, sire slowest. */
export function chancesOf(
  block: Block,
  sires: Int32Array | null,
  dams: Int32Array | null,
): Chances[] {
  const list: Chances[] = [];
  for (const sire of sires ?? [-1]) {
    for (const dam of dams ?? [-1]) {
      list.push(sire >= 0 && dam >= 0 ? block.young(sire, dam) : mixed(block, sire, dam));
    }
  }
  return list;
}

/** Young of a parent, or of none, whose mate is drawn from the base. */
function mixed(block: Block, sire: number, dam: number): Chances {
  const chance = new Float64Array(block.states);
  for (let s = 0; s < block.states; s++) {
    const sireWeight = sire >= 0 ? Number(s === sire) : block.base.m[s];
    if (sireWeight === 0) continue;
    for (let d = 0; d < block.states; d++) {
      const damWeight = dam >= 0 ? Number(d === dam) : block.base.f[d];
      if (damWeight === 0) continue;
      const { states, probabilities } = block.young(s, d);
      for (const [i, state] of states.entries()) {
        chance[state] += sireWeight * damWeight * probabilities[i];
      }
    }
  }
  const states: number[] = [];
  for (let state = 0; state < block.states; state++) if (chance[state] > 0) states.push(state);
  return { states, probabilities: states.map((state) => chance[state]) };
}

/** The sum over the young's states of chance times likelihood; each term also added, scaled, to `out`. */
function weigh(
  chances: readonly Chances[],
  blocks: readonly Block[],
  u: Float64Array,
  out: { into: Float64Array; by: number } | null,
): number {
  let sum = 0;
  const visit = (k: number, at: number, probability: number): void => {
    if (k === chances.length) {
      const term = probability * u[at];
      sum += term;
      if (out) out.into[at] += term * out.by;
      return;
    }
    const { states, probabilities } = chances[k];
    for (let i = 0; i < states.length; i++) {
      visit(k + 1, at * blocks[k].states + states[i], probability * probabilities[i]);
    }
  };
  visit(0, 0, 1);
  return sum;
}
