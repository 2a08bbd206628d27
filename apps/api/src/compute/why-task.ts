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
import { nearFamily } from './near-family.js';

export interface WhyInput {
  readonly program: ProgramInput;
  /** Ids of the records to leave out: those that cannot all be true explain nothing. */
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
  /** Not null: the nearest records were weighed within a near family of so many animals. Null: all of all. */
  readonly near: number | null;
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
  const family = nearFamily(withoutDoubtful(input), String(input.animal));
  const { program, records } = readProgram(family.program);
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
    near: family.animals?.size ?? (why.complete ? null : program.sex.length),
  };
}

/** Records of the near family that are left out one by one, each by an inference. */
const MOST_WEIGHED = 12;

/** Which colours make one possible father likelier than another: each record of the near family left out in turn. */
export function whyFatherTask(input: WhyInput): WhyAnswer {
  const family = nearFamily(withoutDoubtful(input), String(input.animal));
  const { program, records } = readProgram(family.program);
  const found = inferProgram(program, SETTINGS).sires.get(input.animal);
  if (!found) return { names: [], now: [], records: [], near: null };
  // The near family stands in the order of its distance; a count is of its clutch, as near as can be.
  const order = [...(family.animals ?? [])];
  const far = (at: number): number => {
    const record = program.records[at];
    return record.kind === 'count' ? 0 : order.indexOf(String(record.animal));
  };
  const nearest = [...records.keys()].sort((a, b) => far(a) - far(b)).slice(0, MOST_WEIGHED);
  const weighed = nearest.map((at): WeighedRecord => {
    const without = new Uint8Array(records.length);
    without[at] = 1;
    const other = inferProgram(program, { ...SETTINGS, without }).sires.get(input.animal);
    const chances = [...found.animals].map((sire) => {
      const place = other?.animals.indexOf(sire) ?? -1;
      return place < 0 ? 0 : (other?.probabilities[place] ?? 0);
    });
    const changes = chances.map((p, i) => Math.abs(p - found.probabilities[i]));
    return { record: records[at], without: chances, weight: Math.max(...changes) };
  });
  return {
    names: [...found.animals].map((sire) => (sire < 0 ? 'unknown' : String(sire))),
    now: [...found.probabilities],
    records: weighed
      .filter(({ weight }) => weight >= LEAST_WEIGHT)
      .sort((a, b) => b.weight - a.weight),
    near: family.animals?.size ?? (records.length > MOST_WEIGHED ? program.sex.length : null),
  };
}

export interface StepsInput extends WhyInput {
  readonly locus: number;
  /** The trait whose gene is in question. */
  readonly trait: number;
  /** By position of a possible mate: what is known of its genotypes, by locus. */
  readonly mates: Readonly<
    Record<string, Readonly<Record<string, Readonly<Record<string, number>>>>>
  >;
  readonly youngPerYear: number;
}

/** What would settle whether an animal carries: the steps that exist, most informative first. */
export function nextStepsTask(input: StepsInput): NextStep[] {
  const { trait, mates, youngPerYear } = input;
  const family = nearFamily(withoutDoubtful(input), String(input.animal), mates);
  const { program } = readProgram(family.program);
  return nextSteps(program, input.animal, input.locus, {
    trait,
    mates: Object.keys(mates).map(Number),
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
