import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import { firstRun } from '@scutewright/api/first-run';
import {
  asAdmin,
  Client,
  freshDatabase,
  invited,
  newProgram,
  startService,
  type TestService,
} from './service.js';

let service: TestService;
beforeAll(async () => {
  service = await startService();
});
afterAll(() => service.stop());

const ENTER =
  'mutation($token: String!) { enterByLink(token: $token) { account { id hasPassword } } }';
const SET =
  'mutation($email: String!, $password: String!) { setPassword(email: $email, password: $password) { account { email hasPassword } } }';
const SIGN_IN =
  'mutation($email: String!, $password: String!) { signIn(email: $email, password: $password) { account { email } } }';
const WHO = '{ viewer { account { email } memberships { role program { name } } } }';
const password = 'four slow green stones';

describe('signing in', () => {
  it('lets the owner in once by the link, then by the chosen password', async () => {
    const owner = await service.owner();
    const set = await owner.data(SET, { email: 'Owner@Example.org', password });
    expect(set.setPassword.account).toEqual({ email: 'owner@example.org', hasPassword: true });
    const browser = new Client(service.url);
    expect((await browser.data(WHO)).viewer).toBeNull();
    await browser.data(SIGN_IN, { email: 'OWNER@example.org', password });
    expect((await browser.data(WHO)).viewer.account.email).toBe('owner@example.org');
    await browser.data('mutation { signOut }');
    expect((await browser.data(WHO)).viewer).toBeNull();
  });

  it('refuses a link that was used, and one that was never made', async () => {
    const owner = await service.owner();
    const programId = await newProgram(owner);
    const data = await owner.data(
      'mutation($programId: ID!, $input: InviteMemberInput!) { inviteMember(programId: $programId, input: $input) { link } }',
      { programId, input: { commandId: randomUUID(), role: 'READER' } },
    );
    const token = data.inviteMember.link.split('#token=')[1];
    const guest = new Client(service.url);
    await guest.data(ENTER, { token });
    expect((await guest.data(WHO)).viewer.memberships).toEqual([
      { role: 'READER', program: { name: 'Saltmarsh' } },
    ]);
    for (const bad of [token, 'never-made']) {
      const error = await new Client(service.url).refusal(ENTER, { token: bad });
      expect(error.extensions).toMatchObject({
        code: 'LINK_USED_OR_EXPIRED',
        remedy: expect.stringContaining('--link'),
      });
    }
  });

  it('refuses a link that has run out', async () => {
    const owner = await service.owner();
    const programId = await newProgram(owner);
    const data = await owner.data(
      'mutation($programId: ID!, $input: InviteMemberInput!) { inviteMember(programId: $programId, input: $input) { link } }',
      { programId, input: { commandId: randomUUID(), role: 'READER' } },
    );
    await asAdmin(service.databaseName, (client) =>
      client.query(
        "UPDATE invitation SET expires_at = now() - interval '1 minute' WHERE used_at IS NULL",
      ),
    );
    const token = data.inviteMember.link.split('#token=')[1];
    const error = await new Client(service.url).refusal(ENTER, { token });
    expect(error.extensions.code).toBe('LINK_USED_OR_EXPIRED');
  });

  it('marks the cookie by the way it travels: __Host- and secure over HTTPS, plain on a home network', async () => {
    const cookieAt = async (url: string) => {
      const response = await fetch(`${url}/graphql`, {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: JSON.stringify({
          query: SIGN_IN,
          variables: { email: 'owner@example.org', password },
        }),
      });
      return response.headers.get('set-cookie');
    };
    expect(await cookieAt(service.url)).toMatch(
      /^scutewright=[\w-]{43}; .*HttpOnly; SameSite=Lax$/,
    );
    const secure = await startService({ SCUTEWRIGHT_PUBLIC_URL: 'https://herd.example.org' });
    const owner = await secure.owner();
    await owner.data(SET, { email: 'owner@example.org', password });
    expect(await cookieAt(secure.url)).toMatch(
      /^__Host-scutewright=[\w-]{43}; .*Path=\/; .*HttpOnly; Secure; SameSite=Lax$/,
    );
    await secure.stop();
  });

  it('says the same for a wrong password and for nobody, and stops guessing after ten', async () => {
    const browser = new Client(service.url);
    const email = 'nobody@example.org';
    const first = await browser.refusal(SIGN_IN, { email, password: 'wrong' });
    const known = await browser.refusal(SIGN_IN, { email: 'owner@example.org', password: 'wrong' });
    expect(known.message).toBe(first.message);
    for (let i = 0; i < 9; i++) await browser.refusal(SIGN_IN, { email, password: 'wrong' });
    const stopped = await browser.refusal(SIGN_IN, { email, password: 'wrong' });
    expect(stopped.extensions).toMatchObject({
      code: 'TOO_MANY_ATTEMPTS',
      remedy: expect.stringMatching(/Wait \d+ minute/),
    });
  });

  it('refuses a short password and an address of another account', async () => {
    const owner = await service.owner();
    const short = await owner.refusal(SET, { email: 'owner@example.org', password: 'short' });
    expect(short.extensions).toMatchObject({
      code: 'BAD_USER_INPUT',
      place: 'setPassword.password',
    });
    const guest = await invited(owner, await newProgram(owner), 'READER');
    const taken = await guest.refusal(SET, { email: 'owner@example.org', password });
    expect(taken.extensions).toMatchObject({ code: 'CONFLICT', place: 'email' });
  });

  it('keeps hashes only, and no secret of a link or a session', async () => {
    const { accounts, sessions } = await asAdmin(service.databaseName, async (client) => ({
      accounts: (
        await client.query('SELECT password_hash FROM account WHERE password_hash IS NOT NULL')
      ).rows,
      sessions: (await client.query('SELECT length(secret_hash) AS length FROM session')).rows,
    }));
    expect(accounts.length).toBeGreaterThan(0);
    for (const { password_hash } of accounts)
      expect(password_hash).toMatch(/^\$argon2id\$v=19\$m=19456,t=2,p=1\$/);
    expect(sessions.every(({ length }) => length === 32)).toBe(true);
  });

  it('makes the first owner from the environment, and nothing twice', async () => {
    const { url, name } = await freshDatabase();
    const options = { demo: true, email: 'first@example.org', password };
    expect(await firstRun(url, options)).toMatchObject({
      madeOwner: true,
      madeDemo: true,
      linkSecret: null,
    });
    expect(await firstRun(url, options)).toMatchObject({
      madeOwner: false,
      madeDemo: false,
      linkSecret: null,
    });
    const { rows } = await asAdmin(name, (client) =>
      client.query(
        'SELECT (SELECT count(*)::int FROM account) AS accounts, (SELECT count(*)::int FROM program) AS programs',
      ),
    );
    expect(rows[0]).toEqual({ accounts: 1, programs: 1 });
  });
});
