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
}

@ObjectType({ description: 'How one column is read' })
export class MappedColumn {
  @Field(() => String, { description: 'As it stands in the file' }) heading: string;
  @Field(() => String, { nullable: true, description: 'Null: left out' }) field: string | null;
  @Field(() => String, { nullable: true }) unit: string | null;
}

@ObjectType({ description: 'How the file is read: proposed, for people to look at and change' })
export class ColumnMap {
  @Field(() => String) encoding: string;
  @Field(() => String) separator: string;
  @Field(() => String) dateOrder: string;
  @Field(() => String) decimalSign: string;
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
  @Field(() => [ImportQuestion]) questions: ImportQuestion[];
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
    map: { ...file.map, columns: file.map.columns.map((column) => ({ ...column })) },
    guesses: [...file.guesses],
    faults: [...file.faults],
    faultCount: file.faultCount,
    isBlocked: file.isBlocked,
    questions: file.questions.map((question) => ({
      kind: question.kind,
      name: 'name' in question ? question.name : '',
      animals: question.animals,
      firstLine: question.firstLine,
      nearest: 'nearest' in question ? [...question.nearest] : [],
      proposal: wordsOf(question),
    })),
    ...written,
    createdCodes: plan.created.slice(0, 100).map(({ code }) => code),
    changes: plan.changed
      .flatMap(({ row, changes }) => changes.map((change) => ({ code: row.code, ...change })))
      .slice(0, 200),
    commandId,
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
      return `${MODE[mode]}; gene ${locus.id}. ${basis}`;
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
