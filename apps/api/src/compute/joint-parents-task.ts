import {
  type InferenceSettings,
  jointGenotypes,
  type NamedProgram,
  PairGenotypes,
  type ProgramInput,
  readProgram,
} from '@scutewright/inference';
import { SETTINGS } from './genes-task.js';

export interface JointInput {
  /** Of this process; another program, or another state of it, has another. */
  readonly key: string;
  readonly program: ProgramInput;
  /** Records set aside, by id: they contradict each other. */
  readonly doubtful: readonly string[];
  /** Positions of animals that may be asked about next: one run serves any two of them. */
  readonly breeders: readonly number[];
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

/** A run is kept up to this many table entries, as a power of two: 134 MB. */
const KEPT_BITS = 24;

interface Books extends NamedProgram {
  readonly settings: InferenceSettings;
  readonly breeders: ReadonlySet<number>;
  readonly pairs: PairGenotypes;
}

/** Those of the last call: whoever asks for one pair asks for others next. */
let last: { readonly key: string; readonly books: Books } | null = null;

function booksOf({ key, program: input, doubtful, breeders }: JointInput): Books {
  if (last?.key === key) return last.books;
  last = null;
  const named = readProgram(input);
  const aside = new Set(doubtful);
  const without = Uint8Array.from(named.records, (id) => Number(aside.has(id)));
  const settings = { ...SETTINGS, without };
  const kept = { ...settings, budgetBits: KEPT_BITS };
  const pairs = new PairGenotypes(named.program, breeders, kept);
  const books = { ...named, settings, breeders: new Set(breeders), pairs };
  last = { key, books };
  return books;
}

/**
 * The joint distribution of two parents' genotypes at the loci of each trait: parents that are related or
 * share evidence are not independent, nor are genes that one look speaks of.
 */
export function jointParentsTask(input: JointInput): JointAnswer {
  const { sire, dam } = input;
  const { program, settings, breeders, pairs: kept } = booksOf(input);
  const lociOf = program.traits.map(({ loci }) =>
    loci.map((id) => program.loci.findIndex((locus) => locus.id === id)),
  );
  const groups = lociOf.filter((loci) => loci.length > 1);
  const joint =
    kept.isExact && breeders.has(sire) && breeders.has(dam)
      ? kept.of(sire, dam, groups)
      : jointGenotypes(program, sire, dam, settings, groups);
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
