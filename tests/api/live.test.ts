import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import {
  addAnimal,
  Client,
  invited,
  newProgram,
  startService,
  type TestService,
} from './service.js';

let service: TestService;
let owner: Client;
let programId: string;
beforeAll(async () => {
  service = await startService();
  owner = await service.owner();
  programId = await newProgram(owner, 'Live');
}, 120_000);
afterAll(() => service.stop());

/** Follows a stream of the program; `next` waits for the next revision it tells, null when it ends. */
async function follow(client: Client) {
  const response = await fetch(`${client.url}/live/${programId}`, {
    headers: { cookie: client.cookies },
  });
  const reader = response.body?.pipeThrough(new TextDecoderStream()).getReader();
  const told: string[] = [];
  const next = async (): Promise<number | null> => {
    while (told.length === 0) {
      const { value, done } = (await reader?.read()) ?? { value: undefined, done: true };
      if (done) return null;
      told.push(...(value?.match(/\d+/g) ?? []));
    }
    return Number(told.shift());
  };
  return { response, next, close: () => reader?.cancel() };
}

describe('an open page', () => {
  it('hears of a record within a second, whichever process wrote it', async () => {
    const stream = await follow(owner);
    expect(stream.response.headers.get('content-type')).toContain('text/event-stream');
    const before = await stream.next();
    const elsewhere = owner.at(await service.another());
    await addAnimal(elsewhere, programId, { code: 'L-1' });
    const started = performance.now();
    expect(await stream.next()).toBe((before ?? 0) + 1);
    expect(performance.now() - started).toBeLessThan(1000);
    await stream.close();
  }, 30_000);

  it('is refused to strangers, and ends when the membership does', async () => {
    expect((await follow(new Client(service.url))).response.status).toBe(401);
    const other = await invited(owner, await newProgram(owner, 'Other'), 'OWNER');
    expect((await follow(other)).response.status).toBe(404);
    const reader = await invited(owner, programId, 'READER');
    const { viewer } = await reader.data('{ viewer { account { id } } }');
    const stream = await follow(reader);
    expect(await stream.next()).not.toBeNull();
    await owner.data(
      'mutation($programId: ID!, $input: RemoveMemberInput!) { removeMember(programId: $programId, input: $input) { id } }',
      { programId, input: { commandId: crypto.randomUUID(), accountId: viewer.account.id } },
    );
    await addAnimal(owner, programId, { code: 'L-2' });
    expect(await stream.next()).toBeNull();
  });

  it('does not keep the service from stopping', async () => {
    const stream = await follow(owner);
    await stream.next();
    const started = performance.now();
    await service.stop();
    expect(await stream.next()).toBeNull();
    expect(performance.now() - started).toBeLessThan(5000);
  }, 20_000);
});
