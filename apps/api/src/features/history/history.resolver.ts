import { Args, ID, Int, Mutation, Parent, Query, ResolveField, Resolver } from '@nestjs/graphql';
import { type UndoInput, undoSchema } from '@scutewright/commands';
import { Access, Ctx, Right } from '../../auth/access.js';
import { Accounts } from '../../auth/accounts.js';
import { Database } from '../../db/database.js';
import { inProgram, type ProgramAccess } from '../../db/in-program.js';
import { type Connection, pageOf, pageStart } from '../../graphql/connection.js';
import type { RequestContext } from '../../graphql/context.js';
import { Input } from '../../graphql/input-from-zod.js';
import { readProgramRow } from '../programs/programs.resolver.js';
import {
  Change,
  Command,
  CommandConnection,
  CommandPayload,
  readCommand,
  toCommands,
} from './command.types.js';
import { undo } from './undo.js';

@Resolver(() => Command)
export class HistoryResolver {
  constructor(
    private readonly database: Database,
    private readonly accounts: Accounts,
  ) {}

  @Access('READER')
  @Query(() => CommandConnection, { description: 'What was done in this program, newest first' })
  history(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) programId: string,
    @Args('first', { type: () => Int, defaultValue: 20, description: '1 to 500' }) first: number,
    @Args('after', { type: () => String, nullable: true }) after?: string,
    @Args('animalId', {
      type: () => ID,
      nullable: true,
      description: 'Only what touched this animal',
    })
    animalId?: string,
  ): Promise<Connection<Command>> {
    const start = pageStart(first, after);
    return inProgram(this.database, right, async (tx) => {
      const touching = animalId
        ? await tx.$queryRaw<{ id: string }[]>`
            SELECT DISTINCT command_id AS id FROM change WHERE program_id = ${programId}::uuid
            AND (row_id = ${animalId} OR after->>'animal_id' = ${animalId} OR before->>'animal_id' = ${animalId})`
        : null;
      const where = { programId, ...(touching && { id: { in: touching.map((row) => row.id) } }) };
      const rows = await tx.command.findMany({
        where,
        orderBy: { revision: 'desc' },
        skip: start,
        take: first,
      });
      const commands = await toCommands(tx, this.accounts, programId, rows);
      return pageOf(commands, start, await tx.command.count({ where }));
    });
  }

  @ResolveField(() => [Change], { description: 'The rows it changed, at most 200' })
  async changes(@Parent() parent: Command, @Ctx() context: RequestContext): Promise<Change[]> {
    const right = context.rights.get(parent.programId);
    if (!right) return [];
    const rows = await inProgram(this.database, right, (tx) =>
      tx.change.findMany({
        where: { programId: parent.programId, commandId: parent.id },
        orderBy: { id: 'asc' },
        take: 200,
      }),
    );
    return rows.map((row) => ({
      table: row.tableName,
      rowId: row.rowId,
      before: row.before,
      after: row.after,
    }));
  }

  @Access('KEEPER')
  @Mutation(() => CommandPayload, {
    description: 'Takes one earlier act back, if nothing stands on it',
  })
  async undo(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Input(undoSchema) input: UndoInput,
  ): Promise<CommandPayload> {
    await undo(this.database, right, input);
    return {
      command: await readCommand(this.database, this.accounts, right, input.commandId),
      program: await readProgramRow(this.database, right),
    };
  }
}
