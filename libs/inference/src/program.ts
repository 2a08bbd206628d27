import type { Locus, Trait } from '@scutewright/genetics';

/**
 * A breeding program as inference reads it: everything by position, so that it is cheap to build from a snapshot, plain to send
 * to a worker thread (structured clone), and free of names.
 */
export interface Program {
  readonly loci: readonly Locus[];
  readonly traits: readonly Trait[];
  /** Pairs of loci on one chromosome, with their recombination fraction. */
  readonly linkage: readonly Linkage[];
  readonly allelism: readonly Allelism[];
  /** By animal: 0 unknown, 1 male, 2 female. */
  readonly sex: Int8Array;
  /** By animal: its sire (dam) where the animal has no clutch; -1 not recorded. */
  readonly sire: Int32Array;
  readonly dam: Int32Array;
  /** By animal: the clutch it hatched from, -1 none; its parents then stand at the clutch alone. */
  readonly clutch: Int32Array;
  readonly clutches: readonly Clutch[];
  /** Animals that may be of one or another clutch (found in the grass, boxes dropped); their `clutch` is -1. */
  readonly finds: readonly Find[];
  readonly records: readonly ProgramRecord[];
}

export interface Linkage {
  readonly first: number;
  readonly second: number;
  readonly recombination: number;
}

/** Two look-alike lines may be one gene. */
export interface Allelism {
  readonly first: number;
  readonly second: number;
  /** Probability, before these records, that they are one gene. */
  readonly probability: number;
}

export interface Clutch {
  /** Candidate sires and their probabilities; what they lack to 1 is one unknown base male. */
  readonly sires: Int32Array;
  readonly sireWeights: Float64Array;
  /** Candidate dams; what they lack to 1 is one unknown base female, who laid the whole clutch. */
  readonly dams: Int32Array;
  readonly damWeights: Float64Array;
  readonly paternity: Paternity;
}

/**
 * `single`: one sire for the clutch. `independent`: each young draws its own. `multiple`: independent with probability `rate`, else
 * single. `two sires`: with probability `rate` exactly two different ones (a pair in proportion to the product of their probabilities),
 * each young of either with probability 1/2, else single.
 */
export interface Paternity {
  readonly kind: 'single' | 'independent' | 'multiple' | 'two sires';
  readonly rate: number;
}

export interface Find {
  readonly animals: Int32Array;
  readonly clutches: Int32Array;
  /** Probability of each clutch for each animal on its own; sums to 1. */
  readonly weights: Float64Array;
  /** How many of the animals are of each clutch, where that is known: ties them together. Sums to the animals. */
  readonly counts: Int32Array | null;
}

export type ProgramRecord =
  | {
      readonly kind: 'phenotype';
      readonly animal: number;
      readonly trait: number;
      /** Position of the class that was seen. */
      readonly seen: number;
      /** Chance that another class than the true one is noted, shared evenly among the others. */
      readonly misread: number;
      readonly ageDays: number;
    }
  | {
      readonly kind: 'dna';
      readonly animal: number;
      readonly locus: number;
      readonly genotype: number;
      readonly error: number;
      /** `uniform`: an error gives any other genotype alike. `replace`: it draws one from the base. */
      readonly model: 'uniform' | 'replace';
    }
  | {
      readonly kind: 'claim';
      readonly animal: number;
      readonly locus: number;
      readonly genotypes: readonly number[];
      readonly trust: number;
    }
  | {
      /** `likelihood`: chance of what was found given each genotype. `prior`: replaces Hardy-Weinberg of a founder. */
      readonly kind: 'likelihood' | 'prior';
      readonly animal: number;
      readonly locus: number;
      readonly weights: Float64Array;
    }
  | {
      readonly kind: 'parentage';
      readonly animal: number;
      readonly parent: number;
      readonly role: 'sire' | 'dam';
      readonly confirmed: boolean;
      readonly falseExclusion: number;
      readonly falseConfirmation: number;
    }
  | {
      /** Unnamed young of a clutch, or of a lot out of several, beside those listed as animals; dead embryos are young too. */
      readonly kind: 'count';
      readonly clutches: Int32Array;
      /** Probability of each clutch for each of the young; sums to 1. */
      readonly weights: Float64Array;
      /** What was seen on how many; young not looked at are not listed. */
      readonly groups: readonly CountGroup[];
      readonly misread: number;
      readonly ageDays: number;
    };

export interface CountGroup {
  readonly number: number;
  readonly looks: readonly { readonly trait: number; readonly seen: number }[];
}

export const UNKNOWN = 0;
export const MALE = 1;
export const FEMALE = 2;
