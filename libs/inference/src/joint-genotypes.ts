import { invariant } from '@scutewright/basics';
import { CaseOfPairs, type GenotypesTogether } from './case-of-pairs.js';
import { allelismCases, type InferenceSettings } from './infer-program.js';
import { type AllelismCase, joinEfforts, weighCases } from './mix-cases.js';
import type { Effort } from './posteriors.js';
import type { Program } from './program.js';

export interface JointGenotypes {
  /** False when the records cannot all be true; then all else is 0 or empty. */
  readonly possible: boolean;
  /**
   * By locus: `pairs[locus][g * n + h]`, n genotypes at the locus in the order of `Locus.genotypes`: probability that the first animal has
   * genotype g and the second genotype h. Sums to 1.
   */
  readonly pairs: readonly Float64Array[];
  /** By group of loci asked for: each combination that is possible, once; null where that did not fit beside the rest. */
  readonly together: readonly (readonly GenotypesTogether[])[] | null;
  readonly effort: Effort;
}

/**
 * The joint posterior of two animals' genotypes at each locus, from all records: a pair that is related or shares evidence is
 * not independent; and over each of `groups` at once: what was seen of a trait of several genes ties them, whether linked or not.
 * Cost: one run over all loci; exact where that fits, else approximate, as `effort` says.
 */
export function jointGenotypes(
  program: Program,
  first: number,
  second: number,
  settings: InferenceSettings = {},
  groups: readonly (readonly number[])[] = [],
): JointGenotypes {
  return new PairGenotypes(program, [first, second], settings).of(first, second, groups);
}

/** The joint posteriors of any two of some animals, from one run over all loci that is kept: up to 8 bytes for each of its table entries. */
export class PairGenotypes {
  private readonly cases: readonly AllelismCase[];
  private readonly runs: readonly CaseOfPairs[];

  constructor(
    private readonly program: Program,
    private readonly animals: readonly number[],
    settings: InferenceSettings = {},
  ) {
    this.cases = allelismCases(program);
    this.runs = this.cases.map(
      ({ oneGene }) => new CaseOfPairs(program, oneGene, animals, settings),
    );
  }

  /** The run fits: every answer is exact. Otherwise each answer costs a run of its own. */
  get isExact(): boolean {
    return this.runs.every(({ isExact }) => isExact);
  }

  /** As `jointGenotypes`, of two of the animals. Cost: the tables between the two, for every genotype of the one. */
  of(first: number, second: number, groups: readonly (readonly number[])[] = []): JointGenotypes {
    const { program, animals, cases } = this;
    invariant(first !== second, 'a pair is two animals');
    invariant(animals.includes(first) && animals.includes(second), 'a pair is of the animals');
    const found = this.runs.map((run) => run.of([first, second], groups));
    const { shares, logEvidence } = weighCases(cases, found);
    return {
      possible: logEvidence > Number.NEGATIVE_INFINITY,
      pairs: program.loci.map(({ genotypes }, locus) => {
        const mixed = new Float64Array(genotypes.length ** 2);
        for (const [c, { pairs }] of found.entries()) {
          if (shares[c] === 0) continue;
          for (let i = 0; i < mixed.length; i++) mixed[i] += shares[c] * pairs[locus][i];
        }
        return mixed;
      }),
      together: found.every(({ together }) => together)
        ? groups.map((_, k) =>
            mixRows(
              found.map(({ together }) => together?.[k] ?? []),
              shares,
            ),
          )
        : null,
      effort: joinEfforts(found.map((result) => result.effort)),
    };
  }
}

/** The same combinations of every case added up, each by its share. */
function mixRows(
  byCase: readonly (readonly GenotypesTogether[])[],
  shares: readonly number[],
): GenotypesTogether[] {
  const rows = new Map<string, GenotypesTogether>();
  for (const [c, own] of byCase.entries()) {
    for (const row of own) {
      const key = `${row.first} ${row.second}`;
      const probability = (rows.get(key)?.probability ?? 0) + shares[c] * row.probability;
      if (probability > 0) rows.set(key, { ...row, probability });
    }
  }
  return [...rows.values()];
}
