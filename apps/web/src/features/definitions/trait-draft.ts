import type { VariablesOf } from '../../lib/graphql.js';
import type { AddTrait, Definitions, Trait } from './definition-documents.js';
import { geneOf } from './gene-words.js';

const DAYS_OF_YEAR = 365;

/** A trait as it is typed. */
export interface TraitDraft {
  readonly name: string;
  /** By plain choices, or as the text of a rule. */
  readonly by: 'CHOICES' | 'TEXT';
  readonly geneId: string;
  readonly genotypes: readonly string[];
  /** Years from which it shows; empty: from hatching. */
  readonly fromYears: string;
  readonly sex: 'BOTH' | 'm' | 'f';
  readonly text: string;
  readonly description: string;
  /** Wrong looks in a hundred. */
  readonly misreadYoung: string;
  readonly misreadAdult: string;
  readonly welfareNote: string;
  readonly welfareSource: string;
}

export function emptyTrait(definitions: Definitions): TraitDraft {
  return {
    name: '',
    by: 'CHOICES',
    geneId: definitions.loci[0]?.id ?? '',
    genotypes: [],
    fromYears: '',
    sex: 'BOTH',
    text: '',
    description: '',
    misreadYoung: '2',
    misreadAdult: '0',
    welfareNote: '',
    welfareSource: '',
  };
}

const inHundred = (rate: number) => String(Number((rate * 100).toPrecision(6)));

export function draftOfTrait(trait: Trait, definitions: Definitions): TraitDraft {
  const { plain } = trait;
  // An age that is no number of years says more than the choices can.
  const years = plain?.fromDays ? plain.fromDays / DAYS_OF_YEAR : 0;
  const isPlain = plain !== null && Number.isInteger(years * 2);
  return {
    ...emptyTrait(definitions),
    name: trait.name,
    by: isPlain ? 'CHOICES' : 'TEXT',
    ...(isPlain && {
      geneId: plain.locusId,
      genotypes: plain.genotypes,
      fromYears: years > 0 ? String(years) : '',
      sex: plain.sex === 'm' || plain.sex === 'f' ? plain.sex : ('BOTH' as const),
    }),
    text: trait.shows,
    description: trait.description ?? '',
    misreadYoung: inHundred(trait.misreadYoung),
    misreadAdult: inHundred(trait.misreadAdult),
    welfareNote: trait.welfareNote ?? '',
    welfareSource: trait.welfareSource ?? '',
  };
}

const decimal = (text: string) => Number(text.trim().replace(',', '.'));

/** The rule as text; empty while the choices make none. */
export function rulesText(draft: TraitDraft, definitions: Definitions): string {
  if (draft.by === 'TEXT') return draft.text;
  const gene = geneOf(definitions, draft.geneId);
  if (!gene || draft.genotypes.length === 0) return '';
  const days = Math.round(decimal(draft.fromYears || '0') * DAYS_OF_YEAR);
  return [
    `"${gene.code}" = ${draft.genotypes.join(' | ')}`,
    days > 0 ? `age >= ${days}` : '',
    draft.sex === 'BOTH' ? '' : `sex = ${draft.sex}`,
  ]
    .filter(Boolean)
    .join(' and ');
}

type TraitInput = Omit<VariablesOf<typeof AddTrait>['input'], 'commandId'>;

export function traitInput(draft: TraitDraft, definitions: Definitions): TraitInput {
  return {
    name: draft.name,
    shows: rulesText(draft, definitions),
    description: draft.description || null,
    misreadYoung: decimal(draft.misreadYoung || '0') / 100,
    misreadAdult: decimal(draft.misreadAdult || '0') / 100,
    welfareNote: draft.welfareNote || null,
    welfareSource: draft.welfareSource || null,
  };
}

/** What can be seen to be wrong without asking. Ids of the controls are those of the form. */
export function traitFaults(draft: TraitDraft): { field: string; message: string }[] {
  const faults: { field: string; message: string }[] = [];
  const number = (field: string, text: string, most: number, what: string) => {
    const value = decimal(text || '0');
    if (!(value >= 0 && value <= most)) {
      faults.push({ field, message: `${what} is a number from 0 to ${most}.` });
    }
  };
  if (draft.name.trim() === '') {
    faults.push({ field: 'trait-name', message: 'Give the trait a name, such as pale.' });
  }
  if (draft.by === 'CHOICES') {
    if (draft.genotypes.length === 0) {
      faults.push({ field: 'trait-genotype-0', message: 'Tick which animals show it.' });
    }
    number('trait-years', draft.fromYears, 100, 'The age');
  }
  number('trait-young', draft.misreadYoung, 50, 'Wrong looks in 100');
  number('trait-adult', draft.misreadAdult, 50, 'Wrong looks in 100');
  return faults;
}
