import { Args, ID, Mutation, Query, Resolver } from '@nestjs/graphql';
import {
  entrySchema,
  kindOf,
  type RecordEntriesInput,
  recordEntriesSchema,
  type SettleEntryInput,
  settleEntrySchema,
} from '@scutewright/commands';
import { Access, Right } from '../../auth/access.js';
import { Accounts } from '../../auth/accounts.js';
import { Database, type Tx } from '../../db/database.js';
import { inProgram, type ProgramAccess } from '../../db/in-program.js';
import { check, Input } from '../../graphql/input-from-zod.js';
import { readProgramRow } from '../programs/programs.resolver.js';
import { readRecords } from './read-records.js';
import { RecordEntries } from './record-entries.js';
import { EntriesPayload, RecordLine, WaitingEntry } from './records.types.js';

@Resolver()
export class RecordsResolver {
  constructor(
    private readonly database: Database,
    private readonly entries: RecordEntries,
    private readonly accounts: Accounts,
  ) {}

  @Access('KEEPER')
  @Mutation(() => EntriesPayload, {
    description:
      'Writes down what happened in the yard; each entry by itself, sent twice it is written once',
  })
  async recordEntries(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Input(recordEntriesSchema) input: RecordEntriesInput,
  ): Promise<EntriesPayload> {
    const answers = await this.entries.record(right, input);
    return { answers, program: await readProgramRow(this.database, right) };
  }

  @Access('KEEPER')
  @Query(() => [WaitingEntry], {
    description: 'Entries that could not be written as they were sent',
  })
  async waitingEntries(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) programId: string,
  ): Promise<WaitingEntry[]> {
    const { rows, named } = await inProgram(this.database, right, async (tx) => {
      const found = await tx.undecidedEntry.findMany({
        where: { programId },
        orderBy: { at: 'asc' },
      });
      return {
        rows: found,
        named: await namesOf(
          tx,
          programId,
          found.map(({ entry }) => entry),
        ),
      };
    });
    const nameOf = await this.accounts.names(rows.map(({ accountId }) => accountId));
    return rows.map(({ id, at, accountId, entry, message, remedy }) => {
      const read = check(entrySchema, entry, 'entry');
      return {
        id,
        at,
        by: nameOf(accountId),
        kind: kindOf(read),
        on: read.on ?? null,
        entry: named(entry),
        message,
        remedy,
      };
    });
  }

  @Access('KEEPER')
  @Mutation(() => EntriesPayload, { description: 'Tries a waiting entry again, or drops it' })
  async settleEntry(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Input(settleEntrySchema) input: SettleEntryInput,
  ): Promise<EntriesPayload> {
    const answer = await this.entries.settle(right, input);
    return { answers: answer ? [answer] : [], program: await readProgramRow(this.database, right) };
  }

  @Access('READER')
  @Query(() => [RecordLine], {
    description: 'All that is written down about one animal, clutch, lot or pen; latest first',
  })
  records(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Args('id', { type: () => ID, description: 'Of the animal, clutch, lot or pen' }) id: string,
  ): Promise<RecordLine[]> {
    return inProgram(this.database, right, (tx) => readRecords(tx, right.programId, id));
  }
}

/**
 * How to write entries with codes and names for the ids that a phone sent: a person reads them, and the service takes either.
 * Five statements, however many entries.
 */
async function namesOf(
  tx: Tx,
  programId: string,
  entries: readonly unknown[],
): Promise<(entry: unknown) => string> {
  const ids = [...new Set(JSON.stringify(entries).match(UUID) ?? [])];
  const where = { programId, id: { in: ids } };
  const coded = { where, select: { id: true, code: true } } as const;
  const known = new Map<string, string>();
  for (const { id, code } of [
    ...(await tx.animal.findMany(coded)),
    ...(await tx.lot.findMany(coded)),
    ...(await tx.clutch.findMany(coded)),
  ]) {
    if (code) known.set(id, code);
  }
  const titled = { where, select: { id: true, name: true } } as const;
  for (const { id, name } of [
    ...(await tx.pen.findMany(titled)),
    ...(await tx.trait.findMany(titled)),
  ])
    known.set(id, name);
  return (entry) => {
    const { id, ...said } = entry as { id: string };
    const text = JSON.stringify(said).replace(UUID, (found) =>
      JSON.stringify(known.get(found) ?? found).slice(1, -1),
    );
    return JSON.stringify({ id, ...JSON.parse(text) });
  };
}

const UUID = /[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}/g;
