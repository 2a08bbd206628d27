import { Args, Mutation, Query, Resolver } from '@nestjs/graphql';
import { setPasswordSchema, signInSchema } from '@scutewright/commands';
import { Database } from '../db/database.js';
import { accessToAll } from '../db/in-program.js';
import { Viewer } from '../features/programs/program.types.js';
import type { RequestContext } from '../graphql/context.js';
import { UserError } from '../graphql/errors.js';
import { check } from '../graphql/input-from-zod.js';
import { Access, Ctx } from './access.js';
import { Accounts } from './accounts.js';
import { AttemptLimit } from './attempt-limit.js';
import { Links } from './links.js';
import { hashPassword, passwordMatches } from './secrets.js';
import { Sessions } from './sessions.js';

@Resolver()
export class AuthResolver {
  private readonly limit = new AttemptLimit(() => Date.now());

  constructor(
    private readonly database: Database,
    private readonly accounts: Accounts,
    private readonly sessions: Sessions,
    private readonly links: Links,
  ) {}

  @Access('anyone')
  @Query(() => Viewer, { nullable: true, description: 'Who is signed in; null for a stranger' })
  async viewer(@Ctx() context: RequestContext): Promise<Viewer | null> {
    const signedIn = await this.sessions.signedIn(context);
    return signedIn ? this.viewerOf(context, signedIn.accountId) : null;
  }

  @Access('anyone')
  @Mutation(() => Viewer, {
    description: 'Signs in by e-mail and password; sets the session cookie',
  })
  async signIn(
    @Ctx() context: RequestContext,
    @Args('email', { type: () => String }) email: string,
    @Args('password', { type: () => String }) password: string,
  ): Promise<Viewer> {
    const input = check(signInSchema, { email, password }, 'signIn');
    const keys = [`email ${input.email}`, `address ${context.req.ip}`];
    this.limit.check(keys);
    const account = await this.database.prisma.account.findUnique({
      where: { email: input.email },
    });
    if (!(await passwordMatches(account?.passwordHash, input.password)) || !account) {
      this.limit.failed(keys);
      throw new UserError('NOT_SIGNED_IN', 'E-mail and password do not go together.', {
        place: 'password',
        remedy: 'Try again, or have a one-time link made: npm start -- --link on the computer.',
      });
    }
    this.limit.succeeded([keys[0]]);
    await this.sessions.begin(context, account.id);
    return this.viewerOf(context, account.id);
  }

  @Access('anyone')
  @Mutation(() => Viewer, { description: 'Uses up a one-time link and signs its bearer in' })
  async enterByLink(
    @Ctx() context: RequestContext,
    @Args('token', { type: () => String }) token: string,
  ): Promise<Viewer> {
    const keys = [`link ${context.req.ip}`];
    this.limit.check(keys);
    const signedIn = await this.sessions.signedIn(context);
    try {
      const accountId = await this.links.use(token, signedIn?.accountId ?? null);
      if (signedIn?.accountId !== accountId) await this.sessions.begin(context, accountId);
      return await this.viewerOf(context, accountId);
    } catch (error) {
      if (error instanceof UserError) this.limit.failed(keys);
      throw error;
    }
  }

  @Access('account')
  @Mutation(() => Viewer, {
    description: 'Chooses how the viewer signs in from now on; other browsers are signed out',
  })
  async setPassword(
    @Ctx() context: RequestContext,
    @Args('email', { type: () => String }) email: string,
    @Args('password', { type: () => String, description: 'At least 12 characters' })
    password: string,
    @Args('name', { type: () => String, nullable: true }) name?: string,
  ): Promise<Viewer> {
    const input = check(
      setPasswordSchema,
      { email, password, name: name ?? undefined },
      'setPassword',
    );
    const signedIn = await this.sessions.signedIn(context);
    if (!signedIn) throw new Error('The rule of this operation asks for a signed-in account');
    const passwordHash = await hashPassword(input.password);
    await this.accounts.setPassword(signedIn.accountId, { ...input, passwordHash });
    await this.sessions.endOthers(signedIn);
    return this.viewerOf(context, signedIn.accountId);
  }

  @Access('anyone')
  @Mutation(() => Boolean, { description: 'Ends the session of this browser' })
  async signOut(@Ctx() context: RequestContext): Promise<boolean> {
    await this.sessions.end(context);
    return true;
  }

  /** The viewer, with the rights that the fields of its programs ask for. */
  private async viewerOf(context: RequestContext, accountId: string): Promise<Viewer> {
    for (const right of await accessToAll(this.database, accountId)) {
      context.rights.set(right.programId, right);
    }
    return this.accounts.viewer(accountId);
  }
}
