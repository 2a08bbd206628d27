import { seededRandom } from '@scutewright/basics';
import { closeUpwards, recordedAnimals } from './close-upwards.js';
import { compileProgram } from './compile-program.js';
import type { CompiledProgram, RecordReader } from './compiled-program.js';
import { Evidence } from './evidence.js';
import { allelismCases } from './infer-program.js';
import { layOutBlocks } from './lay-out-blocks.js';
import { byNearness } from './nearest-records.js';
import { onePosterior } from './one-posterior.js';
import type { Program } from './program.js';
import { planNetwork, type SolvedNetwork, solvePlanned } from './solve-network.js';

export interface Why {
  /** Probability by genotype (order of `Locus.genotypes`) with all records. */
  readonly posterior: Float64Array;
  /** Most influential first. */
  readonly records: readonly RecordWeight[];
  /** False where the program was too large to weigh every record; then only the nearest were. */
  readonly complete: boolean;
}

export interface RecordWeight {
  readonly record: number;
  /** The posterior without it; all 0 where the base rules out what a prior had allowed. */
  readonly without: Float64Array;
  /** Largest change of a genotype's probability. */
  readonly weight: number;
}

/** Stands for 0 in a record's likelihood, so that the record can be divided out again. */
const SOFT = 1e-60;
/** Records weighed one by one where the short way does not fit. */
const MOST_NEAREST = 12;
/** The same for those that rule genotypes out, beside all others. */
const MOST_APART = 4;

/**
 * Why an animal's genotype is thought so: the posterior without each record. Records that cannot all be true explain nothing: no records
 * are answered then (see `clashingRecords`). One solution per state of the animal gives all of them at
 * once: with the state fixed, each record is divided out at its own place in the clique tree; those that rule genotypes out only while
 * the tables without them stay within `mostEntries`, else the nearest of these one by one. Cost: a few runs, not one per record.
 */
export function whyGenotype(
  program: Program,
  animal: number,
  locus: number,
  mostEntries = 2 ** 22,
): Why {
  const size = program.loci[locus].genotypes.length;
  const whole = onePosterior(program, animal, locus, null);
  if (whole.every((p) => p === 0)) return { posterior: whole, records: [], complete: false };
  const soft = fixedRuns(program, animal, locus, SOFT, mostEntries);
  const runs = soft ?? fixedRuns(program, animal, locus, 0, mostEntries);
  if (!runs) return nearestOnly(program, animal, locus, whole);
  const posterior = combine(runs, size, () => 0);
  const taken = new Set(runs.flatMap((run) => [...run.ratios.keys()]));
  const apart = byNearness(program, animal).filter((record) => !taken.has(record));
  // Without softened zeros there may be too many to take out one by one.
  const weighed = soft ? apart : apart.slice(0, MOST_APART);
  const records = [...taken, ...weighed].map((record): RecordWeight => {
    const without = taken.has(record)
      ? combine(runs, size, (run) => run.ratios.get(record) ?? 0)
      : onePosterior(program, animal, locus, record);
    return { record, without, weight: change(posterior, without) };
  });
  return { posterior, records: byWeight(records), complete: weighed.length === apart.length };
}

/** Every state of the animal fixed in turn; null where that is too large. `soft` stands for 0 in what a record says. */
function fixedRuns(
  program: Program,
  animal: number,
  locus: number,
  soft: number,
  mostEntries: number,
): FixedRun[] | null {
  const runs: FixedRun[] = [];
  for (const { oneGene, prior } of allelismCases(program)) {
    const evidence = new Evidence(program, layOutBlocks(program, oneGene));
    const compiled = compileProgram(program, evidence, {
      include: closeUpwards(program, [...recordedAnimals(program), animal]),
      without: null,
      soft,
      jointSires: false,
      keep: [animal],
    });
    // What says 0 somewhere can only be divided out where the 0 is softened.
    const readers = compiled.recordReaders.filter(
      ({ record }) => soft > 0 || isPositive(program, evidence, record),
    );
    const planned = planNetwork(compiled.network, seededRandom(1), 4, mostEntries);
    if (planned.plan.entries > mostEntries) return null;
    const own = { compiled, evidence, readers };
    fixStates(own, animal, locus, Math.log(prior), program.records.length, runs);
  }
  return runs;
}

/** Whether the record rules no genotype out, so that it can be divided out again. */
function isPositive(program: Program, evidence: Evidence, record: number): boolean {
  const entry = program.records[record];
  if (!entry) return false;
  const says =
    entry.kind === 'count'
      ? entry.groups.map((group) => evidence.countGroup(record, group))
      : [evidence.likelihood(record)];
  return says.every((own) => own?.m.every((p) => p > 0) && own.f.every((p) => p > 0));
}

interface Compiled {
  readonly compiled: CompiledProgram;
  readonly evidence: Evidence;
  /** Of the records that can be divided out. */
  readonly readers: readonly RecordReader[];
}

/** One solution with the animal's state fixed. */
interface FixedRun {
  readonly genotype: number;
  readonly log: number;
  /** By record: logarithm of how much more probable the rest is without it. */
  readonly ratios: ReadonlyMap<number, number>;
}

function fixStates(
  { compiled, evidence, readers }: Compiled,
  animal: number,
  locus: number,
  logPrior: number,
  records: number,
  runs: FixedRun[],
): void {
  const variable = compiled.variableOf(animal, evidence.blockOf(locus));
  const genotypes = evidence.genotypesByState(locus);
  for (const [position, state] of compiled.states[variable].entries()) {
    const allowed = compiled.network.sizes.map((_, v) => (v === variable ? [position] : null));
    const planned = planNetwork(
      compiled.network,
      seededRandom(1),
      2,
      Number.POSITIVE_INFINITY,
      allowed,
    );
    const solved = solvePlanned(compiled.network, planned);
    if (solved.logTotal === Number.NEGATIVE_INFINITY) continue;
    const ratios = new Map<number, number>();
    const memory = new Map<unknown, Float64Array>();
    for (const reader of readers) {
      if (reader.record >= records) continue;
      ratios.set(reader.record, logRatio(reader, solved, memory));
    }
    runs.push({
      genotype: genotypes[state],
      log: solved.logTotal + compiled.logConstant + logPrior,
      ratios,
    });
  }
}

/** Logarithm of the mean of 1 / (what the record says), over what is thought with the record. */
function logRatio(
  reader: RecordReader,
  solved: SolvedNetwork,
  memory: Map<unknown, Float64Array>,
): number {
  const remember = (key: unknown, compute: () => Float64Array): Float64Array => {
    const known = memory.get(key) ?? compute();
    memory.set(key, known);
    return known;
  };
  if (reader.kind === 'table') {
    const chances = solved.marginal(reader.scope);
    return Math.log(chances.reduce((sum, p, i) => (p > 0 ? sum + p / reader.table[i] : sum), 0));
  }
  const parents = remember(reader.family, () => solved.marginal(reader.family.scope));
  if (reader.kind === 'folded') {
    const chances = remember(reader.likelihood, () =>
      reader.family.posterior(reader.likelihood, parents),
    );
    return Math.log(chances.reduce((sum, p, i) => (p > 0 ? sum + p / reader.own[i] : sum), 0));
  }
  const logs = parents.map((p, i) => {
    let log = p > 0 ? Math.log(p) : Number.NEGATIVE_INFINITY;
    for (const { likelihood, number } of reader.groups) {
      if (p > 0) log -= number * Math.log(reader.family.message(likelihood)[i]);
    }
    return log;
  });
  const largest = Math.max(...logs);
  return largest + Math.log(logs.reduce((sum, log) => sum + Math.exp(log - largest), 0));
}

/** Probabilities by genotype of the runs, each made more probable by `extra` (a logarithm). */
function combine(
  runs: readonly FixedRun[],
  size: number,
  extra: (run: FixedRun) => number,
): Float64Array {
  const logs = runs.map((run) => run.log + extra(run));
  const largest = Math.max(...logs);
  const result = new Float64Array(size);
  // All that is left hangs on a softened zero: impossible.
  const before = Math.max(...runs.map((run) => run.log));
  if (largest < before + Math.log(SOFT) / 2) return result;
  let total = 0;
  for (const [i, run] of runs.entries()) {
    const weight = Math.exp(logs[i] - largest);
    // Against a state that needs no record to be wrong, one that does is nothing.
    if (weight < SOFT_RELATIVE) continue;
    result[run.genotype] += weight;
    total += weight;
  }
  return result.map((value) => value / total);
}

const SOFT_RELATIVE = 1e-40;

/** The nearest records one by one. */
function nearestOnly(
  program: Program,
  animal: number,
  locus: number,
  posterior: Float64Array,
): Why {
  const nearest = byNearness(program, animal).slice(0, MOST_NEAREST);
  const records = nearest.map((record): RecordWeight => {
    const without = onePosterior(program, animal, locus, record);
    return { record, without, weight: change(posterior, without) };
  });
  return { posterior, records: byWeight(records), complete: false };
}

function change(posterior: Float64Array, without: Float64Array): number {
  return posterior.reduce((most, p, i) => Math.max(most, Math.abs(p - without[i])), 0);
}

function byWeight(records: RecordWeight[]): RecordWeight[] {
  return records.sort((a, b) => b.weight - a.weight || a.record - b.record);
}
