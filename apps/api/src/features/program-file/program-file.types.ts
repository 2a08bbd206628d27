import { Field, ID, Int, ObjectType } from '@nestjs/graphql';
import type { ProgramFileAnswer } from '../../compute/program-file-task.js';
import { Program } from '../programs/program.types.js';
import type { ImportOutcome } from './import-program.js';

@ObjectType({ description: 'One thing in the file that its owner should know of' })
export class FileFault {
  @Field(() => String, { description: 'Stable word for programs, e.g. UNKNOWN_PARENT' })
  code: string;
  @Field(() => Boolean, { description: 'Must be mended before anything is written' })
  isFatal: boolean;
  @Field(() => Int, { description: 'Line of the file, from 1; 0 for the whole file' }) line: number;
  @Field(() => String, { description: 'Heading of the column; empty where no single one is meant' })
  column: string;
  @Field(() => String, { description: 'What stands there' }) value: string;
  @Field(() => String) message: string;
  @Field(() => String) remedy: string;
  @Field(() => [String], { description: 'What may have been meant in place of the value' })
  nearest: readonly string[];
}

@ObjectType({ description: 'How one column is read' })
export class MappedColumn {
  @Field(() => String, { description: 'As it stands in the file' }) heading: string;
  @Field(() => String, { nullable: true, description: 'Null: left out' }) field: string | null;
  @Field(() => String, { nullable: true }) unit: string | null;
  @Field(() => String, { description: 'The first that stands there; empty where nothing does' })
  example: string;
}

@ObjectType({ description: 'Words that stand for a sex, or for no trait; in lower case' })
export class SpecialWords {
  @Field(() => [String]) female: readonly string[];
  @Field(() => [String]) male: readonly string[];
  @Field(() => [String]) unknown: readonly string[];
  @Field(() => [String], { description: 'Looked at, shows none' }) none: readonly string[];
}

@ObjectType({ description: 'How the file is read: proposed, for people to look at and change' })
export class ColumnMap {
  @Field(() => String, { description: 'HEADINGS or SIX_COLUMNS' }) format: string;
  @Field(() => String) encoding: string;
  @Field(() => String) separator: string;
  @Field(() => String) dateOrder: string;
  @Field(() => String) decimalSign: string;
  @Field(() => Int, {
    nullable: true,
    description: 'First of the hundred years that years of two digits are of; null: four digits',
  })
  twoDigitYearsFrom: number | null;
  @Field(() => SpecialWords) words: SpecialWords;
  @Field(() => Boolean, { description: 'An apostrophe before = + - @ is taken off' })
  isGuarded: boolean;
  @Field(() => String, {
    nullable: true,
    description: 'Six columns only: the trait that phenotype 2 stands for; null: left out',
  })
  affectedTrait: string | null;
  @Field(() => [MappedColumn]) columns: MappedColumn[];
}

@ObjectType({ description: 'Something the file names and the program does not know' })
export class ImportQuestion {
  @Field(() => String, { description: 'TRAIT, LOCUS, PEN, SPECIES or NO_SPECIES' }) kind: string;
  @Field(() => String) name: string;
  @Field(() => Int, { description: 'Animals of the file concerned' }) animals: number;
  @Field(() => Int) firstLine: number;
  @Field(() => [String], { description: 'Known names it may be a slip for' }) nearest: string[];
  @Field(() => String, { description: 'How it would be made, in words' }) proposal: string;
  @Field(() => String, {
    nullable: true,
    description: 'RECESSIVE or DOMINANT of a trait for which either can be chosen; else null',
  })
  mode: string | null;
}

@ObjectType({ description: 'Names that the program has' })
export class KnownNames {
  @Field(() => [String]) traits: readonly string[];
  @Field(() => [String], { description: 'Codes of genes' }) loci: readonly string[];
  @Field(() => [String]) pens: readonly string[];
  @Field(() => [String]) species: readonly string[];
}

@ObjectType({ description: 'One field of an animal that the file would change' })
export class ImportedChange {
  @Field(() => String) code: string;
  @Field(() => String) field: string;
  @Field(() => String, { description: 'Empty where nothing was recorded' }) before: string;
  @Field(() => String) after: string;
}

@ObjectType({ description: 'What a program file says, would do, or has done' })
export class ImportPayload {
  @Field(() => Int) rows: number;
  @Field(() => ColumnMap) map: ColumnMap;
  @Field(() => [String], { description: 'What was guessed of how to read it, a sentence each' })
  guesses: string[];
  @Field(() => [FileFault], { description: 'By line; at most 1,000 of a kind' })
  faults: FileFault[];
  @Field(() => Int, { description: 'All faults, also those not listed' }) faultCount: number;
  @Field(() => Boolean, { description: 'A fault stands in the way of writing' }) isBlocked: boolean;
  @Field(() => [ImportQuestion], { description: 'What would be made, as proposed or as answered' })
  questions: ImportQuestion[];
  @Field(() => [ImportQuestion], { description: 'What the answers settle otherwise' })
  answered: ImportQuestion[];
  @Field(() => KnownNames, { description: 'What the program has: for answers that use it' })
  known: KnownNames;
  @Field(() => Int, {
    description: 'Cells that look guarded against being run as formulas, as isGuarded would undo',
  })
  guardedCells: number;
  @Field(() => Int, { description: 'Animals that are new' }) created: number;
  @Field(() => Int, { description: 'Animals in which something changes' }) changed: number;
  @Field(() => Int, { description: 'Animals in which nothing changes' }) leftAlone: number;
  @Field(() => [String], { description: 'Codes of the new animals, the first 100' })
  createdCodes: string[];
  @Field(() => [ImportedChange], { description: 'The first 200' }) changes: ImportedChange[];
  @Field(() => ID, {
    nullable: true,
    description: 'Give it to undo; null where nothing was written',
  })
  commandId: string | null;
  @Field(() => Program) program: Program;
}

type Question = ProgramFileAnswer['questions'][number];

/** What an import answers, as plain data that can wait in a job's row; the program is read anew when asked for. */
export type ImportResult = Omit<ImportPayload, 'program'>;

export function resultOf({ file, commandId, written }: ImportOutcome): ImportResult {
  const { plan } = file;
  return {
    rows: file.rowCount,
    map: {
      ...file.map,
      columns: file.map.columns.map((column, at) => ({
        ...column,
        example: file.examples[at] ?? '',
      })),
    },
    guesses: [...file.guesses],
    faults: file.faults.map((fault) => ({ nearest: [], ...fault })),
    faultCount: file.faultCount,
    isBlocked: file.isBlocked,
    questions: file.questions.map(questionType),
    answered: file.answered.map(questionType),
    known: file.known,
    guardedCells: file.guardedCells,
    ...written,
    createdCodes: plan.created.slice(0, 100).map(({ code }) => code),
    changes: plan.changed
      .flatMap(({ row, changes }) => changes.map((change) => ({ code: row.code, ...change })))
      .slice(0, 200),
    commandId,
  };
}

function questionType(question: Question): ImportQuestion {
  const mode = question.kind === 'TRAIT' ? question.proposal.mode : null;
  return {
    kind: question.kind,
    name: 'name' in question ? question.name : '',
    animals: question.animals,
    firstLine: question.firstLine,
    nearest: 'nearest' in question ? [...question.nearest] : [],
    proposal: wordsOf(question),
    mode: mode === 'INCOMPLETE_DOMINANT' ? null : mode,
  };
}

const MODE = {
  RECESSIVE: 'recessive: shows in animals with two copies',
  DOMINANT: 'dominant: one copy shows',
  INCOMPLETE_DOMINANT: 'one copy and two copies look different',
};

function wordsOf(question: Question): string {
  switch (question.kind) {
    case 'TRAIT': {
      const { mode, locus, basis } = question.proposal;
      return `${MODE[mode]}; gene ${locus.id}.${basis && ` ${basis}`}`;
    }
    case 'LOCUS':
      return `a gene with the alleles ${question.proposal.alleles.join(' and ')}`;
    case 'PEN':
      return 'a pen of this name; its area can be added later';
    case 'SPECIES':
      return 'taken as written';
    case 'NO_SPECIES':
      return question.proposal ?? '';
  }
}
