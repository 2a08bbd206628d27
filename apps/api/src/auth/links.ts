import { randomUUID } from 'node:crypto';
import { Injectable } from '@nestjs/common';
import type { Role } from '@scutewright/commands';
import { command } from '../db/command.js';
import { Database } from '../db/database.js';
import { accessOfFounder, type ProgramAccess } from '../db/in-program.js';
import { UserError } from '../graphql/errors.js';
import { newSecret, secretHash } from './secrets.js';

const DAY_MS = 24 * 3_600_000;

/** One-time links: to come in as an account, or to join a program with a role. */
@Injectable()
export class Links {
  constructor(private readonly database: Database) {}

  /** The secret of a link that lets its bearer in as this account, once, within a day. */
  async forAccount(accountId: string): Promise<string> {
    const secret = newSecret();
    await this.database.prisma.invitation.create({
      data: {
        secretHash: secretHash(secret),
        accountId,
        expiresAt: new Date(Date.now() + DAY_MS),
      },
    });
    return secret;
  }

  /** The secret of a link that makes its bearer a member, once, within seven days. */
  async forProgram(
    access: ProgramAccess,
    role: Role,
  ): Promise<{ secret: string; expiresAt: Date }> {
    const secret = newSecret();
    const expiresAt = new Date(Date.now() + 7 * DAY_MS);
    await this.database.prisma.invitation.create({
      data: { secretHash: secretHash(secret), programId: access.programId, role, expiresAt },
    });
    return { secret, expiresAt };
  }

  /**
   * Uses the link up and answers the account it lets in: the one it names, else `signedInAs`,
   * else a new one. Throws LINK_USED_OR_EXPIRED.
   */
  async use(secret: string, signedInAs: string | null): Promise<string> {
    const hash = secretHash(secret);
    const now = new Date();
    const { count } = await this.database.prisma.invitation.updateMany({
      where: { secretHash: hash, usedAt: null, expiresAt: { gt: now } },
      data: { usedAt: now },
    });
    const link =
      count === 1
        ? await this.database.prisma.invitation.findUnique({ where: { secretHash: hash } })
        : null;
    if (!link) {
      throw new UserError('LINK_USED_OR_EXPIRED', 'This link was used already or has run out.', {
        place: 'token',
        remedy: 'Have a new one made: on the computer by npm start -- --link, or by an owner.',
      });
    }
    if (link.accountId) return link.accountId;
    const accountId = signedInAs ?? (await this.newAccount('New member'));
    if (link.programId && link.role) await this.join(accountId, link.programId, link.role);
    return accountId;
  }

  /** An account without a password: it comes in by a link and chooses one then. */
  async newAccount(name: string): Promise<string> {
    const id = randomUUID();
    const email = `${id}@no-address.invalid`;
    await this.database.prisma.account.create({ data: { id, name, email } });
    return id;
  }

  private join(accountId: string, programId: string, role: Role): Promise<object> {
    const access = accessOfFounder(accountId, programId);
    return command(
      this.database,
      access,
      { id: randomUUID(), kind: 'join-program' },
      async (tx) => {
        await tx.member.createMany({
          data: [{ programId, accountId, role }],
          skipDuplicates: true,
        });
        return { sentence: `Joined as ${role.toLowerCase()}`, result: {} };
      },
    );
  }
}
