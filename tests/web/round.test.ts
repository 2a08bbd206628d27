import { randomUUID } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import type { BrowserContext, Page } from 'playwright-core';
import {
  addAnimal,
  asAdmin,
  Client,
  type Data,
  invited,
  newProgram,
  startService,
  type TestService,
} from '#tests/api/service.js';
import { accessibilityFaults, openPhone, setTheme, shoot, sidewaysScroll } from './browser.js';

// The same invented round, once on a phone whose network is off half the time and whose browser is closed in between,
// once at the desk through the API: both must end in the same records.

const web = fileURLToPath(new URL('../../../apps/web/dist', import.meta.url));
const EMAIL = 'keeper@example.org';
const PASSWORD = 'a long enough password';
const folder = mkdtempSync(join(tmpdir(), 'scutewright-phone-'));
const CODES = ['F1', 'F2', 'M1', 'M2', 'M3'];

let service: TestService;
let keeper: Client;
let phone: BrowserContext;
let page: Page;
let onPhone: string;
let atDesk: string;

/** A yard of two pens and five animals. */
async function yard(owner: Client, name: string): Promise<string> {
  const programId = await newProgram(owner, name);
  for (const code of CODES) {
    const sex = code.startsWith('F') ? 'FEMALE' : 'MALE';
    await addAnimal(owner, programId, { code, sex, hatched: '1995', origin: 'ACQUIRED' });
  }
  for (const pen of ['North', 'South']) {
    await owner.data(
      'mutation($programId: ID!, $input: AddPenInput!) { addPen(programId: $programId, input: $input) { pen { id } } }',
      { programId, input: { commandId: randomUUID(), name: pen } },
    );
  }
  await record(owner, programId, [{ on: '2024-04-01', move: { animals: CODES, pen: 'North' } }]);
  return programId;
}

async function record(client: Client, programId: string, entries: object[]): Promise<Data[]> {
  const input = { entries: entries.map((entry) => ({ id: randomUUID(), ...entry })) };
  const { recordEntries } = await client.data(
    'mutation($programId: ID!, $input: RecordEntriesInput!) { recordEntries(programId: $programId, input: $input) { answers { state sentence } } }',
    { programId, input },
  );
  return recordEntries.answers;
}

/** Everything written in a program, without the ids that the two cannot share. */
async function written(programId: string): Promise<Data> {
  const { yard, clutches, animals } = await keeper.data(
    `query($programId: ID!) {
      yard(programId: $programId) { pens { id name occupants { animal { code } since } } unplaced { code } }
      clutches(programId: $programId) { edges { node { clutch { id code } laid eggs pen dam { candidates { animal { code } basis } } } } }
      animals(programId: $programId) { edges { node { id code } } }
    }`,
    { programId },
  );
  const things = [
    ...yard.pens.map(({ id, name }: Data) => [name, id]),
    ...animals.edges.map(({ node }: Data) => [node.code, node.id]),
    ...clutches.edges.map(({ node }: Data) => [node.clutch.code, node.clutch.id]),
  ];
  const lines: Data = {};
  for (const [name, id] of things) {
    const { records } = await keeper.data(
      'query($programId: ID!, $id: ID!) { records(programId: $programId, id: $id) { kind date text note method } }',
      { programId, id },
    );
    lines[name] = records.map((line: Data) => JSON.stringify(line)).sort();
  }
  return {
    lines,
    pens: yard.pens.map(({ name, occupants }: Data) => ({ name, occupants })),
    unplaced: yard.unplaced,
    clutches: clutches.edges.map(({ node }: Data) => ({ ...node, clutch: node.clutch.code })),
  };
}

beforeAll(async () => {
  service = await startService({ SCUTEWRIGHT_WEB: web });
  const owner = await service.owner();
  onPhone = await yard(owner, 'On the phone');
  atDesk = await yard(owner, 'At the desk');
  keeper = await invited(owner, onPhone, 'KEEPER');
  await keeper.data(
    'mutation($email: String!, $password: String!) { setPassword(email: $email, password: $password, name: "A keeper") { account { id } } }',
    { email: EMAIL, password: PASSWORD },
  );
  const { inviteMember } = await owner.data(
    'mutation($programId: ID!, $input: InviteMemberInput!) { inviteMember(programId: $programId, input: $input) { link } }',
    { programId: atDesk, input: { commandId: randomUUID(), role: 'KEEPER' } },
  );
  await keeper.data('mutation($token: String!) { enterByLink(token: $token) { account { id } } }', {
    token: inviteMember.link.split('#token=')[1],
  });
  phone = await openPhone(folder);
  page = await phone.newPage();
}, 120_000);
afterAll(async () => {
  await phone?.close();
  await service?.stop();
  rmSync(folder, { recursive: true, force: true });
});

const round = () => `${service.url}/round/${onPhone}`;
const tap = (name: string | RegExp, within: Page = page) =>
  within.getByRole('button', { name }).first().click();
const open = (code: string) => page.locator('.heads .open', { hasText: code }).click();
const back = () => tap(/^Back to/);

async function signIn(): Promise<void> {
  await page.getByLabel(/e-?mail/i).fill(EMAIL);
  await page.getByLabel('Password', { exact: true }).fill(PASSWORD);
  await page.getByRole('main').locator('button[type=submit]').click();
}

async function faultsInThemes(): Promise<string[]> {
  const faults: string[] = [];
  for (const theme of ['dark', 'sun', 'light'] as const) {
    await setTheme(page, theme);
    faults.push(...(await accessibilityFaults(page)));
  }
  return faults;
}

describe('the yard round on a phone', () => {
  it('weighs with signal, and is clean in three themes', async () => {
    await page.goto(`${service.url}/sign-in?then=/round/${onPhone}`);
    await signIn();
    await page.getByText('All is sent').waitFor();
    await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
    expect(await sidewaysScroll(page)).toBe(0);
    expect(await faultsInThemes()).toEqual([]);
    await open('F1');
    expect(await faultsInThemes()).toEqual([]);
    await tap('Weigh');
    await page.getByLabel('Weight in g').fill('2310');
    expect(await faultsInThemes()).toEqual([]);
    await shoot(page, 'round-weigh-390');
    await tap('Save');
    await page.getByText('All is sent').waitFor();
    await back();
    await shoot(page, 'round-390');
  }, 240_000);

  it('goes on without signal, and survives being closed', async () => {
    await phone.setOffline(true);
    await tap(/^M1 Seen/);
    await open('F2');
    await tap('Eggs');
    await page.getByRole('textbox', { name: 'Eggs', exact: true }).fill('9');
    await page.getByLabel('I saw her lay').check();
    await tap('Save');
    await back();
    await open('M2');
    await tap('Move');
    await tap('South');
    await page.getByText('3 to send').waitFor();
    await phone.close();

    phone = await openPhone(folder);
    await phone.setOffline(true);
    page = await phone.newPage();
    await page.goto(round());
    await page.getByText('3 to send').waitFor();
    // What was moved is shown where it was moved to, though nobody else knows yet.
    expect(await page.locator('.heads .open', { hasText: 'M2' }).count()).toBe(0);
    await open('M1');
    await tap('Mating');
    await tap(/^F1/);
    await back();
    await open('M3');
    await tap('Dead');
    await tap('Heat');
    await page.getByText('5 to send').waitFor();
    await page.goto(round());
    await tap('Count heads');
    await page.getByLabel('Heads counted').fill('3');
    await tap('Save');
    // A slip of the finger, taken back before it was ever sent.
    await tap('More');
    await tap('Note');
    await page.getByLabel('Note on the pen').fill('a slip');
    await tap('Save');
    await page.getByText('7 to send').waitFor();
    await tap(/^Undo North: a slip/);
    await page.getByText('6 to send').waitFor();
    await shoot(page, 'round-no-signal-390');
    expect(await faultsInThemes()).toEqual([]);
  }, 240_000);

  it('asks to sign in when the session is over, loses nothing, and sends once from two tabs', async () => {
    await asAdmin(service.databaseName, (client) => client.query('DELETE FROM session'));
    await phone.setOffline(false);
    await page.getByText('Signed out.').waitFor();
    expect(await page.getByText('6 to send').count()).toBe(1);
    await page.getByRole('link', { name: 'Sign in' }).click();
    await signIn();
    const second = await phone.newPage();
    await second.goto(round());
    await page.getByText('All is sent').waitFor();
    await second.getByText('All is sent').waitFor();
    await second.close();
  }, 240_000);

  it('ends in the same records as the same round at the desk', async () => {
    keeper = await signedInByPassword();
    const on = await page.evaluate(() => {
      const now = new Date();
      return new Date(now.getTime() - now.getTimezoneOffset() * 60_000).toISOString().slice(0, 10);
    });
    const answers = await record(keeper, atDesk, [
      { on, measured: { animal: 'F1', massG: 2310 } },
      { on, seen: { animals: ['M1'] } },
      { on, laid: { dams: [{ ref: 'F2' }], eggs: 9, seenLaying: true, pen: 'North' } },
      { on, move: { animals: ['M2'], pen: 'South' } },
      { on, mating: { male: 'M1', female: 'F1' } },
      { on, died: { animal: 'M3', cause: 'HEAT' } },
      { on, seen: { pen: 'North', count: 3 } },
    ]);
    expect(answers.map(({ state }) => state)).toEqual(Array(7).fill('WRITTEN'));
    const phoneRecords = await written(onPhone);
    expect(phoneRecords).toEqual(await written(atDesk));
    expect(phoneRecords.clutches).toHaveLength(1);
    // Sent once more, as a phone does that never heard the answer: nothing is written again.
    const queued: Data[] = await page.evaluate(
      () =>
        new Promise((resolve) => {
          const request = indexedDB.open('scutewright-phone');
          request.onsuccess = () => {
            const all = request.result.transaction('queue').objectStore('queue').getAll();
            all.onsuccess = () => resolve(all.result.map(({ entry }) => entry));
          };
        }),
    );
    expect(queued).toHaveLength(7);
    const again = await record(keeper, onPhone, queued);
    expect(again.map(({ state }) => state)).toEqual(Array(7).fill('DUPLICATE'));
    expect(await written(onPhone)).toEqual(phoneRecords);
  }, 120_000);

  it('keeps what cannot be written in the inbox, and shows why', async () => {
    await page.goto(round());
    await open('F1');
    await tap('Weigh');
    await page.getByLabel('Weight in g').fill('23');
    await tap('Save');
    await page.getByText(/Is a digit missing/).waitFor();
    const { waitingEntries } = await keeper.data(
      'query($programId: ID!) { waitingEntries(programId: $programId) { kind } }',
      { programId: onPhone },
    );
    expect(waitingEntries).toEqual([{ kind: 'measured' }]);
    // At the desk it is said in words, without an id, and is mended there.
    const desk = await phone.newPage();
    await desk.goto(`${service.url}/programs/${onPhone}/write/waiting`);
    await desk.getByText('Animal: F1; Weight, g: 23').waitFor();
    await shoot(desk, 'waiting-390');
    await desk.getByRole('link', { name: 'Change and write anew' }).click();
    await desk.getByRole('button', { name: 'Take out F1' }).waitFor();
    await desk.getByLabel('Weight, g', { exact: true }).fill('2330');
    await desk.getByRole('button', { name: 'Write it down' }).click();
    await desk
      .getByText(/F1: weight 2,330 g/)
      .first()
      .waitFor();
    await desk.goto(`${service.url}/programs/${onPhone}/write/waiting`);
    await desk.getByText('Nothing waits').waitFor();
    await desk.close();
  }, 120_000);

  it('opens a clutch, its acts and the acts of a pen, clean in three themes', async () => {
    await page.goto(round());
    await tap('More');
    expect(await faultsInThemes()).toEqual([]);
    await shoot(page, 'round-pen-acts-390');
    await tap('Move many');
    await tap('F1 ');
    expect(await faultsInThemes()).toEqual([]);
    await shoot(page, 'round-move-many-390');
    await page.goto(round());
    await page.getByLabel('Go to').selectOption({ label: 'Clutches and boxes' });
    await shoot(page, 'round-clutches-390');
    expect(await faultsInThemes()).toEqual([]);
    const { clutches } = await keeper.data(
      'query($programId: ID!) { clutches(programId: $programId) { edges { node { clutch { id code } } } } }',
      { programId: onPhone },
    );
    // As the label on its box leads there.
    const { id, code } = clutches.edges[0].node.clutch;
    await page.goto(`${round()}?clutch=${id}`);
    await page.getByRole('heading', { level: 1, name: code }).waitFor();
    expect(await faultsInThemes()).toEqual([]);
    await shoot(page, 'round-clutch-390');
    await tap(/^Hatched$/);
    await page.getByLabel('How many').fill('3');
    await page.getByLabel('Day').fill('2025-08-01');
    expect(await faultsInThemes()).toEqual([]);
    expect(await sidewaysScroll(page)).toBe(0);
    await shoot(page, 'round-hatched-390');
    await page.goto(round());
    await open('F1');
    await shoot(page, 'round-animal-390');
    await tap('Sex');
    await shoot(page, 'round-sex-390');
  }, 240_000);

  it('keeps a photo without signal, answers a label of what is not here, and lets an escaped one be found dead', async () => {
    await page.goto(round());
    await page.getByText('All is sent').waitFor();
    await phone.setOffline(true);
    await page.goto(`${round()}?animal=F1&act=photo`);
    // One grey dot.
    const dot =
      'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==';
    await page.getByLabel('Take or choose a photo').setInputFiles({
      name: 'f1.png',
      mimeType: 'image/png',
      buffer: Buffer.from(dot, 'base64'),
    });
    await page.getByAltText('As it will be kept').waitFor();
    expect(await faultsInThemes()).toEqual([]);
    await tap('Save');
    await page.getByText('1 waits to be sent').waitFor();
    await page.goto(`${round()}?animal=M1&act=gone`);
    await tap('It got out');
    await page.getByRole('heading', { level: 1, name: 'M1' }).waitFor();
    await tap('Dead');
    await tap('Predator');
    await page.goto(`${round()}?clutch=${randomUUID()}`);
    await page.getByText('This clutch is not kept on the phone.').waitFor();
    expect(await faultsInThemes()).toEqual([]);
    await phone.setOffline(false);
    await page.goto(round());
    await page.getByText('All is sent').waitFor();
    await tap('Find by photo');
    await page.getByAltText('F1, as it looked last').waitFor();
    const ids = async (code: string) =>
      (
        await keeper.data(
          'query($programId: ID!, $code: String) { animal(programId: $programId, code: $code) { id } }',
          { programId: onPhone, code },
        )
      ).animal.id;
    const { photos } = await keeper.data(
      'query($programId: ID!, $animalId: ID!) { photos(programId: $programId, animalId: $animalId) { photos { date } } }',
      { programId: onPhone, animalId: await ids('F1') },
    );
    expect(photos.photos).toHaveLength(1);
    const { records } = await keeper.data(
      'query($programId: ID!, $id: ID!) { records(programId: $programId, id: $id) { text } }',
      { programId: onPhone, id: await ids('M1') },
    );
    const texts = records.map(({ text }: Data) => text);
    expect(texts).toEqual(expect.arrayContaining(['Escaped', 'Died (Predator)']));
  }, 60_000);

  it('shows nothing of the yard after signing out', async () => {
    await page.goto(`${service.url}/programs/${onPhone}/program`);
    await tap('Sign out');
    await page.getByRole('heading', { name: 'Sign in' }).waitFor();
    await phone.setOffline(true);
    await page.goto(round());
    await page.getByText('Nothing of the yard is kept').waitFor();
    expect(await page.locator('main').textContent()).not.toMatch(/F1|M1|North/);
    await phone.setOffline(false);
  }, 120_000);
});

describe('from the kitchen table, and on paper', () => {
  it('tells two animals, their years and a pale young one, and answers', async () => {
    await page.goto(`${service.url}/sign-in`);
    await signIn();
    await page
      .getByRole('navigation', { name: /^Places/ })
      .first()
      .waitFor();
    await page.goto(`${service.url}/programs/new`);
    await page.getByLabel('Name of the program').fill('Kiln Yard');
    await page.getByRole('button', { name: 'Make the program' }).click();
    await page.getByRole('heading', { level: 1, name: /kitchen table/ }).waitFor();
    const main = page.getByRole('main');
    await main.getByLabel('Species of your animals').fill('Testudo hermanni');
    for (const [name, sex] of [
      ['Boss', 'Male'],
      ['Notch', 'Male'],
      ['Biscuit', 'Female'],
    ]) {
      await main.getByLabel('What you call it').first().fill(name);
      await main.getByRole('radio', { name: sex, exact: true }).first().check({ force: true });
      await main.getByLabel('With you since about').fill('1999');
      await tap(`Add ${name}`);
      await main.getByRole('link', { name: `change ${name}` }).waitFor();
    }
    await main.getByLabel('From', { exact: true }).fill('2008');
    await main.getByLabel('To', { exact: true }).fill('2019');
    for (const name of ['Boss', 'Notch', 'Biscuit']) await tap(name);
    await tap('That is how it was');
    await main
      .getByText(/in The old yard 2008 to 2019/)
      .first()
      .waitFor();
    await tap('That is the look');
    await main.getByRole('heading', { name: 'A pale young one' }).waitFor();
    await main.getByLabel('What you call it').last().fill('Cream');
    await main.getByLabel('Year', { exact: true }).fill('2015');
    await main
      .getByRole('group', { name: /Whose egg/ })
      .getByRole('button', { name: 'Biscuit' })
      .click();
    await tap('Write it down');
    await main.getByText(/Cream is by one of 2 males/).waitFor();
    await page.waitForLoadState('networkidle');
    await shoot(page, 'start-390');
    expect(await sidewaysScroll(page)).toBe(0);
    expect(await faultsInThemes()).toEqual([]);
  }, 240_000);

  it('prints cards, labels, sheet and stock book', async () => {
    for (const [sheet, words] of [
      ['pens', /North/],
      ['animals', /F1/],
      ['clutches', /F2/],
      ['lots', /No lot/],
      ['season', /Who moved/],
      ['stock', /Testudo hermanni/],
    ] as const) {
      await page.goto(`${service.url}/programs/${onPhone}/paper?sheet=${sheet}`);
      await page.getByRole('article').getByText(words).first().waitFor();
      expect({ sheet, faults: await accessibilityFaults(page) }).toEqual({ sheet, faults: [] });
      const pdf = await page.pdf({ preferCSSPageSize: true });
      expect(pdf.length).toBeGreaterThan(5000);
    }
    expect(await faultsInThemes()).toEqual([]);
  }, 240_000);
});

async function signedInByPassword(): Promise<Client> {
  const client = new Client(service.url);
  await client.data(
    'mutation($email: String!, $password: String!) { signIn(email: $email, password: $password) { account { id } } }',
    { email: EMAIL, password: PASSWORD },
  );
  return client;
}
