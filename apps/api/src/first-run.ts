import { randomUUID } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { definitionsSchema, emailSchema, passwordSchema } from '@scutewright/commands';
import { Links } from './auth/links.js';
import { hashPassword } from './auth/secrets.js';
import { ComputePool } from './compute/compute-pool.js';
import { command } from './db/command.js';
import { Database } from './db/database.js';
import { accessOfFounder, acrossPrograms } from './db/in-program.js';
import { ImportProgram } from './features/program-file/import-program.js';
import { makeProgram } from './features/programs/make-program.js';

export interface FirstRunOptions {
  /** Makes the invented demo program. */
  readonly demo: boolean;
  /** Signs the owner in without the link. */
  readonly email?: string;
  readonly password?: string;
}

export interface FirstRunResult {
  readonly madeOwner: boolean;
  readonly madeDemo: boolean;
  /** Secret of a one-time link for an owner who has no password yet; null where there is one. */
  readonly linkSecret: string | null;
}

/**
 * Makes what a new installation needs: an owner, and the demo program. Doing it twice, or
 * after a kill in the middle, makes nothing twice.
 */
export async function firstRun(url: string, options: FirstRunOptions): Promise<FirstRunResult> {
  const database = new Database(url);
  try {
    const links = new Links(database);
    let owner = await database.prisma.account.findFirst({ orderBy: { createdAt: 'asc' } });
    const madeOwner = owner === null;
    if (!owner) {
      const id = await links.newAccount('Owner');
      owner = await database.prisma.account.findUniqueOrThrow({ where: { id } });
    }
    if (options.email && options.password && owner.passwordHash === null) {
      const email = emailSchema.parse(options.email);
      const passwordHash = await hashPassword(passwordSchema.parse(options.password));
      owner = await database.prisma.account.update({
        where: { id: owner.id },
        data: { email, passwordHash, name: email.split('@')[0] },
      });
    }
    const madeDemo =
      options.demo &&
      (madeOwner || owner.passwordHash === null) &&
      (await makeDemo(database, owner.id));
    const linkSecret = owner.passwordHash === null ? await links.forAccount(owner.id) : null;
    return { madeOwner, madeDemo, linkSecret };
  } finally {
    await database.close();
  }
}

/** A new one-time link for the first owner, for one who lost the way in. */
export async function newOwnerLink(url: string): Promise<string | null> {
  const database = new Database(url);
  try {
    const owner = await database.prisma.account.findFirst({ orderBy: { createdAt: 'asc' } });
    return owner && (await new Links(database).forAccount(owner.id));
  } finally {
    await database.close();
  }
}

const seed = new URL('../../../seed/', import.meta.url);

/**
 * The invented demo comes in by the same door as anybody's own file. False where the owner
 * has a program already; one that a kill left empty is filled.
 */
async function makeDemo(database: Database, ownerId: string): Promise<boolean> {
  const [mine] = await acrossPrograms(database, ownerId, (tx) =>
    tx.program.findMany({ orderBy: { createdAt: 'asc' }, take: 1 }),
  );
  if (mine && !(mine.isDemo && mine.revision === 0)) return false;
  const programId = mine?.id ?? randomUUID();
  const right = accessOfFounder(ownerId, programId);
  const file = JSON.parse(readFileSync(new URL('definitions.json', seed), 'utf8'));
  if (!mine) {
    await command(database, right, { id: randomUUID(), kind: 'create-program' }, async (tx) => {
      await makeProgram(tx, { programId, name: file.program.name, ownerId, isDemo: true });
      return { sentence: 'Made the invented demo program', result: {} };
    });
  }
  const pool = new ComputePool();
  try {
    await new ImportProgram(database, pool).bring(
      right,
      { commandId: randomUUID(), isDryRun: false },
      { name: 'saltmarsh-group.csv', bytes: readFileSync(new URL('saltmarsh-group.csv', seed)) },
      definitionsSchema.parse(file),
    );
  } finally {
    await pool.close();
  }
  return true;
}
