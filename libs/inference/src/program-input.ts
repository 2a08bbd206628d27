import type { LocusInput, TraitInput } from '@scutewright/genetics';

/** A probability as text that keeps it exact (`2/3`, `0.01`) or as a number. */
export type Chance = string | number;

/** A breeding program in names: what `genotypePosteriors` takes. */
export interface ProgramInput {
  /** With base frequencies; `frequencies` may be left out where every founder has a prior. */
  readonly loci: readonly LocusInput[];
  readonly linkage?: readonly { readonly loci: readonly [string, string]; readonly r: Chance }[];
  readonly traits?: readonly ScoredTrait[];
  readonly animals: readonly AnimalInput[];
  readonly clutches?: readonly ClutchInput[];
  readonly finds?: readonly FindInput[];
  readonly evidence?: readonly EvidenceInput[];
  /** 'These two look-alike lines are one gene', with its probability before the records. */
  readonly allelism?: readonly AllelismInput[];
}

export interface ScoredTrait extends TraitInput {
  /** Rate for records that give none: one, or by age. Absent: 0. */
  readonly misread?:
    | Chance
    | { readonly young: Chance; readonly adult: Chance; readonly adultFromDays: number };
}

export interface AnimalInput {
  readonly id: string;
  readonly sex?: 'm' | 'f' | null;
  /** Certain parents of an animal without a clutch; null, '' or absent: its own unknown animal of the base. */
  readonly sire?: string | null;
  readonly dam?: string | null;
  readonly clutch?: string | null;
}

export interface CandidateInput {
  readonly id: string;
  readonly probability: Chance;
}

export interface ClutchInput {
  readonly id: string;
  readonly dam?: string | null;
  readonly dams?: readonly CandidateInput[];
  readonly sire?: string | null;
  readonly sires?: readonly CandidateInput[];
  /** Default `single`. */
  readonly paternity?:
    | 'single'
    | 'independent'
    | { readonly multiple: Chance }
    | { readonly twoSires: Chance };
}

/** Animals that may be of several clutches: by probability, or by how many are of each, which ties them. */
export interface FindInput {
  readonly animals: readonly string[];
  readonly clutches: readonly (CandidateInput | { readonly id: string; readonly count: number })[];
}

export interface AllelismInput {
  readonly id?: string;
  readonly loci: readonly [string, string];
  readonly probability: Chance;
}

interface Recorded {
  readonly id?: string;
}

export type EvidenceInput = Recorded &
  (
    | {
        readonly kind: 'phenotype';
        readonly animal: string;
        readonly trait: string;
        /** Shown or not, or the name of the class seen. */
        readonly seen: boolean | string;
        readonly misread?: Chance;
        readonly ageDays?: number;
      }
    | {
        readonly kind: 'dna';
        readonly animal: string;
        readonly locus: string;
        readonly genotype: string;
        readonly error?: Chance;
        readonly model?: 'uniform' | 'replace';
      }
    | {
        readonly kind: 'claim';
        readonly animal: string;
        readonly locus: string;
        readonly genotypes: readonly string[];
        readonly trust: Chance;
      }
    | {
        readonly kind: 'likelihood' | 'prior';
        readonly animal: string;
        readonly locus: string;
        readonly genotypes: Readonly<Record<string, Chance>>;
      }
    | {
        readonly kind: 'parentage';
        readonly animal: string;
        readonly sire?: string;
        readonly dam?: string;
        readonly result: string | boolean;
        readonly false_exclusion?: Chance;
        readonly false_confirmation?: Chance;
      }
    | CountInput
  );

/**
 * Unnamed young beside those listed as animals. Short form: of one trait, `seen` showed it and `notSeen` did not. Long form:
 * `groups`. Young not looked at are left out, or told by `notLookedAt`, which changes nothing.
 * A genotype that kills in the egg is a trait like any other ('dies in the egg'): seen on dead embryos, not seen on those that
 * hatched nor on any living animal; `misread` then is the share of eggs noted wrongly, those dead of another cause among them.
 */
export interface CountInput {
  readonly kind: 'count';
  readonly clutch?: string;
  /** A lot out of several clutches, with the chance of each for any one of its young. */
  readonly clutches?: readonly CandidateInput[];
  readonly trait?: string;
  readonly seen?: number;
  readonly notSeen?: number;
  readonly notLookedAt?: number;
  readonly groups?: readonly {
    readonly number: number;
    readonly looks: Readonly<Record<string, boolean | string>>;
  }[];
  readonly misread?: Chance;
  readonly ageDays?: number;
}
