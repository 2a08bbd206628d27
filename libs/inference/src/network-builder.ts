import { FaultsError } from '@scutewright/basics';
import type { Factor, Network } from './network.js';

/** Entries of one table at most. */
const MOST_ENTRIES = 2 ** 23;

/** Variables and factors as they are added. A variable of a genotype knows which block states its own states stand for. */
export class NetworkBuilder {
  private readonly sizes: number[] = [];
  private readonly factors: Factor[] = [];
  /** By variable: the states of its block, or 0..n-1 of a selector. */
  readonly states: Int32Array[] = [];

  /** Adds a variable; answers its number. */
  variable(states: Int32Array): number {
    this.sizes.push(states.length);
    this.states.push(states);
    return this.sizes.length - 1;
  }

  selector(size: number): number {
    return this.variable(Int32Array.from({ length: size }, (_, state) => state));
  }

  size(variable: number): number {
    return this.sizes[variable];
  }

  /** Adds a table as it is; answers the factor's number. */
  factor(scope: readonly number[], table: Float64Array): number {
    this.factors.push({ scope, table });
    return this.factors.length - 1;
  }

  /**
   * Adds a table filled by `weight`, which is given the block states (or selector states) of the scope's variables.
   */
  fill(scope: readonly number[], weight: (states: Int32Array) => number): number {
    const table = newTable(scope.map((variable) => this.sizes[variable]));
    const counter = new Int32Array(scope.length);
    const states = new Int32Array(scope.length);
    for (let entry = 0; entry < table.length; entry++) {
      for (let k = 0; k < scope.length; k++) states[k] = this.states[scope[k]][counter[k]];
      table[entry] = weight(states);
      for (let k = scope.length - 1; k >= 0; k--) {
        if (++counter[k] < this.sizes[scope[k]]) break;
        counter[k] = 0;
      }
    }
    return this.factor(scope, table);
  }

  build(): Network {
    return { sizes: this.sizes, factors: this.factors };
  }
}

/** A table of zeros; throws a FaultsError (`TABLE_TOO_LARGE`) instead of filling the memory. */
export function newTable(sizes: readonly number[]): Float64Array {
  const size = sizes.reduce((product, n) => product * n, 1);
  if (size > MOST_ENTRIES) {
    throw new FaultsError([
      {
        code: 'TABLE_TOO_LARGE',
        message: `One family needs a table of ${size.toExponential(1)} entries; ${MOST_ENTRIES} is the bound.`,
        remedy: 'Name fewer candidate sires, fewer alleles or fewer linked loci there.',
        ids: [],
      },
    ]);
  }
  return new Float64Array(size);
}
