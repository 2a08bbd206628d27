import type { VariablesOf } from '../../lib/graphql.js';
import type { AddGene, Gene } from './definition-documents.js';

/** A form of a gene as it is typed. `was`: its name until now, empty for a new one. */
export interface AlleleDraft {
  readonly key: string;
  readonly was: string;
  readonly name: string;
  readonly frequency: string;
}

export interface GeneDraft {
  readonly name: string;
  readonly code: string;
  readonly inheritance: Gene['inheritance'];
  /** The common one first. */
  readonly alleles: readonly AlleleDraft[];
  readonly founderRule: Gene['founderRule'];
  readonly founders: readonly { readonly id: string; readonly code: string }[];
}

export const EMPTY_GENE: GeneDraft = {
  name: '',
  code: '',
  inheritance: 'AUTOSOMAL',
  alleles: [
    { key: '0', was: '', name: 'N', frequency: '' },
    { key: '1', was: '', name: '', frequency: '' },
  ],
  founderRule: 'ANY',
  founders: [],
};

export function draftOfGene(gene: Gene): GeneDraft {
  return {
    name: gene.name,
    code: gene.code,
    inheritance: gene.inheritance,
    alleles: gene.alleles.map(({ name, frequency }, at) => ({
      key: String(at),
      was: name,
      name,
      // The common form has what the others leave.
      frequency: at === 0 ? '' : (frequency ?? ''),
    })),
    founderRule: gene.founderRule,
    founders: gene.founders.map(({ id, code }) => ({ id, code })),
  };
}

type GeneInput = Omit<VariablesOf<typeof AddGene>['input'], 'commandId'>;

export function geneInput(draft: GeneDraft): GeneInput {
  return {
    name: draft.name,
    code: draft.code,
    inheritance: draft.inheritance,
    alleles: draft.alleles.map(({ was, name, frequency }) => ({
      name,
      was: was || undefined,
      frequency: frequency.trim() || undefined,
    })),
    founderRule: draft.founderRule,
    founderIds: draft.founders.map(({ id }) => id),
  };
}
