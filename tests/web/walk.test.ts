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

/** Waits until nothing is being fetched or drawn any more, twice, for one answer may lead to the next question. */
async function settled(page: Page): Promise<void> {
  // Not the browser's 'networkidle': the page follows a stream that never ends.
  for (let look = 0; look < 2; look++) {
    await page.waitForTimeout(200);
    await page.waitForFunction(
      () => document.querySelectorAll('[aria-busy="true"], .skeleton').length === 0,
      undefined,
      { timeout: 120_000 },
    );
  }
}

/** Ids of the demo's animals by their codes. */
async function ids(programId: string, codes: readonly string[]): Promise<string[]> {
  const owner = await service.owner();
  const found = codes.map(async (code) => {
    const { animal } = await owner.data(
      'query($p: ID!, $c: String!) { animal(programId: $p, code: $c) { id } }',
      { p: programId, c: code },
    );
    return animal.id as string;
  });
  return Promise.all(found);
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

  it('defines a gene and a trait, says what two traits claim, and takes it back', async () => {
    const main = page.getByRole('main');
    const faultsInThemes = async () => {
      const faults = [];
      for (const theme of ['dark', 'sun', 'light'] as const) {
        await setTheme(page, theme);
        faults.push(...(await accessibilityFaults(page)));
      }
      return faults;
    };
    await page.goto(service.url);
    await places(page).getByRole('link', { name: 'Program' }).click();
    await page.getByRole('link', { name: /^Genes and traits/ }).click();
    await page.getByText('3 genes').waitFor();
    await settled(page);
    expect(await faultsInThemes()).toEqual([]);
    await page.getByRole('link', { name: 'Add a gene' }).click();
    await main.getByLabel('Name', { exact: true }).fill(`tide ${width}`);
    await main.getByLabel('Code', { exact: true }).fill(`td${width}`);
    await main.getByLabel('Rarer form', { exact: true }).fill('t');
    await main.getByLabel('Share of the copies').fill('1/40');
    expect(await accessibilityFaults(page)).toEqual([]);
    await page.getByRole('button', { name: 'Keep the gene' }).click();
    await page.getByText('1 genotype wants a look').waitFor();
    await page.getByRole('link', { name: 'Add a trait' }).click();
    await main.getByLabel('Name', { exact: true }).fill('frost');
    await main.getByLabel('Gene', { exact: true }).selectOption({ label: 'sedge (sg)' });
    await main.getByLabel(/^Two copies of S/).check();
    await page.getByText(/'double sedge' and 'frost' both claim it/).waitFor();
    await main
      .getByLabel('Gene', { exact: true })
      .selectOption({ label: `tide ${width} (td${width})` });
    await main.getByLabel(/^Two copies of t/).check();
    await page.getByText(/An animal is frost when it has two copies of t/).waitFor();
    expect(await faultsInThemes()).toEqual([]);
    await page.getByRole('button', { name: 'Keep the trait' }).click();
    await page.getByRole('heading', { level: 3, name: 'frost' }).waitFor();
    await page.getByRole('link', { name: `Change the gene tide ${width}` }).click();
    await page.getByRole('button', { name: 'Take this gene out' }).click();
    await page.getByText(/the rule of frost speaks of it/).waitFor();
    await page.goBack();
    await page.getByRole('link', { name: 'Change the trait frost' }).click();
    // What its rule says comes in above the button and moves it.
    await page.getByText(/An animal is frost when it has two copies of t/).waitFor();
    await settled(page);
    await page.getByRole('button', { name: 'Take this trait out' }).click();
    await page.getByText('Removed the trait frost').waitFor();
    await page.getByRole('link', { name: `Change the gene tide ${width}` }).click();
    await page.getByRole('button', { name: 'Take this gene out' }).click();
    await page.getByText(`Removed the gene tide ${width}`).waitFor();
  }, 240_000);

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
      ['odds-turned', 'pairings/SG-008/SG-010', /10 of 20 young from this pair should be/],
      ['odds-of-nobody', 'pairings/SG-010%zz/SG-008', /No animal SG-010%zz/],
      ['mates', 'pairings/SG-038?f=0.125&hatch=0.5', /Hatching|healthy/],
      ['beside', 'pairings/SG-010/SG-008/beside/SG-015/SG-008', /against/],
      ['pens-later', 'pens?years=6', /would press in/],
      ['sheets', `sales/sheets?animals=${animal.hatchling.id}`, /Not known, and so not claimed/],
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
    // The pages of a file with faults, of an animal with a photo chosen and of the species, in each theme.
    const messy = new URL(
      '../../../libs/commands/test/programs/harbour-messy.csv',
      import.meta.url,
    );
    const picture = Buffer.from(
      'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==',
      'base64',
    );
    const loaded: [string, string, () => Promise<unknown>][] = [
      ['species', 'program/species', async () => {}],
      [
        'import-messy',
        'program/import',
        async () => {
          await page.setInputFiles('#file', fileURLToPath(messy));
          await page.getByLabel('Read it as').first().fill('2011-02');
        },
      ],
      [
        'photo',
        `animals/${animal.hatchling.id}`,
        async () => {
          const file = { name: 'a.png', mimeType: 'image/png', buffer: picture };
          await page.getByLabel('Take or choose a photo').setInputFiles(file);
          await page.getByRole('button', { name: 'Keep this photo' }).click();
          await page.locator('.photos img').waitFor();
        },
      ],
    ];
    for (const [name, path, load] of loaded) {
      await page.goto(`${service.url}/programs/${program}/${path}`);
      await page.getByRole('heading', { level: 1 }).waitFor();
      await load();
      await settled(page);
      for (const theme of ['light', 'dark', 'sun'] as const) {
        await setTheme(page, theme);
        await shoot(page, `${name}-${theme}-${width}`);
        const faults = await accessibilityFaults(page);
        expect({ name, theme, faults }).toEqual({ name, theme, faults: [] });
      }
      expect({ name, sideways: await sidewaysScroll(page) }).toEqual({ name, sideways: 0 });
    }
  }, 360_000);

  it('leads a newcomer from what presses today to a file of their own', async () => {
    // Today says at least three things that matter; the first of the pens is opened.
    await page.goto(service.url);
    await page.locator('.matters > li').nth(2).waitFor();
    await page.locator('.matters a[href*="/pens"]').first().click();
    await page.getByRole('heading', { level: 1 }).waitFor();
    await settled(page);
    // When, why by a named rule with its source, and pens that are free of it.
    const pens = page.locator('main');
    expect(await pens.textContent()).toMatch(/from (\w+ )?20\d\d|Now/);
    await page.getByLabel('Better pens for').first().selectOption({ index: 1 });
    await page.locator('.better > li').first().waitFor({ timeout: 60_000 });

    // Who goes with whom: the first row says why it is first.
    await places(page).getByRole('link', { name: 'Pairings' }).click();
    await page.getByText('Why first:').waitFor({ timeout: 60_000 });

    // One hatchling's lineage: two possible fathers, what settles it, what if, related to another.
    const program = new URL(page.url()).pathname.split('/')[2];
    const [young, other] = await ids(program, ['SG-168', 'SG-170']);
    await page.goto(`${service.url}/programs/${program}/lineage/${young}`);
    await page.getByRole('heading', { level: 2, name: 'Possible fathers' }).waitFor();
    await settled(page);
    await page.getByText('Why, and what would settle it').first().click();
    await page.getByText(/A DNA test of parentage/).waitFor({ timeout: 120_000 });
    await page.getByRole('button', { name: 'founder', exact: true }).click();
    await page.getByText('An animal with neither parent recorded.').waitFor();
    await page.keyboard.press('Escape');
    await page.locator('.suppose-list button').first().click();
    await page.getByText('Supposed, nothing is written').waitFor({ timeout: 120_000 });
    expect(new URL(page.url()).searchParams.get('suppose')).not.toBeNull();
    await settled(page);
    expect(await accessibilityFaults(page)).toEqual([]);
    expect(await sidewaysScroll(page)).toBe(0);
    await page.getByRole('button', { name: 'Leave it as it is' }).click();
    const taken = page.waitForEvent('download');
    await page.getByRole('button', { name: /shares of the founders/ }).click();
    expect((await taken).suggestedFilename()).toBe('founders.csv');
    await shoot(page, `newcomer-lineage-${width}`);

    // On a laptop the chart stands as large as it is asked to; a phone has the list.
    if (width > 760) {
      const wide = () => page.locator('.chart svg').evaluate((svg) => svg.clientWidth);
      const first = await wide();
      await page.locator('.chart .chosen').press('+');
      await page.waitForFunction(
        (first) => (document.querySelector('.chart svg')?.clientWidth ?? 0) > first,
        first,
      );
      await page.getByRole('button', { name: 'Legible' }).click();
      await page.waitForFunction(
        (first) => document.querySelector('.chart svg')?.clientWidth === first,
        first,
      );
    }

    // Who is in no pen: the first of them, and all when asked.
    await page.goto(`${service.url}/programs/${program}/yard`);
    const unplaced = page.getByRole('region', { name: 'In no pen' });
    const more = unplaced.getByRole('button', { name: /^\d+ more in no pen$/ });
    await more.waitFor();
    const shown = await unplaced.getByRole('listitem').count();
    const left = Number.parseInt((await more.textContent()) ?? '', 10);
    expect(left).toBeGreaterThan(0);
    await more.click();
    await unplaced
      .getByRole('listitem')
      .nth(shown + left - 1)
      .waitFor();
    expect(await more.count()).toBe(0);

    // Two young for a buyer: in words, and never 'unrelated'.
    await page.goto(`${service.url}/programs/${program}/sales?animals=${young},${other}`);
    await page
      .getByText(/clutch mates/)
      .filter({ visible: true })
      .first()
      .waitFor({ timeout: 60_000 });

    // A file of one's own is looked at before anything is written.
    await page.goto(`${service.url}/programs/${program}/program/import`);
    await page.getByRole('heading', { level: 1 }).waitFor();
  }, 400_000);

  it('shows within a second what another member writes', async () => {
    const owner = await service.owner();
    const { viewer } = await owner.data('{ viewer { memberships { program { id } } } }');
    const programId = viewer.memberships[0].program.id;
    await page.goto(`${service.url}/programs/${programId}/animals`);
    await page.getByRole('heading', { level: 1 }).waitFor();
    await settled(page);
    const count = await page.locator('main .sentence').first().textContent();
    const { addAnimal } = await owner.data(
      'mutation($p: ID!, $i: AddAnimalInput!) { addAnimal(programId: $p, input: $i) { commandId } }',
      {
        p: programId,
        i: { commandId: crypto.randomUUID(), code: `LIVE-${width}`, species: 'Testudo graeca' },
      },
    );
    const started = performance.now();
    await page.waitForFunction(
      (before) => document.querySelector('main .sentence')?.textContent !== before,
      count,
      { polling: 20 },
    );
    expect(performance.now() - started).toBeLessThan(1500);
    await owner.data(
      'mutation($p: ID!, $i: UndoInput!) { undo(programId: $p, input: $i) { program { id } } }',
      { p: programId, i: { commandId: crypto.randomUUID(), undoes: addAnimal.commandId } },
    );
  }, 60_000);
});
