import { FaultsError, seededRandom } from '@scutewright/basics';
import type { CompiledProgram } from './compiled-program.js';
import { deleteDoubtful } from './delete-doubtful.js';
import type { InferenceSettings } from './infer-program.js';
import type { Network } from './network.js';
import { sampleNetwork } from './sample-network.js';
import { type SolvedNetwork, solvePlanned } from './solve-network.js';

export interface ApproximateNetwork extends SolvedNetwork {
  /** See `Effort`. */
  readonly method: 'states deleted' | 'sampled';
  readonly deletedMass: number;
  readonly width: number;
  readonly entries: number;
  readonly runs: number;
  /** Largest standard error over the marginals that were asked for so far; 0 unless sampled. */
  error(): number;
}

/** With more than this deleted, sampling is nearer to the truth. */
const MOST_DELETED = 0.02;
/** Standard error with which sampling is content. */
const TARGET = 0.01;
/** Table entries of one clique while sampling: larger ones take longer than the fewer fixed variables save. */
const MOST_CLIQUE = 2 ** 11;

/** Table entries that settings allow. */
export function mostEntries(settings: InferenceSettings): number {
  return 2 ** (settings.budgetBits ?? 24);
}

/**
 * The network of a compiled program that is too large to be solved as it is: without its doubtful states where that suffices and
 * costs little, else by sampling. `wanted`: every scope whose marginal will be asked for. Throws a FaultsError (`TOO_LARGE`).
 */
export function approximateNetwork(
  network: Network,
  compiled: CompiledProgram,
  wanted: readonly (readonly number[])[],
  settings: InferenceSettings,
): ApproximateNetwork {
  const seed = settings.seed ?? 1;
  const small = deleteDoubtful(
    network,
    compiled.doubtful,
    mostEntries(settings),
    seededRandom(seed),
  );
  if (small && small.deletedMass <= MOST_DELETED) {
    const { width, entries } = small.planned.plan;
    return {
      ...solvePlanned(network, small.planned),
      method: 'states deleted',
      deletedMass: small.deletedMass,
      width,
      entries,
      runs: small.runs + 1,
      error: () => 0,
    };
  }
  const sampled = sampleNetwork(network, wanted, {
    target: TARGET,
    mostRounds: settings.rounds ?? 32,
    mostClique: Math.min(MOST_CLIQUE, mostEntries(settings)),
    seed,
  });
  if (!sampled) throw new FaultsError([TOO_LARGE]);
  return { ...sampled, method: 'sampled', deletedMass: 0 };
}

/** Variables that say who a parent is. */
export function selectorsOf(compiled: CompiledProgram): number[] {
  return [
    ...[...compiled.sireSelectors.values()].map(({ variable }) => variable),
    ...[...compiled.damSelectors.values()].map(({ variable }) => variable),
    ...compiled.choices.map(({ variable }) => variable),
  ];
}

const TOO_LARGE = {
  code: 'TOO_LARGE',
  message:
    'This program is too entangled to be computed, even by sampling: no combination that fits all records was found.',
  remedy: 'Say which founders cannot carry the allele, or ask about one part of the program.',
  ids: [],
};
