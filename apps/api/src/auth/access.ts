import {
  type CanActivate,
  createParamDecorator,
  type ExecutionContext,
  Injectable,
  SetMetadata,
} from '@nestjs/common';
import { Reflector } from '@nestjs/core';
import { GqlExecutionContext } from '@nestjs/graphql';
import { idSchema, type Role } from '@scutewright/commands';
import { Database } from '../db/database.js';
import { accessTo, type ProgramAccess } from '../db/in-program.js';
import type { RequestContext } from '../graphql/context.js';
import { UserError } from '../graphql/errors.js';
import { Sessions } from './sessions.js';

/** Who may call an operation: anybody, anybody signed in, or a member of `programId` with at least this role. */
export type Rule = 'anyone' | 'account' | Role;
const RULE = 'access rule';
const RANK: Record<Role, number> = { READER: 0, KEEPER: 1, OWNER: 2 };

/** Every operation names its rule; one without a rule is refused to everybody. */
export const Access = (rule: Rule) => SetMetadata(RULE, rule);

/** The checked right to the program that the operation names. */
export const Right = createParamDecorator((_: unknown, host: ExecutionContext): ProgramAccess => {
  const gql = GqlExecutionContext.create(host);
  const right = gql.getContext<RequestContext>().rights.get(gql.getArgs().programId);
  if (!right) throw new Error('An operation with @Right() needs the rule of a role');
  return right;
});

/** The request itself. */
export const Ctx = createParamDecorator((_: unknown, host: ExecutionContext): RequestContext => {
  return GqlExecutionContext.create(host).getContext<RequestContext>();
});

@Injectable()
export class AccessGuard implements CanActivate {
  constructor(
    private readonly reflector: Reflector,
    private readonly database: Database,
    private readonly sessions: Sessions,
  ) {}

  async canActivate(host: ExecutionContext): Promise<boolean> {
    const rule = this.reflector.getAllAndOverride<Rule | undefined>(RULE, [
      host.getHandler(),
      host.getClass(),
    ]);
    if (rule === 'anyone') return true;
    if (rule === undefined || host.getType<string>() !== 'graphql') return false;
    const gql = GqlExecutionContext.create(host);
    const context = gql.getContext<RequestContext>();
    if (rule === 'account') {
      await accountOf(this.sessions, context);
    } else {
      const { programId } = gql.getArgs<{ programId: string }>();
      await rightTo(this.database, this.sessions, context, programId, rule);
    }
    return true;
  }
}

async function accountOf(sessions: Sessions, context: RequestContext): Promise<string> {
  const signedIn = await sessions.signedIn(context);
  if (signedIn) return signedIn.accountId;
  throw new UserError('NOT_SIGNED_IN', 'You are not signed in.', {
    remedy: 'Sign in, or use a one-time link from an owner of the program.',
  });
}

/** The right of the request's account to a program, of at least this role; throws UserError without it. */
export async function rightTo(
  database: Database,
  sessions: Sessions,
  context: RequestContext,
  programId: string,
  role: Role,
): Promise<ProgramAccess> {
  const accountId = await accountOf(sessions, context);
  const right =
    context.rights.get(programId) ??
    (idSchema.safeParse(programId).success ? await accessTo(database, accountId, programId) : null);
  if (!right) {
    // The same words for 'does not exist' and 'not yours': strangers learn nothing.
    throw new UserError('NOT_FOUND', 'There is no such program among yours.', {
      place: 'programId',
      remedy: 'Choose one of the programs that you are a member of.',
    });
  }
  if (RANK[right.role] < RANK[role]) {
    throw new UserError('FORBIDDEN', `Only ${NAMES[role]} of this program may do this.`, {
      place: 'programId',
      remedy: 'Ask an owner of the program to do it or to change your role.',
    });
  }
  context.rights.set(programId, right);
  return right;
}

const NAMES: Record<Role, string> = {
  READER: 'a member',
  KEEPER: 'a keeper or an owner',
  OWNER: 'an owner',
};
