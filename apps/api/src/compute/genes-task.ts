import {
  genotypePosteriors,
  jointGenotypes,
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
  /** By pair of look-alike lines: probability that they are one gene. */
  readonly oneGene: Readonly<Record<string, number>>;
  /** How exact the answer is, in words. */
  readonly precision: string;
}

/** Table entries allowed as a power of two: a worker has more time than a page. */
export const SETTINGS = { budgetBits: 25, seed: 1, jointSires: false };

/** Who carries what, and whose young it is. Clashing records are set aside, said so, and the rest is answered. */
export function genesTask(input: ProgramInput): GenesAnswer {
  const found = genotypePosteriors(input, SETTINGS);
  const { method, deletedMass, monteCarloError } = found.effort;
  const precision =
    method === 'exact'
      ? 'exact'
      : method === 'sampled'
        ? `approximate: sampled, standard error up to ${monteCarloError.toPrecision(2)}`
        : `approximate: states that only a misread explains were left out, together ${deletedMass.toPrecision(2)}`;
  return {
    isPossible: found.possible,
    genotypes: found.genotypes,
    sires: found.sires,
    clashes: found.clashes,
    clashesComplete: found.clashesComplete,
    oneGene: found.oneGene,
    precision,
  };
}

export interface JointInput {
  readonly program: ProgramInput;
  /** Records set aside, by id: they contradict each other. */
  readonly doubtful: readonly string[];
  /** Positions of the two. */
  readonly sire: number;
  readonly dam: number;
}

export interface JointAnswer {
  /** By locus: the pairs of genotypes that the two may have together, and how likely each is. */
  readonly byLocus: Readonly<
    Record<
      string,
      readonly { readonly sire: string; readonly dam: string; readonly probability: number }[]
    >
  >;
  readonly isExact: boolean;
  /** False where the records cannot all be true even so; then `byLocus` says nothing. */
  readonly isPossible: boolean;
}

/**
 * The joint distribution of two parents' genotypes at each locus: parents that are related or
 * share evidence are not independent.
 */
export function jointParentsTask({ program: input, doubtful, sire, dam }: JointInput): JointAnswer {
  const { program, records } = readProgram(input);
  const aside = new Set(doubtful);
  const without = Uint8Array.from(records, (id) => Number(aside.has(id)));
  const { possible, pairs, effort } = jointGenotypes(program, sire, dam, { ...SETTINGS, without });
  if (!possible) return { byLocus: {}, isExact: true, isPossible: false };
  const byLocus = program.loci.map(({ id, genotypes }, locus) => {
    const rows = [...pairs[locus]].map((probability, at) => ({
      sire: genotypes[Math.floor(at / genotypes.length)].text,
      dam: genotypes[at % genotypes.length].text,
      probability,
    }));
    return [id, rows.filter(({ probability }) => probability > 0)] as const;
  });
  return {
    byLocus: Object.fromEntries(byLocus),
    isExact: effort.method === 'exact',
    isPossible: true,
  };
}
