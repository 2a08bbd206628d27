import { type Fault, FaultsError, Fraction, nearest } from '@scutewright/basics';
import { type Genotype, listGenotypes } from './genotype.js';
import { isNearlyOne, readProbability } from './probability.js';

/** Autosomal; on the X (males XY, hemizygous); on the Z (females ZW, hemizygous). */
export type Inheritance = 'autosomal' | 'x-linked' | 'z-linked';
export type Sex = 'm' | 'f';

/** A locus as a caller writes it. */
export interface LocusInput {
  readonly id: string;
  /** At least one name; a genotype lists its alleles in this order. */
  readonly alleles: readonly string[];
  /** `autosomal` (default), `x-linked` (also `X`) or `z-linked` (also `Z`). */
  readonly inheritance?: string;
  /** Frequency of each allele in the base population, as `1/100` or 0.01; they sum to 1. */
  readonly frequencies?: Readonly<Record<string, string | number>>;
}

export interface Locus {
  readonly id: string;
  readonly alleles: readonly string[];
  readonly inheritance: Inheritance;
  /** By allele position; null when nothing is known of the base population. */
  readonly frequencies: readonly Fraction[] | null;
  /**
   * Every genotype that any animal can have here, each at a fixed position: first the pairs, `0/0, 0/1, ..,
   * 1/1, ..`, then, at a sex-linked locus, the single alleles of the hemizygous sex.
   */
  readonly genotypes: readonly Genotype[];
}

const INHERITANCE: ReadonlyMap<string, Inheritance> = new Map([
  ['autosomal', 'autosomal'],
  ['x', 'x-linked'],
  ['x-linked', 'x-linked'],
  ['z', 'z-linked'],
  ['z-linked', 'z-linked'],
]);

/** Alleles of one locus at most: beyond that the list of genotypes passes 2,000. */
export const MOST_ALLELES = 62;

/**
 * Checks loci and lists their genotypes. Throws one FaultsError with every fault: codes `DUPLICATE_LOCUS`,
 * `BAD_ALLELE`, `TOO_MANY_ALLELES`, `UNKNOWN_INHERITANCE`, `BAD_FREQUENCY`.
 */
export function readLoci(inputs: readonly LocusInput[]): ReadonlyMap<string, Locus> {
  const loci = new Map<string, Locus>();
  const faults: Fault[] = [];
  for (const input of inputs) {
    if (loci.has(input.id)) {
      faults.push({
        code: 'DUPLICATE_LOCUS',
        message: `The locus '${input.id}' is defined twice.`,
        remedy: 'Give each locus its own name.',
        ids: [input.id],
      });
    }
    loci.set(input.id, readLocus(input, faults));
  }
  if (faults.length > 0) throw new FaultsError(faults);
  return loci;
}

function readLocus(input: LocusInput, faults: Fault[]): Locus {
  const { id, alleles } = input;
  const fault = (code: string, message: string, remedy: string): void => {
    faults.push({ code, message, remedy, ids: [id] });
  };
  if (alleles.length === 0) {
    fault('BAD_ALLELE', `The locus '${id}' has no alleles.`, 'Name at least one allele.');
  }
  if (alleles.length > MOST_ALLELES) {
    fault(
      'TOO_MANY_ALLELES',
      `The locus '${id}' has ${alleles.length} alleles.`,
      `Pool the rare ones: at most ${MOST_ALLELES} are handled.`,
    );
  }
  for (const [position, allele] of alleles.entries()) {
    if (!/^[^\s/|;=]+$/.test(allele)) {
      fault(
        'BAD_ALLELE',
        `'${allele}' cannot name an allele of the locus '${id}'.`,
        'Use a name without blanks and without / | ; =.',
      );
    }
    if (alleles.indexOf(allele) !== position) {
      fault(
        'BAD_ALLELE',
        `The locus '${id}' names the allele '${allele}' twice.`,
        'Name each allele once.',
      );
    }
  }
  const inheritance = INHERITANCE.get((input.inheritance ?? 'autosomal').toLowerCase());
  if (!inheritance) {
    fault(
      'UNKNOWN_INHERITANCE',
      `The locus '${id}' has the unknown inheritance '${input.inheritance}'.`,
      'Write autosomal, x-linked or z-linked.',
    );
  }
  const known = inheritance ?? 'autosomal';
  const listed = alleles.length > MOST_ALLELES ? [] : listGenotypes(alleles, known);
  return {
    id,
    alleles,
    inheritance: known,
    frequencies: input.frequencies ? readFrequencies(input, fault) : null,
    genotypes: listed,
  };
}

function readFrequencies(
  input: LocusInput,
  fault: (code: string, message: string, remedy: string) => void,
): Fraction[] {
  const given = new Map(Object.entries(input.frequencies ?? {}));
  for (const name of given.keys()) {
    if (input.alleles.includes(name)) continue;
    const [close] = nearest(name, input.alleles, 1);
    fault(
      'BAD_FREQUENCY',
      `The locus '${input.id}' has a frequency for '${name}', which is none of its alleles.`,
      close ? `Did you mean '${close}'?` : 'Use the names of its alleles.',
    );
  }
  const values = input.alleles.map((allele) => {
    const text = given.get(allele);
    if (text === undefined) return Fraction.zero;
    const value = readProbability(text);
    if (value) return value;
    fault(
      'BAD_FREQUENCY',
      `The frequency '${text}' of '${allele}' at the locus '${input.id}' is not between 0 and 1.`,
      'Write a number such as 0.01 or 1/100.',
    );
    return Fraction.zero;
  });
  const sum = values.reduce((total, value) => total.plus(value), Fraction.zero);
  if (!isNearlyOne(sum)) {
    fault(
      'BAD_FREQUENCY',
      `The allele frequencies of the locus '${input.id}' sum to ${sum.toNumber()}.`,
      'Let them sum to 1.',
    );
  }
  return values;
}
