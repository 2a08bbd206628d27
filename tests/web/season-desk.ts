import type { Locator, Page } from 'playwright-core';
import type { Clutch, Lot, Notebook } from './season-list.js';

type Typed = string | number | boolean | readonly string[];

/** The season at the desk: a form an entry, each field by its label. */
export function deskNotebook(page: Page, at: (path: string) => string): Notebook {
  const main = page.getByRole('main');

  async function form(id: string, on: string | null, fields: Record<string, Typed>): Promise<void> {
    await page.goto(at(`write/${id}`));
    await main.getByRole('button', { name: 'Write it down' }).waitFor();
    if (on) await date(main.locator('#entry-on').locator('xpath=ancestor::fieldset'), on);
    for (const [label, typed] of Object.entries(fields)) await fill(label, typed);
    await main.getByRole('button', { name: 'Write it down' }).click();
    await main
      .getByRole('region', { name: 'Just written' })
      .or(main.getByRole('alert'))
      .first()
      .waitFor();
    const fault = await main
      .locator('.error-summary')
      .textContent({ timeout: 1 })
      .catch(() => null);
    if (fault) throw new Error(`${id}: ${fault}`);
  }

  async function fill(label: string, typed: Typed): Promise<void> {
    const group = main.getByRole('group', { name: label, exact: true });
    if (typeof typed === 'object') {
      const finder = main.getByRole('combobox', { name: label, exact: true });
      // Ticks come with what the program holds.
      await group.or(finder).first().waitFor();
      if ((await group.count()) > 0) {
        for (const each of typed) await group.getByLabel(each).check();
      } else {
        await finder.fill(typed.join(' '));
        await finder.press('Enter');
        await main.getByRole('button', { name: `Take out ${typed.at(-1)}` }).waitFor();
      }
      return;
    }
    if ((await group.count()) > 0) {
      await date(group, String(typed));
      return;
    }
    const control = main.getByLabel(label, { exact: true }).first();
    if (!(await control.isVisible())) await main.getByText('More', { exact: true }).click();
    if (typeof typed === 'boolean') await control.check();
    else if ((await control.evaluate((element) => element.tagName)) === 'SELECT') {
      await choose(control, String(typed));
    } else await control.fill(String(typed));
  }

  /** By the value, or by how its line begins: pens say how many are in them. */
  async function choose(control: Locator, typed: string): Promise<void> {
    const value = await control
      .locator('option')
      .filter({ hasText: new RegExp(`^${typed}`) })
      .first()
      .getAttribute('value');
    await control.selectOption(value);
  }

  async function date(group: Locator, text: string): Promise<void> {
    const [year = '', month, day] = text.split('-');
    await group.getByLabel('Year').fill(year);
    if (month) await group.getByLabel('Month').fill(month);
    if (day) await group.getByLabel('Day').fill(day);
  }

  return {
    moved: (on, animals, _from, to) => form('move', on, { Animals: animals, 'To which pen': to }),
    counted: (on, pen, heads) =>
      form('seen', on, { 'In which pen': pen, 'Heads counted in the pen': heads }),
    seenToday: (animal) => form('seen', null, { Animals: [animal] }),
    weighed: (on, animal, grams) => form('measured', on, { Animal: [animal], 'Weight, g': grams }),
    measured: (on, animal, mm) =>
      form('measured', on, { Animal: [animal], 'Shell length, mm': mm }),
    mated: (on, male, female) => form('mating', on, { Male: [male], Female: [female] }),
    stoodOpen: (on, pen, other) => form('breach', on, { 'One pen': pen, 'The other pen': other }),
    fought: (on, animal, other) =>
      form('incident', on, {
        Animal: [animal],
        'What happened': 'A fight',
        'With which other animal': [other],
      }),
    ill: (on, animal, what) => form('health', on, { Animal: [animal], 'What it was': what }),
    noted: (on, animal, text) => form('noted', on, { Animal: [animal], Note: text }),
    sexed: (on, animal, sex, by) => form('sexed', on, { Animal: [animal], Sex: sex, How: by }),
    chipped: (on, animal, chip) =>
      form('marked', on, { Animal: [animal], 'Kind of mark': 'Chip', 'The mark': chip }),
    colour: (on, animal, traits) =>
      form('colour', on, { Animal: [animal], 'What was seen': traits }),
    escaped: (on, animal) => form('escaped', on, { Animal: [animal] }),
    cameBack: (on, animal, knownBy, pen) =>
      form('came-back', on, { Animal: [animal], 'Known by': knownBy, 'Where it is put': pen }),
    arrived: (on, { code, hatched, from, pen }) =>
      form('arrived-new', on, {
        'Code it gets': code,
        Sex: 'Male',
        Hatched: hatched,
        How: 'Bought',
        'From whom': from,
        'Where it is put': pen,
      }),
    sold: (on, animal, to) => form('left', on, { Animal: [animal], How: 'Sold', 'To whom': to }),
    died: (on, animal) =>
      form('died', on, { Animal: [animal], 'What of, as far as anybody knows': 'Illness' }),
    laid: (on, dam, pen, { eggs, broken, notSet }) =>
      form('laid', on, {
        Mother: [dam],
        'She was seen laying': true,
        Eggs: eggs,
        ...(broken ? { 'Of them broken': broken } : {}),
        ...(notSet ? { 'Of them not set': notSet } : {}),
        'Where it was laid': pen,
      }),
    eggsFound: (on, pen, dams, eggs) =>
      form('laid', on, { Mother: dams, Eggs: eggs, 'Where it was laid': pen }),
    set: (on, { code }, eggs, celsius) =>
      form('set', on, {
        Clutch: code,
        'Eggs set': eggs,
        'Temperature, degrees Celsius': celsius,
      }),
    warmth: (on, { code }, celsius) =>
      form('warmth', on, { Clutch: code, 'Temperature, degrees Celsius': celsius }),
    failed: async (on, { code }, { infertile, diedEarly, diedLate, pale }) =>
      form('eggs', on, {
        Clutch: code,
        ...(infertile ? { Infertile: infertile } : {}),
        ...(diedEarly ? { 'Died early': diedEarly } : {}),
        ...(diedLate ? { 'Died late': diedLate } : {}),
        ...(pale ? { pale } : {}),
      }),
    hatched: (on, { code }: Clutch, count, codes, pen) =>
      form('hatched', on, {
        Clutch: code,
        'How many': count,
        ...(codes ? { 'Codes of those with one': codes } : {}),
        'Where they are put': pen,
      }),
    found: (on, codes, clutches) =>
      form('found', on, { 'Codes they get': codes, 'Clutches they may be of': clutches }),
    colourOfClutch: (on, { code }, looked, pale) =>
      form('colour-count', on, { Clutch: code, 'How many were looked at': looked, pale }),
    lotCounted: (on, lot: Lot, count) =>
      form('lot-counted', on, { Lot: lot.code, 'How many are there': count }),
    lotDied: (on, lot, count) =>
      form('lot-died', on, {
        Lot: lot.code,
        'How many': count,
        'What of, as far as anybody knows': 'Heat',
      }),
    lotPromoted: (on, lot, codes) =>
      form('lot-promoted', on, { Lot: lot.code, 'Their codes': codes }),
    lotMoved: (on, lot, to) => form('move', on, { Lots: [lot.code], 'To which pen': to }),
    lotMerged: (on, lot, into) =>
      form('lot-merged', on, { Lot: lot.code, 'Which lot they join': into }),
    lotSold: (on, lot, count, to) =>
      form('left', on, { Lot: lot.code, 'How many of the lot': count, How: 'Sold', 'To whom': to }),
    slip: async (on, animal, grams) => {
      await form('measured', on, { Animal: [animal], 'Weight, g': grams });
      await page.goto(at(`animals?search=${animal}`));
      await main.getByRole('link', { name: animal, exact: true }).first().click();
      const records = main.getByRole('region', { name: 'Records' });
      await records
        .getByRole('button', { name: new RegExp(`^Take back ${animal}: weight`) })
        .click();
      await page.getByText(/^Took back/).waitFor();
    },
  };
}
