import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import type { Browser, Page } from 'playwright-core';
import { startService, type TestService } from '#tests/api/service.js';
import {
  accessibilityFaults,
  openBrowser,
  openWindow,
  setTheme,
  shoot,
  sidewaysScroll,
} from './browser.js';

const web = fileURLToPath(new URL('../../../apps/web/dist', import.meta.url));
let browser: Browser;
let service: TestService;

beforeAll(async () => {
  browser = await openBrowser();
  service = await startService({ SCUTEWRIGHT_WEB: web }, { demo: true });
});
afterAll(async () => {
  await browser?.close();
  await service?.stop();
});

/** Comes in by a one-time link and leaves the password for later. */
async function comeIn(page: Page): Promise<void> {
  const owner = await service.owner();
  const { viewer } = await owner.data('{ viewer { memberships { program { id } } } }');
  const programId = viewer.memberships[0].program.id;
  const { inviteMember } = await owner.data(
    'mutation($programId: ID!, $input: InviteMemberInput!) { inviteMember(programId: $programId, input: $input) { link } }',
    { programId, input: { commandId: crypto.randomUUID(), role: 'KEEPER' } },
  );
  await page.goto(`${service.url}/enter#${inviteMember.link.split('#')[1]}`);
  await page.getByRole('button', { name: 'Not now' }).click();
  await places(page).waitFor();
}

/** The list of places: in the head of the page, on a phone within reach of the thumb. */
const places = (page: Page) => page.getByRole('navigation', { name: /^Places/ }).first();

/** Waits until nothing is being fetched or drawn any more. */
async function settled(page: Page): Promise<void> {
  await page.waitForLoadState('networkidle');
  await page.waitForFunction(
    () => document.querySelectorAll('[aria-busy="true"], .skeleton').length === 0,
    undefined,
    { timeout: 60_000 },
  );
}

describe.each([1280, 390])('the console at %i pixels', (width) => {
  let page: Page;
  beforeAll(async () => {
    page = await (await openWindow(browser, width)).newPage();
    await comeIn(page);
  });

  it('shows every place without a fault, in three themes', async () => {
    // On a phone the bar under the thumb has room for some; the others are in the page all the same.
    const listed = await page
      .locator('nav[aria-label^="Places"] a')
      .evaluateAll((links) =>
        links.map((link) => [link.textContent ?? '', (link as HTMLAnchorElement).href]),
      );
    expect(listed.length).toBeGreaterThan(6);
    for (const [name, address] of new Map(
      listed.map(([name, address]) => [address, [name, address]]),
    ).values()) {
      await page.goto(address);
      await page.getByRole('heading', { level: 1 }).waitFor();
      await settled(page);
      await shoot(page, `${name.toLowerCase()}-${width}`);
      expect({ name, sideways: await sidewaysScroll(page) }).toEqual({ name, sideways: 0 });
      for (const theme of ['light', 'dark', 'sun'] as const) {
        await setTheme(page, theme);
        expect({ name, theme, faults: await accessibilityFaults(page) }).toEqual({
          name,
          theme,
          faults: [],
        });
      }
      await setTheme(page, 'light');
    }
  }, 240_000);

  it('finds an animal by its code, adds one, corrects it and takes it back', async () => {
    await page.goto(service.url);
    await places(page).getByRole('link', { name: 'Animals' }).click();
    await page.getByRole('heading', { level: 1 }).waitFor();
    await settled(page);
    await page.getByRole('link', { name: /^add/i }).first().click();
    await page.getByRole('textbox', { name: /^code/i }).fill(`WALK-${width}`);
    await page.getByLabel(/^species/i).fill('Testudo graeca');
    await page.getByRole('main').locator('button[type=submit]').click();
    await page.getByRole('heading', { level: 1, name: new RegExp(`WALK-${width}`) }).waitFor();
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.getByText(/Took back: Added/).waitFor();
  }, 120_000);

  it('opens an animal with its findings and why', async () => {
    const owner = await service.owner();
    const { viewer } = await owner.data('{ viewer { memberships { program { id } } } }');
    const programId = viewer.memberships[0].program.id;
    const { animal } = await owner.data(
      'query($programId: ID!) { animal(programId: $programId, code: "SG-168") { id inbreeding { value } } }',
      { programId },
    );
    await page.goto(`${service.url}/programs/${programId}/animals/${animal.id}`);
    await page.getByRole('heading', { level: 1, name: /SG-168/ }).waitFor();
    await settled(page);
    const text = await page.locator('main').textContent();
    expect(text).toContain(animal.inbreeding.value.toFixed(3));
    await shoot(page, `animal-${width}`);
    expect(await accessibilityFaults(page)).toEqual([]);
  }, 120_000);

  it('gives each of the four answers, with what it rests on', async () => {
    const owner = await service.owner();
    const { viewer } = await owner.data('{ viewer { memberships { program { id } } } }');
    const program = viewer.memberships[0].program.id;
    const animal = await owner.data(
      'query($p: ID!) { hatchling: animal(programId: $p, code: "SG-168") { id } mate: animal(programId: $p, code: "SG-170") { id } }',
      { p: program },
    );
    const pages: [string, string, RegExp][] = [
      ['odds', 'pairings/SG-010/SG-008', /10 of 20 young from this pair should be/],
      ['mates', 'pairings/SG-038', /healthy/],
      ['lineage-of', `lineage/${animal.hatchling.id}`, /its father is one of/],
      ['sale-of', `sales?animals=${animal.hatchling.id},${animal.mate.id}`, /clutch mates/],
      ['genes', 'genes', /chalk/],
      ['import', 'program/import', /file/i],
    ];
    for (const [name, path, words] of pages) {
      await page.goto(`${service.url}/programs/${program}/${path}`);
      await page.getByRole('heading', { level: 1 }).waitFor();
      await settled(page);
      await shoot(page, `${name}-${width}`);
      expect({ name, text: await page.locator('main').textContent() }).toEqual({
        name,
        text: expect.stringMatching(words),
      });
      expect({ name, sideways: await sidewaysScroll(page) }).toEqual({ name, sideways: 0 });
      expect({ name, faults: await accessibilityFaults(page) }).toEqual({ name, faults: [] });
    }
  }, 240_000);
});
