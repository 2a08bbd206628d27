import { request } from 'node:http';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import { serverAudits } from 'graphql-http';
import { type Answer, startService, type TestService } from './service.js';

let service: TestService;
beforeAll(async () => {
  service = await startService();
});
afterAll(() => service.stop());

const post = (body: unknown, headers: Record<string, string> = {}) =>
  fetch(`${service.url}/graphql`, {
    method: 'POST',
    headers: { 'content-type': 'application/json', ...headers },
    body: typeof body === 'string' ? body : JSON.stringify(body),
  });

describe('GraphQL over HTTP', () => {
  // Source: the public audit suite of the GraphQL over HTTP specification (package graphql-http).
  // GET is refused without a header of our own, against forged requests; the audits that use GET send it.
  const audits = serverAudits({
    url: () => `${service.url}/graphql`,
    fetchFn: (url: string, init: RequestInit = {}) =>
      fetch(url, {
        ...init,
        headers: {
          ...(init.headers as Record<string, string>),
          'apollo-require-preflight': 'audit',
        },
      }),
  });
  it.each(audits.map((audit) => [audit.name, audit] as const))('%s', async (_name, audit) => {
    const result = await audit.fn();
    if (result.status === 'error') throw new Error(result.reason);
    // A SHOULD or MAY of the specification may be a notice or warning; a MUST may not.
    if (audit.name.startsWith('MUST')) expect(result.status).toBe('ok');
    expect(['ok', 'notice', 'warn']).toContain(result.status);
  });
});

describe('protection', () => {
  it('is healthy and ready', async () => {
    expect((await fetch(`${service.url}/healthz`)).status).toBe(200);
    expect(await (await fetch(`${service.url}/readyz`)).json()).toEqual({ status: 'ready' });
  });

  it('refuses other host names, other origins and forgeable requests', async () => {
    const { port } = new URL(service.url);
    const status = await new Promise((resolve, reject) => {
      request(
        { host: '127.0.0.1', port, path: '/healthz', headers: { host: 'evil.example' } },
        (res) => resolve(res.statusCode),
      )
        .on('error', reject)
        .end();
    });
    expect(status).toBe(421);
    expect(
      (await post({ query: '{ __typename }' }, { origin: 'http://evil.example' })).status,
    ).toBe(403);
    expect((await fetch(`${service.url}/graphql?query={__typename}`)).status).toBe(400);
  });

  it('sends security headers and no hint of what it is made of', async () => {
    const { headers } = await post({ query: '{ __typename }' });
    expect(headers.get('content-security-policy')).toContain("default-src 'self'");
    expect(headers.get('x-content-type-options')).toBe('nosniff');
    expect(headers.get('x-powered-by')).toBeNull();
  });

  it('limits depth, size and the number of fields', async () => {
    const deep = `{ viewer { memberships { program { members { account { ${'id '.repeat(3)} } } } } } }`;
    expect((await post({ query: deep })).status).toBe(200);
    const tooDeep = `query($p: ID!) { animal(programId: $p) ${'{ clutch { animals '.repeat(9)} { id } ${'} }'.repeat(9)} }`;
    const answer = (await (await post({ query: tooDeep, variables: { p: 'x' } })).json()) as Answer;
    expect(answer.errors?.[0].extensions.code).toBe('TOO_COMPLEX');
    const many = `{ ${Array.from({ length: 2000 }, (_, i) => `a${i}: viewer { account { id } }`).join(' ')} }`;
    const tooMany = (await (await post({ query: many })).json()) as Answer;
    expect(tooMany.errors?.[0].extensions.code).toBe('TOO_COMPLEX');
    expect(
      (await post({ query: `{ viewer { account { id } } } # ${'x'.repeat(1_100_000)}` })).status,
    ).toBe(413);
  });

  it('lets no inner detail out', async () => {
    const answers = [
      await post('{ this is not json'),
      await post({ query: '{ nothing }' }),
      await post({ query: 'query { animal(programId: "x") { id } }' }),
      await post({ query: 'mutation { enterByLink(token: "x") { account { id } } }' }),
    ];
    for (const answer of answers) {
      const text = await answer.text();
      expect(text).not.toMatch(/node_modules|\.js:\d|at [A-Z]\w+\.|prisma|stacktrace/i);
      expect(text.length).toBeLessThan(2000);
    }
  });
});
