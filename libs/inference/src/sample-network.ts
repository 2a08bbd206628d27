import { type Random, seededRandom } from '@scutewright/basics';
import { deleteStates, SupportedStates } from './delete-states.js';
import type { Network } from './network.js';
import { SampledMarginal } from './sampled-marginal.js';
import { type SolvedNetwork, spread } from './solve-network.js';
import { type ThinBlock, thinBlocks } from './thin-blocks.js';

export interface SampledNetwork extends SolvedNetwork {
  /** Largest standard error over the marginals that were asked for so far. */
  error(): number;
  readonly width: number;
  readonly entries: number;
  readonly runs: number;
}

export interface SampleSettings {
  /** Sampling ends once no standard error is above this ... */
  readonly target: number;
  /** ... or after so many rounds over all blocks, without the first ones that are thrown away. */
  readonly mostRounds: number;
  /** Table entries of the largest clique. */
  readonly mostClique: number;
  readonly seed: number;
}

const CHAINS = 4;
/** Rounds at the start of each chain that are thrown away. */
const BURN_IN = 2;
/** A chain's rounds are cut into so many stretches of equal length. */
const STRETCHES = 4;
const START_ATTEMPTS = 300;
/** Table entries that further rounds may compute: a very large program is answered after the first ones, with the error they leave. */
const MOST_WORK = 2 ** 29;

/**
 * Marginals by blocked Gibbs sampling where no exact solution fits: nearly all variables are drawn together from their exact joint
 * distribution given the few that are held fixed, block after block with other ones fixed; their exact marginals given these are what
 * is averaged (Rao-Blackwell). The error is the standard error between the means of stretches of four independent chains.
 * Approximate: where all chains miss a part of the distribution, the error does not show it.
 * `wanted`: every scope whose marginal will be asked for. Null when no consistent start was found.
 * Source: Jensen, Kong & Kjaerulff 1995 (see `thinBlocks`). Cost: four chains x rounds x blocks, each a clique tree of some 2^18 entries.
 */
export function sampleNetwork(
  network: Network,
  wanted: readonly (readonly number[])[],
  { target, mostRounds, mostClique, seed }: SampleSettings,
): SampledNetwork | null {
  const random = seededRandom(seed);
  const reduced = deleteStates(network);
  if (!reduced.possible) return null;
  const { sizes } = reduced.network;
  const scopes = new Map<string, readonly number[]>();
  for (const scope of wanted) {
    const open = scope.filter((variable) => sizes[variable] > 1);
    if (open.length > 0) scopes.set(open.join(), open);
  }
  const blocks = thinBlocks(reduced.network, [...scopes.values()], mostClique, random);
  const marginals = new Map<string, SampledMarginal>();
  for (const [key, scope] of scopes) {
    marginals.set(key, new SampledMarginal(scope, sizes, blocks, CHAINS, STRETCHES));
  }
  let runs = 0;
  let logTotal = Number.NEGATIVE_INFINITY;
  const round = (states: Int32Array, read: (block: ThinBlock) => void): void => {
    for (const block of blocks) {
      logTotal = block.tree.calibrate(block.given(states));
      runs++;
      read(block);
      block.tree.draw(states, random);
    }
  };
  const chains: Int32Array[] = [];
  for (let chain = 0; chain < CHAINS; chain++) {
    const states = findStart(reduced.network, blocks[0], random);
    if (!states) return null;
    for (let i = 0; i < BURN_IN; i++) round(states, () => {});
    chains.push(states);
  }
  const work = CHAINS * blocks.reduce((sum, { entries }) => sum + entries, 0);
  let length = 1;
  let rounds = 0;
  let stretch = 0;
  for (;;) {
    for (; stretch < STRETCHES; stretch++) {
      for (const [chain, states] of chains.entries()) {
        for (let i = 0; i < length; i++) {
          round(states, (block) => {
            for (const marginal of marginals.values()) marginal.add(chain, stretch, block, states);
          });
        }
      }
      rounds += length;
    }
    let largest = 0;
    for (const marginal of marginals.values()) largest = Math.max(largest, marginal.error());
    if (largest <= target || rounds * 2 > mostRounds || rounds * 2 * work > MOST_WORK) break;
    // As many rounds again: two stretches of before make one of double length.
    for (const marginal of marginals.values()) marginal.joinStretches();
    length *= 2;
    stretch = STRETCHES / 2;
  }
  let error = 0;
  return {
    // The total itself is not estimated: this is that of the last draw, a lower bound.
    logTotal: logTotal + reduced.logConstant,
    width: Math.max(...blocks.map((block) => block.width)),
    entries: Math.max(...blocks.map((block) => block.entries)),
    runs,
    error: () => error,
    marginal: (scope) =>
      spread(reduced, network.sizes, scope, (open) => {
        const marginal = marginals.get(open.join());
        if (!marginal) throw new Error('a sampled marginal must be named beforehand');
        error = Math.max(error, marginal.error());
        return marginal.mean();
      }),
  };
}

/** States that fit together: the fixed variables of a block one after another, then all others given these. */
function findStart(network: Network, block: ThinBlock, random: Random): Int32Array | null {
  const supported = new SupportedStates(network);
  const all = supported.save();
  const states = new Int32Array(network.sizes.length);
  for (let attempt = 0; attempt < START_ATTEMPTS; attempt++) {
    supported.restore(all);
    const possible = [...block.fixed.keys()].every((variable) => {
      if (!block.fixed[variable]) return true;
      const left = [...supported.alive[variable].keys()].filter(
        (s) => supported.alive[variable][s],
      );
      states[variable] = left[random.below(left.length)];
      return supported.set(variable, states[variable]);
    });
    if (!possible) continue;
    if (block.tree.calibrate(block.given(states)) === Number.NEGATIVE_INFINITY) continue;
    block.tree.draw(states, random);
    return states;
  }
  return null;
}
