import { Field, ID, Int, ObjectType } from '@nestjs/graphql';
import { GraphQLScalarType } from 'graphql';
import type { Accounts } from '../../auth/accounts.js';
import type { Database, Tx } from '../../db/database.js';
import { inProgram, type ProgramAccess } from '../../db/in-program.js';
import { connectionOf } from '../../graphql/connection.js';
import { notFound } from '../../graphql/errors.js';
import { Program } from '../programs/program.types.js';

const Json = new GraphQLScalarType({
  name: 'Json',
  description: 'Any JSON value; only given, never taken',
});

@ObjectType({ description: 'One row before and after an act' })
export class Change {
  @Field(() => String, { description: 'Which kind of record' }) table: string;
  @Field(() => ID) rowId: string;
  @Field(() => Json, { nullable: true, description: 'Null where the row is new' }) before: unknown;
  @Field(() => Json, { nullable: true, description: 'Null where the row is gone' }) after: unknown;
}

@ObjectType({ description: 'One act of one person' })
export class Command {
  @Field(() => ID) id: string;
  @Field(() => String, { description: 'Stable word for programs, e.g. add-animal' }) kind: string;
  @Field(() => String, { description: 'What was done, in words' }) sentence: string;
  @Field(() => Date) at: Date;
  @Field(() => String, { description: 'Who did it' }) by: string;
  @Field(() => Int, { description: 'The revision it led to' }) revision: number;
  @Field(() => Boolean, { description: 'Whether it was taken back later' }) undone: boolean;
  @Field(() => ID, { nullable: true, description: 'The act it takes back' }) undoes: string | null;
  programId: string;
}

export const CommandConnection = connectionOf(Command, 'Command');

@ObjectType({ description: 'An act just done' })
export class CommandPayload {
  @Field(() => Command) command: Command;
  @Field(() => Program) program: Program;
}

interface CommandRow {
  id: string;
  kind: string;
  sentence: string;
  at: Date;
  accountId: string | null;
  revision: number;
  undoes: string | null;
  byName: string | null;
}

/** Rows of `command` with names, and whether each was taken back (an undo that is not undone). */
export async function toCommands(
  tx: Tx,
  accounts: Accounts,
  programId: string,
  rows: CommandRow[],
): Promise<Command[]> {
  const undos = await tx.command.findMany({
    where: { programId, undoes: { not: null } },
    select: { id: true, undoes: true },
  });
  const undoneBy = new Map(undos.map((undo) => [undo.undoes, undo.id]));
  const isUndone = (id: string): boolean => {
    const undo = undoneBy.get(id);
    return undo !== undefined && !isUndone(undo);
  };
  const nameOf = await accounts.names(rows.map((row) => row.accountId));
  return rows.map(({ accountId, byName, ...row }) => ({
    ...row,
    programId,
    by: byName ?? nameOf(accountId),
    undone: isUndone(row.id),
  }));
}

export async function readCommand(
  database: Database,
  accounts: Accounts,
  right: ProgramAccess,
  id: string,
): Promise<Command> {
  return inProgram(database, right, async (tx) => {
    const { programId } = right;
    const row = await tx.command.findUnique({ where: { programId_id: { programId, id } } });
    if (!row) throw notFound('such act', 'input.commandId', 'Look at the history again.');
    return (await toCommands(tx, accounts, programId, [row]))[0];
  });
}
