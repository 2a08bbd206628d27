import type { Definitions, Gene } from './definition-documents.js';

export const INHERITANCE_WORDS: Record<Gene['inheritance'], string> = {
  AUTOSOMAL: 'one from each parent, alike in both sexes',
  X_LINKED: 'on the X: a male has one copy, from its mother',
  Z_LINKED: 'on the Z: a female has one copy, from her father',
};

/** `Two copies of p`, `One copy of p`, `One N, one p`, for a genotype such as `N/p`. */
export function genotypeWords(genotype: string, common: string): string {
  const alleles = genotype.split('/');
  const rare = alleles.filter((allele) => allele !== common);
  if (rare.length === 0) return `No copy but ${common}`;
  if (alleles.length === 1) return `Its only copy is ${rare[0]}`;
  if (rare.length === 1) return `One copy of ${rare[0]}`;
  return rare[0] === rare[1] ? `Two copies of ${rare[0]}` : `One ${rare[0]} and one ${rare[1]}`;
}

/** How common the rarer forms are among founders, in words. */
export function frequencyWords(gene: Gene, assumed: number): string {
  const [, ...rarer] = gene.alleles;
  if (rarer.every(({ frequency }) => frequency === null)) {
    return `nobody said; 1 in ${Math.round(1 / assumed)} copies is assumed`;
  }
  return rarer
    .map(({ name, frequency }) =>
      frequency === '0'
        ? `${name}: no founder carries it unseen`
        : `${name}: ${frequency} of the copies`,
    )
    .join('; ');
}

export function founderWords({ founderRule, founders }: Gene): string {
  const codes = founders.map(({ code }) => code).join(', ');
  if (founderRule === 'ANY') return 'any may carry it';
  if (founderRule === 'ONLY')
    return founders.length === 0 ? 'none may carry it' : `only ${codes} may carry it`;
  return founders.length === 0 ? 'any may carry it' : `all but ${codes} may carry it`;
}

/** A share of 0.02 as `1 in 50`; 0 as `never`. */
export function misreadWords(rate: number): string {
  if (rate === 0) return 'never';
  const of = 1 / rate;
  return Math.abs(of - Math.round(of)) < 1e-9
    ? `1 in ${Math.round(of)}`
    : `${Number((rate * 100).toPrecision(4))} in 100`;
}

export const geneOf = (definitions: Definitions, id: string): Gene | undefined =>
  definitions.loci.find((gene) => gene.id === id);
