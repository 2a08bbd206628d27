import { Args, ID, Mutation, Parent, Query, ResolveField, Resolver } from '@nestjs/graphql';
import {
  changeRoleSchema,
  createProgramSchema,
  inviteMemberSchema,
  type Role,
  removeMemberSchema,
} from '@scutewright/commands';
import type { z } from 'zod';
import { Access, Ctx, Right } from '../../auth/access.js';
import { Accounts } from '../../auth/accounts.js';
import { Links } from '../../auth/links.js';
import { Sessions } from '../../auth/sessions.js';
import { command } from '../../db/command.js';
import { Database } from '../../db/database.js';
import { accessOfFounder, inProgram, type ProgramAccess } from '../../db/in-program.js';
import type { RequestContext } from '../../graphql/context.js';
import { notFound, UserError } from '../../graphql/errors.js';
import { Input } from '../../graphql/input-from-zod.js';
import { PublicAddress } from '../../http/public-address.js';
import { makeProgram } from './make-program.js';
import { Invitation, Member, Program } from './program.types.js';

@Resolver(() => Program)
export class ProgramsResolver {
  constructor(
    private readonly database: Database,
    private readonly accounts: Accounts,
    private readonly sessions: Sessions,
    private readonly links: Links,
    private readonly address: PublicAddress,
  ) {}

  @Access('READER')
  @Query(() => Program, { description: 'One program of the viewer' })
  program(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
  ): Promise<Program> {
    return readProgramRow(this.database, right);
  }

  @ResolveField(() => [Member], { description: 'Who belongs to it; for owners, else empty' })
  async members(@Parent() program: Program, @Ctx() context: RequestContext): Promise<Member[]> {
    const right = context.rights.get(program.id);
    if (right?.role !== 'OWNER') return [];
    const rows = await inProgram(this.database, right, (tx) =>
      tx.member.findMany({ where: { programId: program.id }, orderBy: { createdAt: 'asc' } }),
    );
    const accounts = await this.accounts.byIds(rows.map((row) => row.accountId));
    const byId = new Map(accounts.map((account) => [account.id, account]));
    return rows.flatMap((row) => {
      const account = byId.get(row.accountId);
      return account ? [{ account, role: row.role, since: row.createdAt }] : [];
    });
  }

  @Access('account')
  @Mutation(() => Program, { description: 'A new, empty program with the viewer as its owner' })
  async createProgram(
    @Ctx() context: RequestContext,
    @Input(createProgramSchema) input: z.output<typeof createProgramSchema>,
  ): Promise<Program> {
    const signedIn = await this.sessions.signedIn(context);
    if (!signedIn) throw new Error('The rule of this operation asks for a signed-in account');
    // The program takes the id of the act that makes it, so that the act sent twice makes one.
    const programId = input.commandId;
    const right = accessOfFounder(signedIn.accountId, programId);
    await command(
      this.database,
      right,
      { id: input.commandId, kind: 'create-program' },
      async (tx) => {
        await makeProgram(tx, { programId, name: input.name, ownerId: signedIn.accountId });
        return { sentence: `Began the program ${input.name}`, result: { programId } };
      },
    );
    context.rights.set(programId, right);
    return readProgramRow(this.database, right);
  }

  @Access('OWNER')
  @Mutation(() => Invitation, {
    description: 'A one-time link for one new member, good for a week',
  })
  async inviteMember(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Input(inviteMemberSchema) input: z.output<typeof inviteMemberSchema>,
  ): Promise<Invitation> {
    const { secret, expiresAt } = await this.links.forProgram(right, input.role);
    return { link: this.address.enterLink(secret), expiresAt, role: input.role };
  }

  @Access('OWNER')
  @Mutation(() => Program, { description: 'Changes what a member may do' })
  async changeRole(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Input(changeRoleSchema) input: z.output<typeof changeRoleSchema>,
  ): Promise<Program> {
    await this.changeMember(right, input, 'change-role', input.role);
    return readProgramRow(this.database, right);
  }

  @Access('OWNER')
  @Mutation(() => Program, { description: 'Ends a membership; what the member recorded stays' })
  async removeMember(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Input(removeMemberSchema) input: z.output<typeof removeMemberSchema>,
  ): Promise<Program> {
    await this.changeMember(right, input, 'remove-member', null);
    return readProgramRow(this.database, right);
  }

  private async changeMember(
    right: ProgramAccess,
    input: { commandId: string; accountId: string },
    kind: string,
    role: Role | null,
  ): Promise<void> {
    const { programId } = right;
    const { accountId } = input;
    const nameOf = await this.accounts.names([accountId]);
    await command(this.database, right, { id: input.commandId, kind }, async (tx) => {
      const key = { programId_accountId: { programId, accountId } };
      const member = await tx.member.findUnique({ where: key });
      if (!member) {
        throw notFound('such member', 'input.accountId', 'Choose one from the list of members.');
      }
      const owners = await tx.member.count({ where: { programId, role: 'OWNER' } });
      if (member.role === 'OWNER' && role !== 'OWNER' && owners === 1) {
        throw new UserError('CONFLICT', 'A program needs at least one owner.', {
          place: 'input.accountId',
          remedy: 'Make another member an owner first.',
        });
      }
      if (role) await tx.member.update({ where: key, data: { role } });
      else await tx.member.delete({ where: key });
      const act = role
        ? `Made ${nameOf(accountId)} a ${role.toLowerCase()}`
        : `Removed ${nameOf(accountId)}`;
      return { sentence: act, result: {} };
    });
  }
}

export async function readProgramRow(database: Database, right: ProgramAccess): Promise<Program> {
  const row = await inProgram(database, right, (tx) =>
    tx.program.findUniqueOrThrow({ where: { id: right.programId } }),
  );
  const { id, name, revision, isDemo } = row;
  return { id, name, revision, isDemo, viewerRole: right.role };
}
