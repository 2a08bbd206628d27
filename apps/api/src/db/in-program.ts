import type { Role } from '@scutewright/commands';
import type { ClientBase } from 'pg';
import type { Database, Tx } from './database.js';

declare const checked: unique symbol;

/**
 * A viewer's right to a program. Only `accessTo` makes one, after it has looked the
 * membership up: whoever holds one may open the door to that program's rows.
 */
export interface ProgramAccess {
  readonly programId: string;
  readonly accountId: string;
  readonly role: Role;
  readonly [checked]: true;
}

/** Looks the membership up; null where the account is no member (or there is no such program). */
export async function accessTo(
  database: Database,
  accountId: string,
  programId: string,
): Promise<ProgramAccess | null> {
  const role = await asApp(database, { programId, accountId }, async (tx) => {
    const member = await tx.member.findUnique({
      where: { programId_accountId: { programId, accountId } },
      select: { role: true },
    });
    return member?.role;
  });
  return role ? ({ programId, accountId, role } as ProgramAccess) : null;
}

/** The rights to all programs of an account, oldest membership first. */
export async function accessToAll(database: Database, accountId: string): Promise<ProgramAccess[]> {
  const members = await acrossPrograms(database, accountId, (tx) =>
    tx.member.findMany({ where: { accountId }, orderBy: { createdAt: 'asc' } }),
  );
  return members.map(({ programId, role }) => ({ programId, accountId, role }) as ProgramAccess);
}

/** The right of the person who makes a program: it comes into being with its first member. */
export function accessOfFounder(accountId: string, programId: string): ProgramAccess {
  return { programId, accountId, role: 'OWNER' } as ProgramAccess;
}

/**
 * The one door to the rows of a program: a short transaction in the app's role, in which
 * only this program's rows exist. Closes before anything is computed.
 */
export function inProgram<Result>(
  database: Database,
  access: ProgramAccess,
  work: (tx: Tx) => Promise<Result>,
): Promise<Result> {
  return asApp(database, access, work);
}

/** What an account may see across its programs: memberships and the programs' own rows. */
export function acrossPrograms<Result>(
  database: Database,
  accountId: string,
  work: (tx: Tx) => Promise<Result>,
): Promise<Result> {
  return asApp(database, { programId: '', accountId }, work);
}

function asApp<Result>(
  database: Database,
  scope: { programId: string; accountId: string },
  work: (tx: Tx) => Promise<Result>,
): Promise<Result> {
  return database.prisma.$transaction(
    async (tx) => {
      await tx.$executeRaw`SELECT set_config('role', 'scutewright_app', true),
        set_config('app.program_id', ${scope.programId}, true),
        set_config('app.account_id', ${scope.accountId}, true), set_config('lock_timeout', '20s', true)`;
      return work(tx);
    },
    // A file of 100,000 animals is one transaction, and the machine may be slow.
    { timeout: 900_000, maxWait: 15_000 },
  );
}

/**
 * The same door for bulk reading: one REPEATABLE READ transaction, so that everything read
 * is of one revision. The client gives rows as the driver makes them.
 */
export function readProgram<Result>(
  database: Database,
  access: ProgramAccess,
  work: (client: ClientBase) => Promise<Result>,
): Promise<Result> {
  return onClient(database, access, 'BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY', work);
}

/**
 * The same door for a program that comes in whole, with its own history: what `work` inserts is
 * not recorded as a change. The database allows that only while the program has no act.
 */
export function writeNewProgram<Result>(
  database: Database,
  access: ProgramAccess,
  work: (client: ClientBase) => Promise<Result>,
): Promise<Result> {
  return onClient(database, access, 'BEGIN', async (client) => {
    await client.query("SELECT set_config('app.restoring', 'on', true)");
    return work(client);
  });
}

async function onClient<Result>(
  database: Database,
  access: ProgramAccess,
  begin: string,
  work: (client: ClientBase) => Promise<Result>,
): Promise<Result> {
  const client = await database.pool.connect();
  try {
    await client.query(begin);
    await client.query(
      `SELECT set_config('role', 'scutewright_app', true),
        set_config('app.program_id', $1, true), set_config('app.account_id', $2, true)`,
      [access.programId, access.accountId],
    );
    const result = await work(client);
    await client.query('COMMIT');
    return result;
  } catch (error) {
    await client.query('ROLLBACK');
    throw error;
  } finally {
    client.release();
  }
}
