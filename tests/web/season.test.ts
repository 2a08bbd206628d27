import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import type { Browser, Locator, Page } from 'playwright-core';
import {
  addAnimal,
  type Client,
  newProgram,
  startService,
  type TestService,
} from '#tests/api/service.js';
import {
  accessibilityFaults,
  openBrowser,
  openWindow,
  setTheme,
  shoot,
  sidewaysScroll,
} from './browser.js';

// An invented season, written down at the desk as a breeder would; what the pages say is held against the API.

const web = fileURLToPath(new URL('../../../apps/web/dist', import.meta.url));
let browser: Browser;
let service: TestService;
let owner: Client;
let programId: string;
let page: Page;

beforeAll(async () => {
  browser = await openBrowser();
  service = await startService({ SCUTEWRIGHT_WEB: web });
  owner = await service.owner();
  programId = await newProgram(owner, 'Reedbank');
  for (const [code, sex, hatched] of [
    ['D1', 'FEMALE', '1995'],
    ['D2', 'FEMALE', '1996'],
    ['S1', 'MALE', '1994'],
    ['S2', 'MALE', '1993'],
  ]) {
    await addAnimal(owner, programId, {
      code,
      sex,
      hatched,
      species: 'Testudo hermanni',
      origin: 'ACQUIRED',
    });
  }
  const context = await openWindow(browser, 1280);
  const [name, value] = owner.cookies.split('=');
  await context.addCookies([{ name, value, url: service.url }]);
  page = await context.newPage();
});
afterAll(async () => {
  await browser?.close();
  await service?.stop();
});

const at = (path: string) => `${service.url}/programs/${programId}/${path}`;
const main = () => page.getByRole('main');
const field = (name: string | RegExp): Locator => main().getByLabel(name, { exact: true });

async function settled(): Promise<void> {
  await page.getByRole('heading', { level: 1 }).waitFor();
  await page.waitForFunction(() => document.querySelectorAll('.skeleton').length === 0);
}

async function on(day: string): Promise<void> {
  const [year, month, date] = day.split('-');
  await field('Year').first().fill(year);
  await field('Month').first().fill(month);
  await field('Day').first().fill(date);
}

/** Takes an animal by its code, as it is typed. */
async function choose(label: string, code: string): Promise<void> {
  const box = main().getByRole('combobox', { name: label });
  await box.fill(code);
  await main().getByRole('option').first().waitFor();
  await box.press('ArrowDown');
  await box.press('Enter');
  await main()
    .getByRole('button', { name: `Take out ${code}` })
    .waitFor();
}

async function write(says: RegExp): Promise<void> {
  await main().getByRole('button', { name: 'Write it down' }).click();
  await main().getByRole('region', { name: 'Just written' }).getByText(says).waitFor();
}

async function faultsInThemes(): Promise<string[]> {
  const faults: string[] = [];
  for (const theme of ['dark', 'sun', 'light'] as const) {
    await setTheme(page, theme);
    faults.push(...(await accessibilityFaults(page)));
  }
  return faults;
}

describe('a season at the desk', () => {
  it('adds pens and moves many at once, with one undo', async () => {
    for (const name of ['Orchard', 'Terrace']) {
      await page.goto(at('yard/pens/add'));
      await field('Name').fill(name);
      await main().getByRole('button', { name: 'Add the pen' }).click();
      await page.getByRole('heading', { level: 1, name }).waitFor();
    }
    await page.goto(at('write/stayed'));
    await settled();
    await choose('Animals', 'D1');
    await choose('Animals', 'S1');
    await field('Pen').selectOption('Orchard');
    await field('Year').first().fill('2015');
    await write(/D1, S1 in Orchard 2015/);
    await page.goto(at('yard?on=2026-03-01'));
    await settled();
    const loose = main().getByRole('region', { name: 'In no pen' });
    await loose.getByRole('button', { name: /^Choose all/ }).click();
    await main().getByLabel('To which pen').selectOption('Terrace');
    await main().getByRole('button', { name: 'Move them' }).click();
    await main().getByRole('region', { name: 'Terrace' }).getByText('2 animals').waitFor();
    expect(await faultsInThemes()).toEqual([]);
    await page.getByRole('button', { name: 'Undo' }).click();
    await loose.getByText('2 animals').waitFor();
    await loose.getByRole('button', { name: /^Choose all/ }).click();
    await main().getByLabel('To which pen').selectOption('Terrace');
    await main().getByRole('button', { name: 'Move them' }).click();
    await main().getByRole('region', { name: 'Terrace' }).getByText('2 animals').waitFor();
  }, 120_000);

  it('lays, sets, counts what failed and hatches, each from the one before', async () => {
    await page.goto(at('write/laid'));
    await settled();
    await on('2026-05-09');
    await choose('Mother', 'D1');
    await field('She was seen laying').check();
    await field('Eggs').fill('7');
    await field('Of them broken').fill('8');
    await main().getByRole('button', { name: 'Write it down' }).click();
    await main()
      .getByRole('link', { name: /8 eggs broken or not set of 7/ })
      .waitFor();
    await field('Of them broken').fill('');
    await field('Of them not set').fill('1');
    await write(/C2026-01: 7 eggs of D1/);
    await main().getByRole('link', { name: 'Set eggs of C2026-01' }).click();
    await settled();
    await field('Eggs set').fill('6');
    await field('Temperature, degrees Celsius').fill('29,5');
    await write(/6 eggs set/);
    await main()
      .getByRole('link', { name: /^What became of eggs of/ })
      .click();
    await settled();
    await on('2026-07-10');
    await field('Infertile').fill('1');
    await write(/1 infertile/);
    await main().getByRole('link', { name: 'Hatched of C2026-01' }).click();
    await settled();
    await on('2026-07-12');
    await field('How many').fill('4');
    await field('Codes of those with one').fill('Y1, Y2');
    await field('Where they are put').selectOption('Terrace');
    await write(/4 hatched \(Y1, Y2, 2 in lot C2026-01\)/);
    await shoot(page, 'season-written-1280');
    const { clutch } = await owner.data(
      'query($programId: ID!) { clutch(programId: $programId, code: "C2026-01") { eggs hatched open hatchedFrom hatchedTo losses { infertile } batches { celsius hatchWindow { from to } } derived { fathers { animal { code } } } } }',
      { programId },
    );
    expect(clutch).toMatchObject({
      eggs: 7,
      hatched: 4,
      open: 1,
      hatchedFrom: '2026-07-12',
      hatchedTo: '2026-07-12',
      losses: { infertile: 1 },
      batches: [{ celsius: [29.5] }],
    });
    expect(clutch.derived.fathers[0].animal.code).toBe('S1');
  }, 180_000);

  it('shows the clutch with its eggs, fathers and young, and sets the father by hand and back', async () => {
    await page.goto(at('clutches'));
    await settled();
    await main().getByText('1 clutch of 7 eggs').waitFor();
    expect(await faultsInThemes()).toEqual([]);
    await shoot(page, 'season-clutches-1280');
    await main()
      .getByRole('region', { name: 'One by one' })
      .getByRole('link', { name: 'C2026-01' })
      .click();
    await page.getByRole('heading', { level: 1, name: /C2026-01/ }).waitFor();
    await settled();
    const eggs = main().getByRole('region', { name: 'Its eggs' });
    for (const words of [
      '4 eggs: hatched',
      '1 egg: infertile',
      '1 egg: not set',
      '1 egg: still in the box',
    ]) {
      expect(await eggs.getByRole('img', { name: words }).count()).toBe(1);
    }
    const fathers = main().getByRole('region', { name: 'Possible fathers' });
    await fathers.getByText('Set by hand').first().click();
    const box = fathers.getByRole('combobox', { name: 'Father' });
    await box.fill('S2');
    await fathers.getByRole('option').first().waitFor();
    await box.press('ArrowDown');
    await box.press('Enter');
    await fathers.getByRole('button', { name: 'Set by hand' }).click();
    await fathers.getByRole('link', { name: /Say why/ }).waitFor();
    await fathers.getByLabel('Why', { exact: true }).fill('A test of two young said so.');
    await fathers.getByRole('button', { name: 'Set by hand' }).click();
    await fathers.getByText('Written down by hand').waitFor();
    await fathers.getByRole('button', { name: 'Let them follow from who was where' }).click();
    await fathers.getByText('By who was where').waitFor();
    expect(await faultsInThemes()).toEqual([]);
    await shoot(page, 'season-clutch-1280');
  }, 120_000);

  it('weighs, asks about a slipped digit, checks colour and puts by what cannot be so', async () => {
    await page.goto(at('write/measured?animal=D1'));
    await settled();
    await on('2026-06-01');
    await field('Weight, g').fill('770');
    await write(/weight 770 g/);
    await choose('Animal', 'D1');
    await on('2026-08-01');
    await field('Weight, g').fill('7780');
    await main().getByRole('button', { name: 'Write it down' }).click();
    await main()
      .getByRole('link', { name: /Is a digit missing/ })
      .waitFor();
    expect(await accessibilityFaults(page)).toEqual([]);
    await main().getByRole('button', { name: 'Put it by, decide later' }).click();
    await page.getByText('it waits for a decision').waitFor();
    await page.goto(at('write/waiting'));
    await main().getByText('One entry could not be written').waitFor();
    expect(await faultsInThemes()).toEqual([]);
    await main().getByRole('link', { name: 'Change and write anew' }).click();
    await settled();
    await field('Weight, g').fill('778');
    await write(/weight 778 g/);
    await page.goto(at('write/waiting'));
    await main().getByText('Every entry that was sent is written down.').waitFor();
    await page.goto(at('write/colour-count?clutch=C2026-01'));
    await settled();
    await on('2026-07-20');
    await field('How many were looked at').fill('4');
    await write(/4 young looked at/);
  }, 120_000);

  it('pastes rows, shows the faulty ones, and writes the others', async () => {
    await page.goto(at('write/rows'));
    await field('Rows, as you copied them').fill(
      'code\tdate\tlength mm\nD2\t1.9.2026\t171\nS2\t2/3/2026\t150\nS1\t2026-09-01\t162',
    );
    await main().getByText('1 to mend first').waitFor();
    expect(await faultsInThemes()).toEqual([]);
    await main().getByRole('button', { name: 'Write down 2 rows' }).click();
    await page.getByText('2 of 2 rows written down').waitFor();
    const { animals } = await owner.data(
      'query($programId: ID!) { animals(programId: $programId, search: "D2") { edges { node { id } } } }',
      { programId },
    );
    const { growth } = await owner.data(
      'query($programId: ID!, $id: ID!) { growth(programId: $programId, animalId: $id) { measurements { kind value date } } }',
      { programId, id: animals.edges[0].node.id },
    );
    expect(growth.measurements).toEqual([{ kind: 'scl', value: 171, date: '2026-09-01' }]);
    await page.goto(at('write/rows'));
    await field('What the rows are').selectOption({ label: 'Clutches laid' });
    await field('Rows, as you copied them').fill(
      'clutch\tlaid\tmother\teggs\nP1\t3.6.2026\tD2\t5\nP2\t2026-06-04\tD1 / D2\t4',
    );
    await main().getByRole('button', { name: 'Write down 2 rows' }).click();
    await page.getByText('2 of 2 rows written down').waitFor();
    await shoot(page, 'season-paste-1280');
    const { clutch } = await owner.data(
      'query($programId: ID!) { clutch(programId: $programId, code: "P2") { eggs dam { candidates { animal { code } probability } } } }',
      { programId },
    );
    expect(clutch.eggs).toBe(4);
    expect(clutch.dam.candidates).toHaveLength(2);
    expect(clutch.dam.candidates).toEqual(
      expect.arrayContaining([
        { animal: { code: 'D1' }, probability: 0.5 },
        { animal: { code: 'D2' }, probability: 0.5 },
      ]),
    );
  }, 60_000);

  it('a death and a departure are written from the animal, and stand among its records', async () => {
    const { animal } = await owner.data(
      'query($programId: ID!) { animal(programId: $programId, code: "S2") { id } }',
      { programId },
    );
    await page.goto(at(`animals/${animal.id}`));
    await settled();
    await main().getByRole('link', { name: 'Died', exact: true }).click();
    await settled();
    await on('2026-10-01');
    await field('What of, as far as anybody knows').selectOption('PREDATOR');
    await write(/S2 died/);
    await main().getByRole('link', { name: 'Back to where you were' }).click();
    await main()
      .getByRole('region', { name: 'Records' })
      .getByText(/^Died \(Predator\)/)
      .waitFor();
    expect(await faultsInThemes()).toEqual([]);
    await shoot(page, 'season-animal-records-1280');
    await page.goto(at('write/left?animal=Y1'));
    await settled();
    await on('2026-11-02');
    await field('How').selectOption('SOLD');
    await field('To whom').fill('A buyer of this story');
    await write(/Y1 sold/);
    await page.goto(at('yard'));
    await settled();
    const terrace = main().getByRole('region', { name: 'Terrace' });
    await terrace.getByText('Y2').first().waitFor();
    expect(await terrace.getByText('Y1').count()).toBe(0);
  }, 120_000);

  it('fits a phone', async () => {
    await page.setViewportSize({ width: 390, height: 844 });
    for (const path of ['clutches', 'write', 'write/laid', 'write/rows', 'yard']) {
      await page.goto(at(path));
      await settled();
      expect({ path, sideways: await sidewaysScroll(page) }).toEqual({ path, sideways: 0 });
      expect({ path, faults: await accessibilityFaults(page) }).toEqual({ path, faults: [] });
    }
  }, 60_000);
});
