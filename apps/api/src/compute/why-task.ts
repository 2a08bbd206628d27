import {
  type Explanation,
  explainClash,
  inferProgram,
  type NextStep,
  nextSteps,
  type ProgramInput,
  readProgram,
  whyGenotype,
} from '@scutewright/inference';
import { SETTINGS } from './genes-task.js';

/** Records of a program without those that cannot all be true: they explain nothing. */
export interface WhyInput {
  readonly program: ProgramInput;
  /** Ids of the records to leave out. */
  readonly doubtful: readonly string[];
  readonly animal: number;
}

export interface WeighedRecord {
  readonly record: string;
  /** What would be thought without it, in the order of `names`. */
  readonly without: readonly number[];
  readonly weight: number;
}

export interface WhyAnswer {
  /** Genotypes, or positions of possible fathers (`unknown`). */
  readonly names: readonly string[];
  readonly now: readonly number[];
  /** Most influential first; those that change nothing are left out. */
  readonly records: readonly WeighedRecord[];
  /** False where only the nearest records were weighed. */
  readonly isComplete: boolean;
}

/** A change smaller than this is nobody's reason. */
const LEAST_WEIGHT = 0.0005;

const withoutDoubtful = ({ program, doubtful }: WhyInput): ProgramInput => {
  const out = new Set(doubtful);
  const evidence = (program.evidence ?? []).filter(({ id }) => !out.has(id ?? ''));
  return { ...program, evidence };
};

/** Which records make an animal's genotype at a locus be thought so. */
export function whyGenotypeTask(input: WhyInput & { readonly locus: number }): WhyAnswer {
  const { program, records } = readProgram(withoutDoubtful(input));
  const why = whyGenotype(program, input.animal, input.locus);
  return {
    names: program.loci[input.locus].genotypes.map(({ text }) => text),
    now: [...why.posterior],
    records: why.records
      .filter(({ weight }) => weight >= LEAST_WEIGHT)
      .map(({ record, without, weight }) => ({
        record: records[record],
        without: [...without],
        weight,
      })),
    isComplete: why.complete,
  };
}

/** Records weighed one by one, each by an inference without it. */
const MOST_WEIGHED = 16;

/** Which colours make one possible father likelier than another: the records of the family, each left out in turn. */
export function whyFatherTask(input: WhyInput): WhyAnswer {
  const { program, records } = readProgram(withoutDoubtful(input));
  const { animal } = input;
  const found = inferProgram(program, SETTINGS).sires.get(animal);
  const nothing = { names: [], now: [], records: [], isComplete: true };
  if (!found) return nothing;
  const clutch = program.clutches[program.clutch[animal]];
  const fathers = new Set(clutch?.sires);
  const isNear = (one: number): boolean => {
    const own = program.clutches[program.clutch[one]];
    return (
      fathers.has(one) ||
      own === clutch ||
      (clutch?.dams.includes(one) ?? false) ||
      (own?.sires.some((sire) => fathers.has(sire)) ?? false)
    );
  };
  const near = [...program.records.keys()].filter((record) => {
    const entry = program.records[record];
    if (entry.kind === 'count') return entry.clutches.includes(program.clutch[animal]);
    return isNear(entry.animal);
  });
  // The young itself and its clutch mates first: they say most.
  const rank = (record: number): number => {
    const entry = program.records[record];
    if (entry.kind === 'count' || entry.animal === animal) return 0;
    if (program.clutch[entry.animal] === program.clutch[animal]) return 1;
    return fathers.has(entry.animal) || clutch?.dams.includes(entry.animal) ? 2 : 3;
  };
  const weighed = near.sort((a, b) => rank(a) - rank(b)).slice(0, MOST_WEIGHED);
  const list = weighed.map((record) => {
    const without = new Uint8Array(program.records.length);
    without[record] = 1;
    const other = inferProgram(program, { ...SETTINGS, without }).sires.get(animal);
    const chances = [...found.animals].map((sire) => {
      const at = other?.animals.indexOf(sire) ?? -1;
      return at < 0 ? 0 : (other?.probabilities[at] ?? 0);
    });
    const weight = chances.reduce(
      (most, p, i) => Math.max(most, Math.abs(p - found.probabilities[i])),
      0,
    );
    return { record: records[record], without: chances, weight };
  });
  return {
    names: [...found.animals].map((sire) => (sire < 0 ? 'unknown' : String(sire))),
    now: [...found.probabilities],
    records: list
      .filter(({ weight }) => weight >= LEAST_WEIGHT)
      .sort((a, b) => b.weight - a.weight),
    isComplete: near.length <= MOST_WEIGHED,
  };
}

export interface StepsInput extends WhyInput {
  readonly locus: number;
  /** The trait whose gene is in question. */
  readonly trait: number;
  readonly mates: readonly number[];
  readonly youngPerYear: number;
}

/** What would settle whether an animal carries: the steps that exist, most informative first. */
export function nextStepsTask(input: StepsInput): NextStep[] {
  const { program } = readProgram(withoutDoubtful(input));
  const { trait, mates, youngPerYear } = input;
  return nextSteps(program, input.animal, input.locus, {
    trait,
    mates,
    youngPerYear,
    // No test of a tortoise's trait is known to us; a breeder's own can be written when there is one.
    dnaError: null,
    parentageTest: true,
    inference: SETTINGS,
  });
}

/** What usually stands behind one smallest set of records that cannot all be true, likeliest first. */
export function explainTask(input: {
  readonly program: ProgramInput;
  readonly clash: readonly string[];
}): (Omit<Explanation, 'record'> & { readonly record: string | null })[] {
  const { program, records } = readProgram(input.program);
  const clash = input.clash.map((id) => records.indexOf(id));
  return explainClash(program, clash).map((one) => ({
    ...one,
    record: one.record < 0 ? null : records[one.record],
  }));
}
