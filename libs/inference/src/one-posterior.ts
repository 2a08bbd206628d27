import { seededRandom } from '@scutewright/basics';
import { mostEntries } from './approximate-network.js';
import { closeUpwards, recordedAnimals } from './close-upwards.js';
import { compileProgram } from './compile-program.js';
import { Evidence } from './evidence.js';
import { allelismCases, inferProgram } from './infer-program.js';
import { layOutBlocks } from './lay-out-blocks.js';
import type { Program } from './program.js';
import { planNetwork, solvePlanned } from './solve-network.js';

const RESTARTS = 4;

/**
 * Probability by genotype (order of `Locus.genotypes`) of one animal, all 0 where the records cannot all be true. Only the animal
 * and what records speak of is solved, and nothing else read, so that it costs less than `inferProgram`, which is asked where even
 * that does not fit.
 * @param without a record to leave out, or null for none
 */
export function onePosterior(
  program: Program,
  animal: number,
  locus: number,
  without: number | null,
): Float64Array {
  const mask = without === null ? null : new Uint8Array(program.records.length);
  if (mask && without !== null) mask[without] = 1;
  const include = closeUpwards(program, [...recordedAnimals(program), animal]);
  const sums = new Float64Array(program.loci[locus].genotypes.length);
  const found: { log: number; chances: Float64Array; genotypes: readonly number[] }[] = [];
  for (const { oneGene, prior } of allelismCases(program)) {
    const evidence = new Evidence(program, layOutBlocks(program, oneGene));
    const compiled = compileProgram(program, evidence, {
      include,
      without: mask,
      soft: 0,
      jointSires: false,
      keep: [animal],
    });
    const planned = planNetwork(compiled.network, seededRandom(1), RESTARTS, mostEntries({}));
    if (planned.plan.entries > mostEntries({}))
      return ofWholeProgram(program, animal, locus, mask, sums);
    const solved = solvePlanned(compiled.network, planned);
    if (solved.logTotal === Number.NEGATIVE_INFINITY) continue;
    const variable = compiled.variableOf(animal, evidence.blockOf(locus));
    const byState = evidence.genotypesByState(locus);
    found.push({
      log: solved.logTotal + compiled.logConstant + Math.log(prior),
      chances: solved.marginal([variable]),
      genotypes: Array.from(compiled.states[variable], (state) => byState[state]),
    });
  }
  const largest = Math.max(...found.map(({ log }) => log));
  let total = 0;
  for (const { log, chances, genotypes } of found) {
    const weight = Math.exp(log - largest);
    total += weight;
    for (const [i, genotype] of genotypes.entries()) sums[genotype] += weight * chances[i];
  }
  return total > 0 ? sums.map((sum) => sum / total) : sums;
}

function ofWholeProgram(
  program: Program,
  animal: number,
  locus: number,
  without: Uint8Array | null,
  impossible: Float64Array,
): Float64Array {
  const all = inferProgram(program, { without });
  if (!all.possible) return impossible;
  const from = animal * all.stride + all.offset[locus];
  return all.genotypes.slice(from, from + impossible.length);
}
