import { Field, ID, ObjectType, registerEnumType } from '@nestjs/graphql';
import { Program } from '../programs/program.types.js';

export const EntryState = {
  WRITTEN: 'WRITTEN',
  DUPLICATE: 'DUPLICATE',
  NEEDS_DECISION: 'NEEDS_DECISION',
} as const;
export type EntryState = keyof typeof EntryState;
registerEnumType(EntryState, {
  name: 'EntryState',
  description: 'What became of an entry',
  valuesMap: {
    WRITTEN: { description: 'As it was sent' },
    DUPLICATE: { description: 'It had been written before' },
    NEEDS_DECISION: { description: 'It cannot be so; nothing of it was written' },
  },
});

@ObjectType({ description: 'What became of one entry' })
export class EntryAnswer {
  @Field(() => ID) id: string;
  @Field(() => EntryState) state: EntryState;
  @Field(() => String, { description: 'What was written, or why it was not' }) sentence: string;
  @Field(() => [String], { description: 'What to look at beside it' }) remarks: string[];
  @Field(() => String, { nullable: true, description: 'Where in the entry, e.g. measured.massG' })
  place: string | null;
  @Field(() => String, { nullable: true }) remedy: string | null;
}

@ObjectType({ description: 'What became of the entries, in their order' })
export class EntriesPayload {
  @Field(() => [EntryAnswer]) answers: EntryAnswer[];
  @Field(() => Program) program: Program;
}

@ObjectType({ description: 'An entry that waits for a decision' })
export class WaitingEntry {
  @Field(() => ID) id: string;
  @Field(() => Date) at: Date;
  @Field(() => String, { description: 'Who sent it' }) by: string;
  @Field(() => String, { description: 'Its kind, e.g. measured' }) kind: string;
  @Field(() => String, { nullable: true, description: 'When it happened' }) on: string | null;
  @Field(() => String, { description: 'The entry as JSON, with codes and names for ids' })
  entry: string;
  @Field(() => String, { description: 'Why it was not written' }) message: string;
  @Field(() => String) remedy: string;
}

@ObjectType({ description: 'The act by which a record was written' })
export class RecordAct {
  @Field(() => ID, { description: 'What `undo` takes back' }) id: string;
  @Field(() => String, { description: 'All that it wrote, in words' }) sentence: string;
}

@ObjectType({ description: 'One thing that was seen, told, measured or done' })
export class RecordLine {
  @Field(() => ID) id: string;
  @Field(() => String, { description: 'sex, colour-check, scl, mass, mark, stay, transfer ...' })
  kind: string;
  @Field(() => String, { nullable: true, description: 'As it is known: 2011, 2011-06, 2011-06-03' })
  date: string | null;
  @Field(() => String, { description: 'The record in words' }) text: string;
  @Field(() => String, { nullable: true }) note: string | null;
  @Field(() => String, { nullable: true, description: 'How it was done' }) method: string | null;
  @Field(() => RecordAct, {
    nullable: true,
    description: 'Null: brought in by a file, or told elsewhere',
  })
  act: RecordAct | null;
}
