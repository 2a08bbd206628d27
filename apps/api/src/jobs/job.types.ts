import { Field, Float, ID, ObjectType, registerEnumType } from '@nestjs/graphql';
import { JobState } from '../generated/prisma/client.js';
import type { JobRow } from './job-rows.js';

registerEnumType(JobState, {
  name: 'JobState',
  description: 'How far a job is',
  valuesMap: {
    QUEUED: { description: 'Waits for its turn' },
    RUNNING: { description: 'Is being done; after a kill or restart it is taken up again' },
    DONE: { description: 'Ended well' },
    FAILED: { description: 'Ended with an error; nothing was written' },
    CANCELLED: { description: 'Was stopped; nothing was written' },
  },
});

@ObjectType({ description: 'Why a job ended badly' })
export class JobError {
  @Field(() => String, { description: 'A value of ErrorCode' }) code: string;
  @Field(() => String) message: string;
  @Field(() => String, { description: 'What to do' }) remedy: string;
  @Field(() => String, { nullable: true, description: 'Path of the value in the request' })
  place?: string;
}

@ObjectType({ description: 'Long work: ask for it until it has finished' })
export class Job {
  @Field(() => ID) id: string;
  @Field(() => String, { description: 'Stable word for programs, e.g. import-program-file' })
  kind: string;
  @Field(() => ID, { nullable: true, description: 'The program it works on; null for none yet' })
  programId: string | null;
  @Field(() => JobState) state: JobState;
  @Field(() => Float, { description: '0 to 1' }) progress: number;
  @Field(() => String, { description: 'What it does now, in words' }) sentence: string;
  @Field(() => Boolean, { description: 'Somebody asked it to stop' }) cancelAsked: boolean;
  @Field(() => JobError, { nullable: true }) error: JobError | null;
  @Field(() => Date) createdAt: Date;
  @Field(() => Date, { nullable: true }) finishedAt: Date | null;
  result: unknown;
}

export function toJob(row: JobRow): Job {
  const { id, kind, programId, state, progress, sentence, cancelAsked, error } = row;
  const { createdAt, finishedAt, result } = row;
  return {
    id,
    kind,
    programId,
    state,
    progress,
    sentence,
    cancelAsked,
    error,
    createdAt,
    finishedAt,
    result,
  };
}
