import { randomUUID } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import {
  asAdmin,
  type Client,
  newProgram,
  startService,
  type TestService,
} from '#tests/api/service.js';
import { openBrowser, openPhone, openWindow, shoot } from './browser.js';
import { recordsOf } from './same-records.js';
import { deskNotebook } from './season-desk.js';
import { SEASON, START } from './season-list.js';
import { phoneNotebook } from './season-phone.js';

// One invented season, written down twice: at the desk, and on a phone whose network is off half the time. The two programs
// began from the same file and must end in the same database.

const web = fileURLToPath(new URL('../../../apps/web/dist', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'scutewright-season-'));
/** So many entries are made with signal, then as many without. */
const STRETCH = 5;

let service: TestService;
let owner: Client;
let browser: Browser;
let phone: BrowserContext;
let atDesk: string;
let onPhone: string;

beforeAll(async () => {
  service = await startService({ SCUTEWRIGHT_WEB: web });
  owner = await service.owner();
  atDesk = await begun('At the desk');
  onPhone = await begun('On the phone');
  browser = await openBrowser();
  phone = await openPhone(folder);
}, 120_000);
afterAll(async () => {
  await phone?.close();
  await browser?.close();
  await service?.stop();
  rmSync(folder, { recursive: true, force: true });
});

/** A program as the file has it, with two more pens. */
async function begun(name: string): Promise<string> {
  const programId = await newProgram(owner, name);
  const { uploadId } = await owner.upload(programId, START);
  await owner.data(
    'mutation($programId: ID!, $input: ImportProgramFileInput!) { importProgramFile(programId: $programId, input: $input) { created } }',
    {
      programId,
      input: { commandId: randomUUID(), uploadId, isDryRun: false, makesProposed: true },
    },
  );
  for (const pen of [{ name: 'Paddock' }, { name: 'Apart', isQuarantine: true }]) {
    await owner.data(
      'mutation($programId: ID!, $input: AddPenInput!) { addPen(programId: $programId, input: $input) { pen { id } } }',
      { programId, input: { commandId: randomUUID(), ...pen } },
    );
  }
  return programId;
}

async function signedIn(context: BrowserContext): Promise<Page> {
  const [name, value] = owner.cookies.split('=');
  await context.addCookies([{ name, value, url: service.url }]);
  return context.newPage();
}

describe('a season written down twice', () => {
  it('begins from the same records', async () => {
    const records = await recordsOf(service.databaseName, atDesk);
    expect(records).toEqual(await recordsOf(service.databaseName, onPhone));
    expect(records.animal).toHaveLength(9);
    expect(records.observation.length).toBeGreaterThan(15);
  }, 60_000);

  it('at the desk', async () => {
    const page = await signedIn(await openWindow(browser, 1280));
    const desk = deskNotebook(page, (path) => `${service.url}/programs/${atDesk}/${path}`);
    for (const write of SEASON) await write(desk);
    await shoot(page, 'season-twice-desk-1280');
  }, 400_000);

  it('on a phone, without signal half the time', async () => {
    const page = await signedIn(phone);
    await page.goto(`${service.url}/round/${onPhone}`);
    await page.getByText('All is sent').waitFor();
    await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
    const round = phoneNotebook(page);
    for (const [k, write] of SEASON.entries()) {
      if (k % STRETCH === 0) {
        const isOff = (k / STRETCH) % 2 === 1;
        await phone.setOffline(isOff);
        if (!isOff) await page.getByText('All is sent').waitFor();
      }
      await write(round);
    }
    await shoot(page, 'season-twice-no-signal-390');
    await phone.setOffline(false);
    await page.getByText('All is sent').waitFor();
    expect(await page.getByText('Not written').count()).toBe(0);
    await shoot(page, 'season-twice-390');
  }, 400_000);

  it('ends in the same database', async () => {
    const desk = await recordsOf(service.databaseName, atDesk);
    expect(await recordsOf(service.databaseName, onPhone)).toEqual(desk);
    expect(desk.undecided_entry).toEqual([]);
    expect(desk.clutch).toHaveLength(3);
    // 9 of the file, one that arrived, three with codes, one found.
    expect(desk.animal).toHaveLength(14);
    expect(desk.transfer).toHaveLength(3);
    // The comparison sees a single day that differs.
    await asAdmin(service.databaseName, async (client) => {
      await client.query('SET session_replication_role = replica');
      await client.query(
        'UPDATE stay SET "from" = \'2025-10-14\' WHERE program_id = $1 AND "from" = \'2025-10-15\'',
        [onPhone],
      );
    });
    expect((await recordsOf(service.databaseName, onPhone)).stay).not.toEqual(desk.stay);
  }, 60_000);
});
