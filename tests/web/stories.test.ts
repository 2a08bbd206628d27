import { randomUUID } from 'node:crypto';
import { fileURLToPath } from 'node:url';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from '@jest/globals';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import {
  addAnimal,
  type Client,
  type Data,
  newProgram,
  startService,
  type TestService,
} from '#tests/api/service.js';
import { accessibilityFaults, openBrowser, openWindow, shoot, sidewaysScroll } from './browser.js';
import { deskNotebook } from './season-desk.js';

// Five things that happen to breeders, acted out on the pages; what must come out is read from the pages. What lies long back is
// written by the API. The first four with every figure: tests/api/stories.test.ts. All invented.

const web = fileURLToPath(new URL('../../../apps/web/dist', import.meta.url));
let browser: Browser;
let service: TestService;
let owner: Client;
let context: BrowserContext;
let page: Page;
let p: string;
let ids: Record<string, string>;

beforeAll(async () => {
  browser = await openBrowser();
  service = await startService({ SCUTEWRIGHT_WEB: web });
  owner = await service.owner();
}, 120_000);
afterAll(async () => {
  await browser?.close();
  await service?.stop();
});
afterEach(() => context?.close());
beforeEach(async () => {
  p = await newProgram(owner, 'Invented stories');
  ids = {};
});

async function open(width: number): Promise<void> {
  context = await openWindow(browser, width);
  const [name, value] = owner.cookies.split('=');
  await context.addCookies([{ name, value, url: service.url }]);
  page = await context.newPage();
}
const at = (path: string) => `${service.url}/programs/${p}/${path}`;
const main = () => page.getByRole('main');
async function look(path: string): Promise<void> {
  await page.goto(at(path));
  await page.getByRole('heading', { level: 1 }).waitFor();
  await page.waitForFunction(
    () => document.querySelectorAll('.skeleton, [aria-busy="true"]').length === 0,
  );
}
/** The page may still be filling: asks until it says so. */
const says = (words: RegExp | string) => main().getByText(words).first().waitFor();
const words = async () => (await main().allInnerTexts()).join(' ').replace(/\s+/g, ' ');

async function add(code: string, animal: object): Promise<void> {
  ids[code] = await addAnimal(owner, p, { code, origin: 'ACQUIRED', ...animal });
}
async function act(name: string, type: string, input: object): Promise<void> {
  await owner.data(
    `mutation($p: ID!, $i: ${type}!) { ${name}(programId: $p, input: $i) { __typename } }`,
    {
      p,
      i: { commandId: randomUUID(), ...input },
    },
  );
}
async function record(...entries: object[]): Promise<void> {
  const { recordEntries } = await owner.data(
    'mutation($p: ID!, $i: RecordEntriesInput!) { recordEntries(programId: $p, input: $i) { answers { state sentence } } }',
    { p, i: { entries: entries.map((entry) => ({ id: randomUUID(), ...entry })) } },
  );
  expect(recordEntries.answers.filter(({ state }: Data) => state !== 'WRITTEN')).toEqual([]);
}
async function gene(code: string, trait: string): Promise<void> {
  await act('addLocus', 'AddLocusInput', {
    code,
    name: code,
    inheritance: 'AUTOSOMAL',
    alleles: [
      { name: 'N', frequency: '4/5' },
      { name: code, frequency: '1/5' },
    ],
    founderRule: 'ANY',
  });
  await act('addTrait', 'AddTraitInput', {
    name: trait,
    shows: `"${code}" = ${code}/${code}`,
    misreadYoung: 0,
    misreadAdult: 0,
  });
}
const idOf = async (code: string): Promise<string> =>
  (
    await owner.data('query($p: ID!, $c: String) { animal(programId: $p, code: $c) { id } }', {
      p,
      c: code,
    })
  ).animal.id;
const clutchId = async (code: string): Promise<string> =>
  (
    await owner.data(
      'query($p: ID!, $c: String) { clutch(programId: $p, code: $c) { clutch { id } } }',
      { p, c: code },
    )
  ).clutch.clutch.id;

describe('what breeders live through, on the pages', () => {
  it('1: the box labelled with one sister was the other’s', async () => {
    await open(1280);
    const of = (sire: string, dam: string) => ({
      sires: [{ animalId: ids[sire] }],
      dams: [{ animalId: ids[dam] }],
      origin: 'HATCHED_HERE',
    });
    for (const [code, sex] of [
      ['Gale', 'FEMALE'],
      ['Pike', 'MALE'],
      ['Ulm', 'MALE'],
    ])
      await add(code, { sex, hatched: '1970' });
    await add('Bay', { sex: 'FEMALE', hatched: '1985', ...of('Pike', 'Gale') });
    await add('Briar', { sex: 'FEMALE', hatched: '1985', ...of('Pike', 'Gale') });
    await add('K', { sex: 'MALE', hatched: '1998', ...of('Ulm', 'Bay') });
    await record({
      on: '2012-05-10',
      laid: { clutch: 'Box 2012', dams: [{ ref: 'Bay' }], eggs: 8 },
    });
    const box = await clutchId('Box 2012');
    await act('editClutch', 'EditClutchInput', {
      clutchId: box,
      sires: [{ animalId: ids.K, probability: 1 }],
      reason: 'The only male here then.',
    });
    await record(
      { on: '2012-08-01', hatched: { clutch: 'Box 2012', count: 2, codes: ['Y1', 'Y2'] } },
      {
        on: '2013-06-01',
        transferred: { animal: 'Y2', way: 'SOLD', contact: 'A buyer of this story' },
      },
    );
    ids.Y1 = await idOf('Y1');
    await record({ on: '2020', sexed: { animal: 'Y1', sex: 'FEMALE' } });
    await add('Z1', { hatched: '2023', ...of('K', 'Y1') });
    // Path counting (Wright 1922, Am. Nat. 56:330): F of Y1 is 1/4 with Bay, K's mother, and 1/8 with her sister.
    await look(`animals/${ids.Z1}`);
    await says(/0\.375/);
    await look(`clutches/${box}`);
    await says(/A buyer of this story/);
    await main().getByText('Correct what is written').click();
    await main().getByRole('button', { name: 'Take out Bay' }).click();
    const mother = main().getByRole('combobox', { name: 'Mother', exact: true });
    await mother.fill('Briar');
    await main().getByRole('option').first().waitFor();
    await mother.press('ArrowDown');
    await mother.press('Enter');
    await main().getByRole('button', { name: 'Take out Briar' }).waitFor();
    await main().getByRole('button', { name: 'Keep the changes' }).click();
    await page.getByText('Box 2012 is mended.').waitFor();
    await shoot(page, 'story-1-corrected');
    // Who has to be told, whichever of the two it is.
    expect(await words()).toMatch(/Y2 .*sold .*to A buyer of this story/);
    await look(`animals/${ids.Z1}`);
    await says(/0\.313/);
    await look(`animals/${ids.Y1}`);
    await says(/0\.125/);
    expect(await words()).toMatch(/Briar/);
    await look('history');
    await says(/Corrected Box 2012: mother Briar/);
    await main()
      .getByText(/Corrected Box 2012: mother Briar/)
      .first()
      .click();
    await main()
      .getByRole('button', { name: /^Undo.*Corrected Box 2012: mother Briar/ })
      .click();
    await page
      .getByText(/Took back/)
      .first()
      .waitFor();
    await look(`animals/${ids.Z1}`);
    await says(/0\.375/);
  }, 180_000);

  it('2: dark-eyed pale with pink-eyed pale: nine normals say two genes, the later pale one that she carries the other unseen', async () => {
    await open(1280);
    await add('Moss', { sex: 'MALE', hatched: '1990' });
    await add('Fern', { sex: 'FEMALE', hatched: '1990' });
    await act('addPen', 'AddPenInput', { name: 'North' });
    await gene('dk', 'dark-eyed pale');
    await gene('pk', 'pink-eyed pale');
    await act('addTrait', 'AddTraitInput', {
      name: 'pale',
      shows: '"dk" = dk/dk or "pk" = pk/pk',
      misreadYoung: 0,
      misreadAdult: 0,
    });
    const { definitions } = await owner.data(
      'query($p: ID!) { definitions(programId: $p) { loci { id code } } }',
      { p },
    );
    const gid = (code: string) => definitions.loci.find((each: Data) => each.code === code).id;
    await act('setLocusPair', 'SetLocusPairInput', {
      firstId: gid('dk'),
      secondId: gid('pk'),
      kind: 'ONE_GENE',
      chance: '1/2',
      reason: 'They look alike.',
    });
    await record(
      { on: '1995', colour: { animal: 'Moss', seen: ['dark-eyed pale'] } },
      { on: '1995', colour: { animal: 'Fern', seen: ['pink-eyed pale'] } },
      {
        on: '2020-05-01',
        laid: { clutch: 'C', dams: [{ ref: 'Fern' }], seenLaying: true, eggs: 12 },
      },
    );
    await act('editClutch', 'EditClutchInput', {
      clutchId: await clutchId('C'),
      sires: [{ animalId: ids.Moss, probability: 1 }],
      reason: 'The only male.',
    });
    await look('program/genes');
    await says(/may be one gene: 1\/2 before the records/);
    const desk = deskNotebook(page, at);
    const clutch = { code: 'C' } as Parameters<typeof desk.hatched>[1];
    const nine = Array.from({ length: 9 }, (_, i) => `N${i + 1}`);
    await desk.hatched('2020-08-01', clutch, 9, nine.join(' '), 'North');
    await record(...nine.map((animal) => ({ on: '2020-11-01', colour: { animal, seen: [] } })));
    await look('program/genes');
    await says(/1\/2 before the records, ruled out with all of them/);
    await shoot(page, 'story-2-two-genes');
    await desk.hatched('2020-08-09', clutch, 1, 'P1', 'North');
    await desk.colour('2020-11-01', 'P1', ['dark-eyed pale']);
    await look('program/genes');
    // Not 'one gene' because of it.
    await says(/1\/2 before the records, ruled out with all of them/);
    await look(`animals/${ids.Fern}`);
    await says(/carr/i);
    await shoot(page, 'story-2-fern');
    expect(await words()).toMatch(/N\/dk|dk/);
  }, 180_000);

  it('3: a bought female, penned with a male proven clear: one pale of nine', async () => {
    await open(390);
    await add('Moss', { sex: 'MALE', hatched: '1990' });
    await act('addPen', 'AddPenInput', { name: 'North' });
    await gene('pl', 'pale');
    await record(
      { on: '2010', tested: { animal: 'Moss', locus: 'pl', alleles: ['N', 'N'], errorRate: 0 } },
      { on: '2019-03-01', move: { animals: ['Moss'], pen: 'North' } },
      {
        on: '2019-04-01',
        transferred: {
          newcomer: { code: 'Fern', species: 'Testudo hermanni', sex: 'FEMALE', hatched: '2000' },
          way: 'BOUGHT',
          contact: 'A seller of this story',
          pen: 'North',
        },
      },
      { on: '2019-04-01', colour: { animal: 'Fern', seen: [] } },
    );
    const desk = deskNotebook(page, at);
    await desk.laid('2020-05-01', 'Fern', 'North', { eggs: 10 } as Parameters<typeof desk.laid>[3]);
    const { clutches } = await owner.data(
      'query($p: ID!) { clutches(programId: $p, first: 1) { edges { node { clutch { id code } } } } }',
      { p },
    );
    const { id, code } = clutches.edges[0].node.clutch;
    const young = Array.from({ length: 9 }, (_, i) => `Y${i + 1}`);
    await record(
      { on: '2020-08-01', hatched: { clutch: code, count: 9, codes: young } },
      ...young.slice(1).map((animal) => ({ on: '2020-11-01', colour: { animal, seen: [] } })),
    );
    await desk.colour('2020-11-01', 'Y1', ['pale']);
    await look(`animals/${await idOf('Fern')}`);
    await says(/carries/i);
    await shoot(page, 'story-3-fern');
    await look(`lineage/${await idOf('Y1')}`);
    await main().getByRole('button', { name: 'Another than its clutch mates' }).click();
    await main().getByRole('button', { name: 'Write it so' }).click();
    await page.getByRole('status').getByRole('button', { name: 'Undo' }).waitFor();
    await look(`lineage/${await idOf('Y1')}`);
    await shoot(page, 'story-3-one-of-nine');
    const fathersOf = async (of: string) => {
      await look(`lineage/${await idOf(of)}`);
      const offers = await main()
        .getByRole('listitem')
        .filter({ has: page.getByRole('button', { name: /Moss|nobody recorded/ }) })
        .allInnerTexts();
      return offers.map((text) => text.replace(/\s+/g, ' ')).join('; ');
    };
    expect(await fathersOf('Y1')).toBe('A male nobody recorded certain; Moss ruled out');
    expect(await fathersOf('Y2')).toMatch(/Moss \d+ in 100/);
    await look(`clutches/${id}`);
    for (const each of await main().getByText('What is taken for granted').all())
      await each.click();
    await says(/of a male where she came from, perhaps her own father or brother/);
    expect(await sidewaysScroll(page)).toBe(0);
    expect(await accessibilityFaults(page)).toEqual([]);
    await shoot(page, 'story-3-clutch');
  }, 180_000);

  it('4: “male” M9, kept with females for six years, lays eggs', async () => {
    await open(390);
    for (const [code, sex] of [
      ['M7', 'MALE'],
      ['M9', 'MALE'],
      ['Fern', 'FEMALE'],
    ])
      await add(code, { sex, hatched: '1995' });
    await act('addPen', 'AddPenInput', { name: 'North' });
    await gene('pl', 'pale');
    await record(
      { on: '2015-04-01', move: { animals: ['M7', 'M9', 'Fern'], pen: 'North' } },
      {
        on: '2020-05-01',
        laid: { clutch: 'C', dams: [{ ref: 'Fern' }], seenLaying: true, eggs: 6 },
      },
      { on: '2020-08-01', hatched: { clutch: 'C', count: 2, codes: ['Y1', 'Y2'] } },
      { on: '2020-11-01', colour: { animal: 'Y1', seen: ['pale'] } },
    );
    const c = await clutchId('C');
    await look(`clutches/${c}`);
    await says('M9');
    await look('pens');
    await says(/Males? M7 and M9|M7 and M9/);
    await shoot(page, 'story-4-pens-before');
    // She is found laying: the form says what stands against it, and offers to write her down as female.
    await page.goto(at('write/laid'));
    const finder = main().getByRole('combobox', { name: 'Mother', exact: true });
    await finder.waitFor();
    await finder.fill('M9');
    await finder.press('Enter');
    await main().getByRole('button', { name: 'Take out M9' }).waitFor();
    const year = main().locator('#entry-on').locator('xpath=ancestor::fieldset');
    await year.getByLabel('Year').fill('2021');
    await year.getByLabel('Month').fill('06');
    await year.getByLabel('Day').fill('01');
    await main().getByRole('button', { name: 'Write it down' }).click();
    await main().getByRole('alert').waitFor();
    await shoot(page, 'story-4-refused');
    await main().getByLabel('It laid: write it down as female from now on').check();
    await main().getByRole('button', { name: 'Write it down' }).click();
    await main().getByRole('region', { name: 'Just written' }).waitFor();
    expect(await words()).toMatch(/female/);
    await look(`clutches/${c}`);
    await says('M7');
    expect(await words()).not.toMatch(/M9/);
    await look('pens');
    expect(await words()).not.toMatch(/M7 and M9 .*(fight|ram)/i);
    await shoot(page, 'story-4-pens-after');
    await look('pairings/M9');
    await says('M7');
    expect(await accessibilityFaults(page)).toEqual([]);
    await shoot(page, 'story-4-mates');
  }, 180_000);

  it('5: the kitchen table: no spreadsheet, eleven adults, three eras, two pales', async () => {
    await open(390);
    await look('start');
    const field = (id: string, text: string) => main().locator(`#${id}`).fill(text);
    const tap = (name: string, within = main()) =>
      within.getByRole('button', { name, exact: true }).last().click();
    const males = ['Boss', 'Notch', 'Tar', 'Bramble', 'Flint'];
    const females = ['Biscuit', 'Moss', 'Dun', 'Pearl', 'Wren', 'Sorrel'];
    await field('adult-species', 'Testudo hermanni');
    for (const [k, name] of [...males, ...females].entries()) {
      await field('adult-name', name);
      const sex = k < males.length ? 'Male' : 'Female';
      await main().getByRole('radio', { name: sex, exact: true }).first().check({ force: true });
      await main().getByLabel('With you since about').fill('1998');
      await tap(`Add ${name}`);
      await says(k === 0 ? /One animal told/ : new RegExp(`${k + 1} animals told`));
    }
    for (const [from, to, with_] of [
      ['1999', '2007', ['Boss', 'Notch', 'Biscuit', 'Moss']],
      ['2008', '2019', [...males, 'Biscuit', 'Moss', 'Dun']],
      ['2020', '', ['Flint', 'Pearl', 'Wren', 'Sorrel']],
    ] as const) {
      await field('era-from', from);
      await field('era-to', to);
      const band = main().getByRole('region', { name: 'Who ran with whom' });
      for (const name of with_) await tap(name, band);
      await tap('That is how it was', band);
      await says(new RegExp(`${from} (to|until|since|on)|(from|since) ${from}`));
    }
    const yard = main().getByRole('region', { name: 'Your yard' });
    await yard.getByRole('radio', { name: 'Closed' }).check({ force: true });
    await field('yard-since', '2005');
    await tap('So it is', yard);
    await says(/since 2005/);
    const pale = main().getByRole('region', { name: 'Who was pale' });
    await tap('That is the look', pale);
    for (const [name, year, mother] of [
      ['Cream', '2015', 'Biscuit'],
      ['Ivory', '2017', 'Moss'],
    ]) {
      await field('pale-name', name);
      await field('pale-year', year);
      await tap(mother, main().getByRole('group', { name: /Whose egg/ }) as typeof pale);
      await tap('Write it down', pale);
      await says(new RegExp(`${name} is by one of 5 males`));
    }

    const answers = main().getByRole('region', { name: 'First answers' });
    await answers
      .getByRole('link', { name: /\w+ with \w+/ })
      .nth(1)
      .waitFor();
    const told = await answers.textContent();
    expect(told).toMatch(/Pens.*(press|Nothing)/);
    expect(told).toContain('What to write down from now on');
    expect(await sidewaysScroll(page)).toBe(0);
    expect(await accessibilityFaults(page)).toEqual([]);
    await shoot(page, 'story-5-first-answers');
    const [pair] = await answers.getByRole('link', { name: /\w+ with \w+/ }).all();
    await pair.click();
    await says(/of 20 young from this pair should be pale|Hardly any young/);
    await look(`lineage/${await idOf('Cream')}`);
    expect(await main().locator('.sentence').textContent()).toContain(
      'Cream is a young of Biscuit; its father is one of 5',
    );
    await shoot(page, 'story-5-lineage');
  }, 240_000);
});
