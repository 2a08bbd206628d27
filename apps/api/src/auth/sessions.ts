import { Injectable } from '@nestjs/common';
import { Database } from '../db/database.js';
import type { RequestContext, SignedIn } from '../graphql/context.js';
import { PublicAddress } from '../http/public-address.js';
import { newSecret, secretHash } from './secrets.js';

const LIFETIME_MS = 180 * 24 * 3_600_000;

/** Signed-in browsers: a random secret in an HttpOnly cookie, its hash in the database. */
@Injectable()
export class Sessions {
  /** Over plain HTTP (localhost, a yard's own network) a cookie cannot be Secure, nor bear the __Host- name. */
  private readonly isSecure: boolean;
  private readonly cookieName: string;

  constructor(
    private readonly database: Database,
    address: PublicAddress,
  ) {
    this.isSecure = address.base.startsWith('https:');
    this.cookieName = this.isSecure ? '__Host-scutewright' : 'scutewright';
  }

  /** Who sent this request; looked up once. Null for a stranger and for a session that ended. */
  signedIn(context: RequestContext): Promise<SignedIn | null> {
    context.signedIn ??= this.lookUp(context);
    return context.signedIn;
  }

  async begin(context: RequestContext, accountId: string): Promise<void> {
    const secret = newSecret();
    const expiresAt = new Date(Date.now() + LIFETIME_MS);
    const hash = secretHash(secret);
    await this.database.prisma.session.create({ data: { secretHash: hash, accountId, expiresAt } });
    context.res.cookie(this.cookieName, secret, {
      httpOnly: true,
      sameSite: 'lax',
      secure: this.isSecure,
      path: '/',
      expires: expiresAt,
    });
    context.signedIn = Promise.resolve({ accountId, sessionHash: hash });
  }

  async end(context: RequestContext): Promise<void> {
    const signedIn = await this.signedIn(context);
    if (signedIn) {
      await this.database.prisma.session.deleteMany({
        where: { secretHash: signedIn.sessionHash },
      });
    }
    context.res.clearCookie(this.cookieName, { path: '/', secure: this.isSecure, httpOnly: true });
    context.signedIn = Promise.resolve(null);
  }

  /** After a new password: every other browser has to sign in again. */
  async endOthers(signedIn: SignedIn): Promise<void> {
    await this.database.prisma.session.deleteMany({
      where: { accountId: signedIn.accountId, secretHash: { not: signedIn.sessionHash } },
    });
  }

  private async lookUp(context: RequestContext): Promise<SignedIn | null> {
    const secret = readCookie(context.req.headers.cookie, this.cookieName);
    if (!secret) return null;
    const hash = secretHash(secret);
    const session = await this.database.prisma.session.findUnique({
      where: { secretHash: hash },
      select: { accountId: true, expiresAt: true },
    });
    if (!session || session.expiresAt < new Date()) return null;
    return { accountId: session.accountId, sessionHash: hash };
  }
}

function readCookie(header: string | undefined, name: string): string | null {
  for (const part of header?.split(';') ?? []) {
    const [key, value] = part.trim().split('=');
    if (key === name && value) return value;
  }
  return null;
}
