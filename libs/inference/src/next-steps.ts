import { Evidence } from './evidence.js';
import { type InferenceSettings, inferProgram } from './infer-program.js';
import { layOutBlocks } from './lay-out-blocks.js';
import type { Posteriors } from './posteriors.js';
import { FEMALE, MALE, type Program } from './program.js';

export interface StepSettings {
  /** The trait whose recessive allele is in question. */
  readonly trait: number;
  /** Animals that could be mated with the suspect; those of its own sex are passed over. */
  readonly mates: readonly number[];
  /** Eggs that hatch a year from such a mating. */
  readonly youngPerYear: number;
  /** Locus tests that are known to exist, with their error; none is proposed otherwise. */
  readonly dnaError: number | null;
  /** Whether parentage tests are known to exist for the species. */
  readonly parentageTest: boolean;
  readonly inference?: InferenceSettings;
}

export interface NextStep {
  readonly kind: 'test mating' | 'colour check' | 'dna test' | 'parentage test';
  /** The mate of a test mating, else the suspect. */
  readonly animal: number;
  /** Expected information on whether the suspect carries, in bits: of one year's young, or of one test. */
  readonly bits: number;
  /** The same by egg; for a test, the whole. */
  readonly bitsPerEgg: number;
  /** Normal young, and none pale, that bring the suspect below 5 % and 1 %; null when no number does. */
  readonly clears95: number | null;
  readonly clears99: number | null;
  /** What endless normal young would leave of the suspicion. */
  readonly residual: number;
}

/** Young that a test mating is followed for. */
const MOST_YOUNG = 200;

/**
 * What would settle whether a suspect carries an allele besides the first of a locus: the steps that exist, most informative first. Mates are weighed with
 * their own doubt *given* the suspect's genotype, relatives included. Cost: one inference per genotype of the suspect.
 */
export function nextSteps(
  program: Program,
  suspect: number,
  locus: number,
  settings: StepSettings,
): NextStep[] {
  const base = inferProgram(program, settings.inference);
  const { genotypes } = program.loci[locus];
  const from = suspect * base.stride + base.offset[locus];
  const cases: Case[] = [];
  for (const [genotype, { alleles }] of genotypes.entries()) {
    const probability = base.genotypes[from + genotype];
    if (probability <= 0) continue;
    const weights = new Float64Array(genotypes.length);
    weights[genotype] = 1;
    const record = { kind: 'likelihood', animal: suspect, locus, weights } as const;
    const given = inferProgram(
      { ...program, records: [...program.records, record] },
      { ...settings.inference, without: null },
    );
    cases.push({ genotype, probability, carries: alleles.some((allele) => allele > 0), given });
  }
  if (cases.every(({ carries }) => carries) || !cases.some(({ carries }) => carries)) return [];
  const evidence = new Evidence(
    program,
    layOutBlocks(
      program,
      program.allelism.map(() => false),
    ),
  );
  const steps: NextStep[] = [];
  for (const mate of settings.mates) {
    const [one, other] = [program.sex[suspect], program.sex[mate]];
    if (mate === suspect || (one === other && (one === MALE || one === FEMALE))) continue;
    const step = testMating(program, evidence, cases, suspect, mate, locus, settings);
    if (step) steps.push(step);
  }
  const test = (kind: NextStep['kind'], chances: readonly (readonly number[])[]): void => {
    const bits = information(cases, chances);
    if (bits > 1e-9) {
      steps.push({
        kind,
        animal: suspect,
        bits,
        bitsPerEgg: bits,
        clears95: null,
        clears99: null,
        residual: 1,
      });
    }
  };
  const looked = program.records.some(
    (record) =>
      record.kind === 'phenotype' && record.animal === suspect && record.trait === settings.trait,
  );
  if (!looked)
    test(
      'colour check',
      cases.map(({ genotype }) => lookChances(evidence, settings.trait, locus, genotype)),
    );
  if (settings.dnaError !== null) {
    const error = settings.dnaError;
    const other = error / Math.max(1, genotypes.length - 1);
    test(
      'dna test',
      cases.map(({ genotype }) => genotypes.map((_, g) => (g === genotype ? 1 - error : other))),
    );
  }
  if (settings.parentageTest) {
    const sires = [...(base.sires.get(suspect)?.animals ?? [])];
    if (sires.length > 1) {
      test(
        'parentage test',
        cases.map(({ given }) => {
          const found = given.sires.get(suspect);
          return sires.map((sire) => {
            const at = found?.animals.indexOf(sire) ?? -1;
            return at < 0 ? 0 : found!.probabilities[at];
          });
        }),
      );
    }
  }
  return steps.sort((a, b) => b.bits - a.bits || b.bitsPerEgg - a.bitsPerEgg);
}

/** One genotype of the suspect, and what all else is like then. */
interface Case {
  readonly genotype: number;
  readonly probability: number;
  readonly carries: boolean;
  readonly given: Posteriors;
}

/** Mutual information between 'carries or not' and an outcome with these chances by case, in bits. */
function information(cases: readonly Case[], chances: readonly (readonly number[])[]): number {
  const total = cases.reduce((sum, { probability }) => sum + probability, 0);
  const carrier = cases.reduce((sum, c) => sum + (c.carries ? c.probability : 0), 0) / total;
  let bits = 0;
  for (let outcome = 0; outcome < chances[0].length; outcome++) {
    let [yes, no] = [0, 0];
    for (const [i, { probability, carries }] of cases.entries()) {
      const joint = (probability / total) * chances[i][outcome];
      if (carries) yes += joint;
      else no += joint;
    }
    const all = yes + no;
    if (yes > 0) bits += yes * Math.log2(yes / (carrier * all));
    if (no > 0) bits += no * Math.log2(no / ((1 - carrier) * all));
  }
  return Math.max(0, bits);
}

function lookChances(evidence: Evidence, trait: number, locus: number, genotype: number): number[] {
  const shown = evidence.shownGiven(trait, locus, genotype);
  return [shown, 1 - shown];
}

function testMating(
  program: Program,
  evidence: Evidence,
  cases: readonly Case[],
  suspect: number,
  mate: number,
  locus: number,
  settings: StepSettings,
): NextStep | null {
  const block = evidence.blocks[evidence.blockOf(locus)];
  if (block.loci.length > 1) return null;
  // By case: the mate's genotypes with their chances, and the chance of a showing young of each.
  const rows = cases.map(({ genotype, given }) => {
    const from = mate * given.stride + given.offset[locus];
    return Array.from({ length: block.states }, (_, own) => {
      const [sire, dam] =
        program.sex[suspect] === FEMALE || program.sex[mate] === MALE
          ? [own, genotype]
          : [genotype, own];
      const { states, probabilities } = block.young(sire, dam);
      const shows = states.reduce(
        (sum, state, i) =>
          sum + probabilities[i] * evidence.shownGiven(settings.trait, locus, state),
        0,
      );
      const sexes = block.sexLinked ? 2 : 1;
      return { chance: given.genotypes[from + own], shows: shows / sexes };
    }).filter(({ chance }) => chance > 0);
  });
  const normal = (i: number, n: number): number =>
    rows[i].reduce((sum, { chance, shows }) => sum + chance * (1 - shows) ** n, 0);
  const carrierAfter = (n: number): number => {
    let [yes, all] = [0, 0];
    for (const [i, { probability, carries }] of cases.entries()) {
      const weight = probability * normal(i, n);
      all += weight;
      if (carries) yes += weight;
    }
    return all > 0 ? yes / all : 1;
  };
  const needed = (residual: number): number | null => {
    for (let n = 0; n <= MOST_YOUNG; n++) if (carrierAfter(n) <= residual) return n;
    return null;
  };
  const n = settings.youngPerYear;
  const outcomes = rows.map((row) => {
    const chances = new Array<number>(n + 1).fill(0);
    for (const { chance, shows } of row) {
      for (let k = 0; k <= n; k++) chances[k] += chance * binomial(n, k, shows);
    }
    return chances;
  });
  const bits = information(cases, outcomes);
  if (bits < 1e-9) return null;
  return {
    kind: 'test mating',
    animal: mate,
    bits,
    bitsPerEgg: n > 0 ? bits / n : 0,
    clears95: needed(0.05),
    clears99: needed(0.01),
    residual: carrierAfter(100_000),
  };
}

function binomial(n: number, k: number, p: number): number {
  let ways = 1;
  for (let i = 1; i <= k; i++) ways = (ways * (n - k + i)) / i;
  return ways * p ** k * (1 - p) ** (n - k);
}
