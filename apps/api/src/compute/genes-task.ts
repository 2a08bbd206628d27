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

/** What two parents may be together at some loci, and how likely: genotypes by locus, at linked loci with what lies on one chromosome on one side. */
export interface ParentRow {
  readonly sire: Readonly<Record<string, string>>;
  readonly dam: Readonly<Record<string, string>>;
  readonly probability: number;
}

export interface JointAnswer {
  /** By trait: rows over the loci of its rule; several lists, each over loci of its own, where all at once did not fit. */
  readonly byTrait: Readonly<Record<string, readonly (readonly ParentRow[])[]>>;
  /** Traits of several genes that are given gene by gene, as if one told nothing of the other: approximate. */
  readonly apart: readonly string[];
  readonly isExact: boolean;
  /** False where the records cannot all be true even so; then `byTrait` says nothing. */
  readonly isPossible: boolean;
}

/**
 * The joint distribution of two parents' genotypes at the loci of each trait: parents that are related or
 * share evidence are not independent, nor are genes that one look speaks of.
 */
export function jointParentsTask({ program: input, doubtful, sire, dam }: JointInput): JointAnswer {
  const { program, records } = readProgram(input);
  const aside = new Set(doubtful);
  const without = Uint8Array.from(records, (id) => Number(aside.has(id)));
  const lociOf = program.traits.map(({ loci }) =>
    loci.map((id) => program.loci.findIndex((locus) => locus.id === id)),
  );
  const groups = lociOf.filter((loci) => loci.length > 1);
  const settings = { ...SETTINGS, without };
  const joint = jointGenotypes(program, sire, dam, settings, groups);
  const { possible, pairs, together, effort } = joint;
  if (!possible) return { byTrait: {}, apart: [], isExact: true, isPossible: false };
  const byLocus = program.loci.map(({ id, genotypes }, locus) =>
    [...pairs[locus]].flatMap((probability, at) => {
      const of = (genotype: number) => ({ [id]: genotypes[genotype].text });
      const [g, h] = [Math.floor(at / genotypes.length), at % genotypes.length];
      return probability > 0 ? [{ sire: of(g), dam: of(h), probability }] : [];
    }),
  );
  const apart: string[] = [];
  const byTrait = program.traits.map(({ id, loci }, t) => {
    const group = together?.[groups.indexOf(lociOf[t])];
    if (!group) {
      if (loci.length > 1) apart.push(id);
      return [id, lociOf[t].map((locus) => byLocus[locus])] as const;
    }
    const named = (genotypes: readonly string[]) =>
      Object.fromEntries(genotypes.map((genotype, k) => [loci[k], genotype]));
    const rows = group.map(({ first, second, probability }) => ({
      sire: named(first),
      dam: named(second),
      probability,
    }));
    return [id, [rows]] as const;
  });
  return {
    byTrait: Object.fromEntries(byTrait),
    apart,
    isExact: effort.method === 'exact',
    isPossible: true,
  };
}
