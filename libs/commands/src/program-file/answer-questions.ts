import type { ImportQuestion } from './ask-definitions.js';
import { fullGenotypes, type TraitProposal } from './guess-inheritance.js';
import type { FileRow } from './program-row.js';

/** What is to be done with a name that the file has and the program does not know. */
export interface ImportAnswer {
  readonly kind: 'TRAIT' | 'LOCUS' | 'PEN' | 'SPECIES';
  readonly name: string;
  /** Make it as proposed, take it for one that is there, or leave it out of the file. */
  readonly act: 'MAKE' | 'USE' | 'LEAVE_OUT';
  /** The one that is there, for `USE`. */
  readonly use?: string | undefined;
  /** Of a trait that is made: whether two copies show it or one does; the proposal's where it is left out. */
  readonly mode?: 'RECESSIVE' | 'DOMINANT' | undefined;
}

/**
 * The rows as they are once names are taken for others or left out. A trait left out leaves the others of its animal;
 * an animal that had no other counts as not looked at. What is made stays as the file has it. Cost: linear.
 */
export function answerRows(
  rows: readonly FileRow[],
  answers: readonly ImportAnswer[],
): readonly FileRow[] {
  const changes = answers.filter(({ act }) => act !== 'MAKE');
  if (changes.length === 0) return rows;
  const of = (kind: ImportAnswer['kind']) => {
    const named = new Map(
      changes
        .filter((answer) => answer.kind === kind)
        .map(({ name, act, use }) => [name, act === 'USE' ? (use ?? null) : null]),
    );
    // Null: left out.
    return (name: string): string | null => (named.has(name) ? (named.get(name) ?? null) : name);
  };
  const [trait, locus, pen, species] = [of('TRAIT'), of('LOCUS'), of('PEN'), of('SPECIES')];
  return rows.map((row) => ({
    ...row,
    ...answerTraits(row, trait),
    genotype: row.genotype.flatMap((declared) => {
      const name = locus(declared.locus);
      return name === null ? [] : [{ ...declared, locus: name }];
    }),
    pen: row.pen && pen(row.pen),
    species: row.species && species(row.species),
  }));
}

function answerTraits(
  { traits, absent }: FileRow,
  answer: (name: string) => string | null,
): Pick<FileRow, 'traits' | 'absent'> {
  if (traits === null) return { traits, absent };
  const left = (names: readonly string[]) => [
    ...new Set(names.flatMap((name) => answer(name) ?? [])),
  ];
  const look = { traits: left(traits), absent: left(absent) };
  const [before, after] = [traits.length + absent.length, look.traits.length + look.absent.length];
  // With nothing left it would read as 'none'.
  return before > 0 && after === 0 ? { traits: null, absent: [] } : look;
}

/** A question with the proposal that its answer asks for. */
export function answerQuestion(
  question: ImportQuestion,
  answers: readonly ImportAnswer[],
): ImportQuestion {
  if (question.kind !== 'TRAIT') return question;
  const mode = answers.find(
    ({ kind, name, act }) => kind === 'TRAIT' && name === question.name && act === 'MAKE',
  )?.mode;
  return mode ? { ...question, proposal: inMode(question.proposal, mode) } : question;
}

/** The proposal as the owner of the file says that it is inherited. */
function inMode(proposal: TraitProposal, mode: 'RECESSIVE' | 'DOMINANT'): TraitProposal {
  const { locus, rule } = proposal;
  if (proposal.mode === mode || !('locus' in rule)) return proposal;
  const [common] = locus.alleles;
  const shown = rule.genotypes.flatMap((genotype) => genotype.split('/'));
  const mutant = shown.find((allele) => allele !== common) ?? common;
  const both = fullGenotypes(locus, mutant);
  const genotypes = mode === 'RECESSIVE' ? both : [`${common}/${mutant}`, ...both];
  return {
    ...proposal,
    mode,
    rule: { locus: locus.id, genotypes },
    basis: '',
  };
}
