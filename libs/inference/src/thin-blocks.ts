import type { Random } from '@scutewright/basics';
import { CliqueTree } from './clique-tree.js';
import { cutTable, startOfCut } from './cut-table.js';
import { thinOrder } from './elimination-order.js';
import type { Factor, Network } from './network.js';

/** Variables that are drawn together from their exact joint distribution, given the states of all others. */
export interface ThinBlock {
  /** By variable, 1: held fixed while this block is drawn. */
  readonly fixed: Uint8Array;
  readonly entries: number;
  readonly width: number;
  /** Tree over the open variables, to be calibrated by the tables that `given` makes. */
  readonly tree: CliqueTree;
  /** The factors' tables where the fixed variables have these states. */
  given(states: Int32Array): Float64Array[];
}

const LEAST_BLOCKS = 6;
const MOST_BLOCKS = 12;

/**
 * Blocks of nearly everything: as many variables each as leave small tables, so that each block holds only a few fixed, and other ones
 * than the blocks before, until every scope in `wanted` is open in some block (if it can be). `mostClique`: table
 * entries of the largest clique.
 * Source: Jensen, Kong & Kjaerulff 1995, Blocking Gibbs sampling in very large probabilistic expert systems, Int. J. Human-Computer
 * Studies 42:647 (from memory).
 */
export function thinBlocks(
  network: Network,
  wanted: readonly (readonly number[])[],
  mostClique: number,
  random: Random,
): ThinBlock[] {
  const timesFixed = new Float64Array(network.sizes.length);
  const blocks: ThinBlock[] = [];
  let closed = wanted;
  while (blocks.length < LEAST_BLOCKS || (closed.length > 0 && blocks.length < MOST_BLOCKS)) {
    const { fixed, order, entries, width } = thinOrder(network, random, mostClique, timesFixed);
    for (const [variable, is] of fixed.entries()) timesFixed[variable] += is;
    closed = closed.filter((scope) => scope.some((variable) => fixed[variable]));
    const near = network.factors.filter(({ scope }) => scope.some((variable) => !fixed[variable]));
    const scopes = near.map(({ scope }) => scope.filter((variable) => !fixed[variable]));
    const tree = new CliqueTree(network.sizes, scopes, order);
    const slicers = near.map((factor) => slicer(factor, network.sizes, fixed));
    const given = (states: Int32Array) => slicers.map((slice) => slice(states));
    blocks.push({ fixed, entries, width, tree, given });
  }
  return blocks;
}

/** Makes the table of a factor for given states of its fixed variables. */
function slicer(
  { scope, table }: Factor,
  sizes: readonly number[],
  fixed: Uint8Array,
): (states: Int32Array) => Float64Array {
  const cut = cutTable(scope, sizes, fixed);
  const { offsets } = cut;
  if (cut.held.length === 0) return () => table;
  return (states) => {
    const from = startOfCut(cut, states);
    return Float64Array.from(offsets, (offset) => table[from + offset]);
  };
}
