import { Injectable } from '@nestjs/common';
import { Database } from '../db/database.js';
import { acrossPrograms } from '../db/in-program.js';
import type { Account, Viewer } from '../features/programs/program.types.js';
import { UserError } from '../graphql/errors.js';

/** Accounts are of no program, so they are read here, outside any program's door. */
@Injectable()
export class Accounts {
  constructor(private readonly database: Database) {}

  async viewer(accountId: string): Promise<Viewer> {
    const [account] = await this.byIds([accountId]);
    const members = await acrossPrograms(this.database, accountId, (tx) =>
      tx.member.findMany({
        where: { accountId },
        include: { program: true },
        orderBy: { createdAt: 'asc' },
      }),
    );
    return {
      account,
      memberships: members.map(({ role, program }) => ({
        role,
        program: {
          id: program.id,
          name: program.name,
          revision: program.revision,
          isDemo: program.isDemo,
          viewerRole: role,
        },
      })),
    };
  }

  async byIds(ids: readonly string[]): Promise<Account[]> {
    const rows = await this.database.prisma.account.findMany({ where: { id: { in: [...ids] } } });
    return rows.map(({ id, email, name, passwordHash }) => ({
      id,
      email,
      name,
      hasPassword: passwordHash !== null,
    }));
  }

  /** Names by account id; an account that was removed is 'a former member'. */
  async names(ids: readonly (string | null)[]): Promise<(id: string | null) => string> {
    const known = await this.byIds([...new Set(ids.filter((id) => id !== null))]);
    const byId = new Map(known.map((account) => [account.id, account.name]));
    return (id) => (id === null ? 'Scutewright' : (byId.get(id) ?? 'a former member'));
  }

  /** Throws CONFLICT where the address belongs to another account. */
  async setPassword(
    accountId: string,
    input: { email: string; name?: string; passwordHash: string },
  ): Promise<void> {
    const other = await this.database.prisma.account.findUnique({ where: { email: input.email } });
    if (other && other.id !== accountId) {
      throw new UserError('CONFLICT', 'Another account already uses this e-mail address.', {
        place: 'email',
        remedy: 'Use another address, or sign in with that account.',
      });
    }
    await this.database.prisma.account.update({
      where: { id: accountId },
      data: { email: input.email, name: input.name, passwordHash: input.passwordHash },
    });
  }
}
