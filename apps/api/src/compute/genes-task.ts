import {
  clashingRecords,
  genotypePosteriors,
  type ProgramInput,
  readProgram,
} from '@scutewright/inference';

export interface GenesAnswer {
  /** False where the records cannot all be true; then `clashes` says which, and the rest is answered without them. */
  readonly isPossible: boolean;
  /** By animal position, locus and genotype: probability; what is impossible is left out. */
  readonly genotypes: Readonly<
    Record<string, Readonly<Record<string, Readonly<Record<string, number>>>>>
  >;
  /** By young whose father is open: candidate position (`unknown`) and probability. */
  readonly sires: Readonly<Record<string, Readonly<Record<string, number>>>>;
  /** Ids of records that cannot all be true: the smallest sets. */
  readonly clashes: readonly (readonly string[])[];
  readonly clashesComplete: boolean;
  /** How exact the answer is, in words. */
  readonly precision: string;
}

/** Table entries allowed as a power of two: a worker has more time than a page. */
const SETTINGS = { budgetBits: 25, seed: 1, jointSires: false };

/** Who carries what, and whose young it is. Clashing records are set aside, said so, and the rest is answered. */
export function genesTask(input: ProgramInput): GenesAnswer {
  let found = genotypePosteriors(input, SETTINGS);
  const isPossible = found.possible;
  let clashes: string[][] = [];
  let clashesComplete = true;
  if (!isPossible) {
    const named = readProgram(input);
    const { sets, complete } = clashingRecords(named.program);
    clashes = sets.map((set) => set.map((record) => named.records[record]));
    clashesComplete = complete;
    const doubtful = new Set(clashes.flat());
    const evidence = (input.evidence ?? []).filter(({ id }) => !doubtful.has(id ?? ''));
    found = genotypePosteriors({ ...input, evidence }, SETTINGS);
  }
  const { method, deletedMass, monteCarloError } = found.effort;
  const precision =
    method === 'exact'
      ? 'exact'
      : method === 'sampled'
        ? `approximate: sampled, standard error up to ${monteCarloError.toPrecision(2)}`
        : `approximate: states that only a misread explains were left out, together ${deletedMass.toPrecision(2)}`;
  return {
    isPossible,
    genotypes: found.genotypes,
    sires: found.sires,
    clashes,
    clashesComplete,
    precision,
  };
}

export interface JointInput {
  readonly program: ProgramInput;
  /** Positions as text. */
  readonly sire: string;
  readonly dam: string;
  /** What `genesTask` answered for the same program. */
  readonly genes: Pick<GenesAnswer, 'genotypes' | 'precision'>;
}

export interface JointAnswer {
  /** By locus: the pairs of genotypes that the two may have together, and how likely each is. */
  readonly byLocus: Readonly<
    Record<
      string,
      readonly { readonly sire: string; readonly dam: string; readonly probability: number }[]
    >
  >;
  /** False: the two were taken as independent of each other, because their joint odds were out of reach. */
  readonly isJoint: boolean;
}

/**
 * The joint distribution of two parents' genotypes at each locus: parents that are related or
 * share evidence are not independent. By fixing each genotype of one of the two in turn.
 */
export function jointParentsTask({ program, sire, dam, genes }: JointInput): JointAnswer {
  const isJoint = genes.precision === 'exact';
  const byLocus = Object.fromEntries(
    program.loci.map(({ id: locus }) => {
      const ofSire = genes.genotypes[sire][locus];
      const ofDam = genes.genotypes[dam][locus];
      // Each genotype that is fixed costs one run: fix the parent with fewer.
      const fixesSire = Object.keys(ofSire).length < Object.keys(ofDam).length;
      const [fixed, other] = fixesSire ? [ofSire, ofDam] : [ofDam, ofSire];
      const [fixedId, otherId] = fixesSire ? [sire, dam] : [dam, sire];
      const rows = Object.entries(fixed).flatMap(([genotype, probability]) => {
        const isOpen = isJoint && probability < 1 && Object.keys(other).length > 1;
        const given = isOpen
          ? genotypesGiven(program, otherId, { animal: fixedId, locus, genotype })
          : other;
        return Object.entries(given).map(([free, chance]) => ({
          sire: fixesSire ? genotype : free,
          dam: fixesSire ? free : genotype,
          probability: chance * probability,
        }));
      });
      return [locus, rows];
    }),
  );
  return { byLocus, isJoint };
}

/** Genotype odds of an animal at a locus, were another's genotype there known. */
function genotypesGiven(
  program: ProgramInput,
  animal: string,
  fixed: { animal: string; locus: string; genotype: string },
): Readonly<Record<string, number>> {
  const known = {
    kind: 'likelihood' as const,
    animal: fixed.animal,
    locus: fixed.locus,
    genotypes: { [fixed.genotype]: 1 },
  };
  const evidence = [...(program.evidence ?? []), known];
  return genotypePosteriors({ ...program, evidence }, SETTINGS).genotypes[animal][fixed.locus];
}
