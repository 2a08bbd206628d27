import { FaultsError } from '@scutewright/basics';
import type { Candidates, Effort, Posteriors } from './posteriors.js';
import type { Program } from './program.js';

/** Every way in which the allelism hypotheses can be true or false, with its prior probability. */
export interface AllelismCase {
  readonly oneGene: readonly boolean[];
  readonly prior: number;
}

/** Sums by position of one case, filled while it is read. */
export interface CaseResult {
  logEvidence: number;
  genotypes: Float64Array;
  sires: Map<number, Map<number, number>>;
  dams: Map<number, Map<number, number>>;
  clutchesOf: Map<number, Map<number, number>>;
  clutchSires: Map<number, Map<string, number>>;
  clutchDams: Map<number, Map<number, number>>;
  male: Map<number, number>;
  effort: Mutable<Effort>;
}

type Mutable<Type> = { -readonly [Key in keyof Type]: Type[Key] };

/** Where each locus begins in a row of genotypes, and how long the row is. */
export function layOutGenotypes(program: Program): { stride: number; offset: Int32Array } {
  const offset = new Int32Array(program.loci.length);
  let stride = 0;
  for (const [locus, { genotypes }] of program.loci.entries()) {
    offset[locus] = stride;
    stride += genotypes.length;
  }
  return { stride, offset };
}

/** The cases' posteriors, each by its share of the probability of the records. */
export function mixCases(
  program: Program,
  cases: readonly AllelismCase[],
  found: readonly CaseResult[],
): Posteriors {
  const { shares, logEvidence } = weighCases(cases, found);
  const layout = layOutGenotypes(program);
  const genotypes = new Float64Array(program.sex.length * layout.stride);
  for (const [c, result] of found.entries()) {
    if (shares[c] === 0) continue;
    for (let i = 0; i < genotypes.length; i++) genotypes[i] += shares[c] * result.genotypes[i];
  }
  const mix = <Key>(of: (result: CaseResult) => Map<number, Map<Key, number>>) => {
    const mixed = new Map<number, Map<Key, number>>();
    for (const [c, result] of found.entries()) {
      if (shares[c] === 0) continue;
      for (const [key, map] of of(result)) {
        const sums = mixed.get(key) ?? new Map<Key, number>();
        for (const [inner, value] of map)
          sums.set(inner, (sums.get(inner) ?? 0) + shares[c] * value);
        mixed.set(key, sums);
      }
    }
    return mixed;
  };
  const candidates = (maps: Map<number, Map<number, number>>): Map<number, Candidates> =>
    new Map(
      [...maps].map(([key, map]) => [
        key,
        {
          animals: Int32Array.from(map.keys()),
          probabilities: Float64Array.from(map.values()),
        },
      ]),
    );
  const male = new Map<number, number>();
  for (const [c, result] of found.entries()) {
    for (const [animal, p] of result.male)
      male.set(animal, (male.get(animal) ?? 0) + shares[c] * p);
  }
  return {
    possible: logEvidence > Number.NEGATIVE_INFINITY,
    logEvidence,
    ...layout,
    genotypes,
    sires: candidates(mix((result) => result.sires)),
    dams: candidates(mix((result) => result.dams)),
    clutchesOf: candidates(mix((result) => result.clutchesOf)),
    clutchSires: new Map(
      [...mix((result) => result.clutchSires)].map(([clutch, map]) => [
        clutch,
        [...map].map(([key, probability]) => ({
          sires: Int32Array.from(key.split(','), Number),
          probability,
        })),
      ]),
    ),
    clutchDams: candidates(mix((result) => result.clutchDams)),
    oneGene: Float64Array.from(program.allelism, (_, h) =>
      cases.reduce((sum, { oneGene }, c) => sum + (oneGene[h] ? shares[c] : 0), 0),
    ),
    male,
    effort: joinEfforts(found.map((result) => result.effort)),
  };
}

/**
 * Each case's share of the probability of the records, all 0 where that is 0; and the logarithm of the whole. Throws a FaultsError
 * (`TOO_LARGE`) for several cases that were sampled: sampling does not find that probability.
 */
export function weighCases(
  cases: readonly AllelismCase[],
  found: readonly { readonly logEvidence: number; readonly effort: Effort }[],
): { shares: number[]; logEvidence: number } {
  const sampled = found.some(({ effort }) => effort.method === 'sampled');
  if (sampled && cases.length > 1) throw new FaultsError([UNWEIGHED]);
  const logs = found.map(({ logEvidence }, i) => logEvidence + Math.log(cases[i].prior));
  const largest = Math.max(...logs);
  if (largest === Number.NEGATIVE_INFINITY) {
    return { shares: logs.map(() => 0), logEvidence: largest };
  }
  const weights = logs.map((log) => Math.exp(log - largest));
  const total = weights.reduce((a, b) => a + b, 0);
  return {
    shares: weights.map((weight) => weight / total),
    logEvidence: largest + Math.log(total),
  };
}

const UNWEIGHED = {
  code: 'TOO_LARGE',
  message:
    'This program is so entangled that it can only be sampled, and sampling cannot tell whether two lines are one gene.',
  remedy:
    'Say for each pair of lines whether they are one gene (probability 0 or 1), or which founders cannot carry the allele.',
  ids: [],
};

/** Of several cases, the least exact. */
export function joinEfforts(efforts: readonly Effort[]): Effort {
  const most = (of: (effort: Effort) => number): number => Math.max(...efforts.map(of));
  const methods = ['sampled', 'states deleted', 'exact'] as const;
  return {
    method: methods.find((method) => efforts.some((effort) => effort.method === method))!,
    deletedMass: most((effort) => effort.deletedMass),
    monteCarloError: most((effort) => effort.monteCarloError),
    roughAnimals: most((effort) => effort.roughAnimals),
    width: most((effort) => effort.width),
    entries: most((effort) => effort.entries),
    runs: efforts.reduce((sum, effort) => sum + effort.runs, 0),
  };
}
