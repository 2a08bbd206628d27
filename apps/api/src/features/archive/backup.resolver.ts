import { Args, Field, ID, Int, Mutation, ObjectType, Query, Resolver } from '@nestjs/graphql';
import { startBackupSchema } from '@scutewright/commands';
import type { z } from 'zod';
import { Access, Right } from '../../auth/access.js';
import { Config } from '../../config.js';
import type { ProgramAccess } from '../../db/in-program.js';
import { Input } from '../../graphql/input-from-zod.js';
import { Job, toJob } from '../../jobs/job.types.js';
import type { JobRow } from '../../jobs/job-rows.js';
import { Jobs } from '../../jobs/jobs.js';
import type { BackupChecked, BackupMade } from './backup.js';
import { BACKUP_KIND, CHECK_KIND } from './backup-jobs.js';

@ObjectType({ description: 'How a backup, or the check of one, ended' })
export class BackupOutcome {
  @Field(() => Date) at: Date;
  @Field(() => Boolean) isGood: boolean;
  @Field(() => String, { description: 'What was done, or why not and what to do' })
  sentence: string;
}

@ObjectType({ description: 'The backups of this installation, of all programs in it' })
export class Backups {
  @Field(() => String, { nullable: true, description: 'Where they lie; null: none are made' })
  folder: string | null;
  @Field(() => Int, { description: 'How many are kept; older ones are removed' }) kept: number;
  @Field(() => BackupOutcome, { nullable: true, description: 'The last one; null: none yet' })
  last: BackupOutcome | null;
  @Field(() => BackupOutcome, {
    nullable: true,
    description: 'The last weekly check, which restores a backup and compares it; null: none yet',
  })
  check: BackupOutcome | null;
}

@Resolver()
export class BackupResolver {
  constructor(
    private readonly jobs: Jobs,
    private readonly config: Config,
  ) {}

  @Access('OWNER')
  @Query(() => Backups, { description: 'When the last backup was made, and whether it is sound' })
  async backups(
    @Right() _right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
  ): Promise<Backups> {
    const { backupFolder: folder, backupsKept: kept } = this.config;
    const last = await this.jobs.rows.last(BACKUP_KIND);
    const check = await this.jobs.rows.last(CHECK_KIND);
    return {
      folder,
      kept,
      last: last && outcomeOf(last, made),
      check: check && outcomeOf(check, checked),
    };
  }

  @Access('OWNER')
  @Mutation(() => Job, { description: 'Makes a backup now' })
  async startBackup(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) programId: string,
    @Input(startBackupSchema) input: z.output<typeof startBackupSchema>,
  ): Promise<Job> {
    const { accountId } = right;
    return toJob(
      await this.jobs.start({
        id: input.commandId,
        kind: BACKUP_KIND,
        accountId,
        programId,
        input: {},
      }),
    );
  }
}

function outcomeOf(job: JobRow, words: (result: unknown) => string): BackupOutcome {
  const sentence =
    job.state === 'DONE'
      ? words(job.result)
      : job.state === 'CANCELLED'
        ? 'It was stopped.'
        : `${job.error?.message ?? 'It failed.'} ${job.error?.remedy ?? ''}`.trim();
  return { at: job.finishedAt ?? job.createdAt, isGood: job.state === 'DONE', sentence };
}

function made(result: unknown): string {
  const { name, programs, bytes } = result as BackupMade;
  return `${name}: ${programs === 1 ? 'one program' : `${programs} programs`}, ${sizeWords(bytes)}.`;
}

function sizeWords(bytes: number): string {
  return bytes < 1e6 ? `${Math.ceil(bytes / 1e3)} kB` : `${(bytes / 1e6).toFixed(1)} MB`;
}

function checked(result: unknown): string {
  const { name, programs, rows } = result as BackupChecked;
  return `${name} was restored and is sound: ${programs === 1 ? 'one program' : `${programs} programs`}, ${rows} records.`;
}
