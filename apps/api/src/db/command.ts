import { UserError } from '../graphql/errors.js';
import type { Database, Tx } from './database.js';
import { inProgram, type ProgramAccess } from './in-program.js';

/** Where PostgreSQL tells of each new revision, when and only if its transaction commits. */
export const REVISION_CHANNEL = 'scutewright_revision';

export interface CommandRequest {
  /** Made by the client. */
  readonly id: string;
  /** Stable word for programs, e.g. `add-animal`. */
  readonly kind: string;
  readonly undoes?: string;
}

export interface CommandOutcome<Result> {
  /** One sentence for the history, e.g. 'Added HB-012'. */
  readonly sentence: string;
  /** Plain data, kept with the command and answered again when it is sent again. */
  readonly result: Result;
}

/**
 * One act of one person, all or nothing. The program's row is locked first, so writers of
 * one program go one by one and checks made in `work` still hold when it writes. The same
 * id again does nothing and answers what the first time answered.
 */
export function command<Result extends object>(
  database: Database,
  access: ProgramAccess,
  request: CommandRequest,
  work: (tx: Tx) => Promise<CommandOutcome<Result>>,
): Promise<Result> {
  return inProgram(database, access, async (tx) => {
    const { programId, accountId } = access;
    const locked = await lock(tx, programId);
    const earlier = await tx.command.findUnique({
      where: { programId_id: { programId, id: request.id } },
    });
    if (earlier) {
      if (earlier.kind === request.kind && earlier.accountId === accountId) {
        return earlier.result as Result;
      }
      throw new UserError('CONFLICT', 'This command id was already used for another act.', {
        place: 'input.commandId',
        remedy: 'Make a new id for each act.',
      });
    }
    const revision = (locked ?? -1) + 1;
    await tx.$executeRaw`SELECT set_config('app.command_id', ${request.id}, true)`;
    const { sentence, result } = await work(tx);
    await tx.$executeRaw`UPDATE program SET revision = ${revision} WHERE id = ${programId}::uuid`;
    await tx.$executeRaw`SELECT pg_notify(${REVISION_CHANNEL}, ${`${programId} ${revision}`})`;
    await tx.command.create({
      data: {
        programId,
        accountId,
        id: request.id,
        kind: request.kind,
        sentence,
        revision,
        undoes: request.undoes ?? null,
        result,
      },
    });
    return result;
  });
}

/**
 * The program's revision, once no other act is being written; null for a program that is only now
 * made. Throws CONFLICT where the other act takes longer than `inProgram` lets a lock be waited for.
 */
async function lock(tx: Tx, programId: string): Promise<number | null> {
  try {
    const [row] = await tx.$queryRaw<{ revision: number }[]>`
      SELECT revision FROM program WHERE id = ${programId}::uuid FOR UPDATE`;
    return row?.revision ?? null;
  } catch (error) {
    if (!String(error).includes('55P03')) throw error;
    throw new UserError('CONFLICT', 'A large file is being written into this program.', {
      remedy: 'Nothing of yours was saved; send it again in a minute.',
    });
  }
}
