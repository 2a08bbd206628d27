import type { Page } from 'playwright-core';
import type { Clutch, Lot, Notebook } from './season-list.js';

/** The season on a round: find it, tap what happened, type the figure. */
export function phoneNotebook(page: Page): Notebook {
  const button = (name: string | RegExp) =>
    page.getByRole('button', { name, exact: typeof name === 'string' });
  const goTo = (stop: string) => page.getByLabel('Go to').selectOption({ label: stop });
  const row = (starts: string) =>
    page.locator('.heads .open').filter({ hasText: new RegExp(`^(${starts})`) });

  /** Back at a stop of the walk. */
  async function walk(): Promise<void> {
    if ((await page.getByLabel('Go to').count()) > 0) return;
    await button(/^Back to/).click();
    await page.getByLabel('Go to').waitFor();
  }
  async function animal(code: string): Promise<void> {
    await walk();
    await page.getByLabel('Find by code, name or chip').fill(code);
    await row(code).first().click();
  }
  async function clutch({ code, dams }: Clutch): Promise<void> {
    await walk();
    await goTo('Clutches and boxes');
    await row(`${code}|New, of ${dams}`).click();
  }
  async function lot({ code, pen }: Lot): Promise<void> {
    await walk();
    await goTo(pen);
    await row(`Lot ${code}`).click();
  }
  async function ofPen(pen: string, act: string): Promise<void> {
    await walk();
    await goTo(pen);
    if ((await button(act).count()) === 0) await button('More').click();
    await button(act).click();
  }

  /** Fields by their labels; a list is tapped. Then the day, then `tap` or Save. */
  async function write(
    on: string,
    fields: Record<string, string | number | readonly string[] | true>,
    tap?: string,
  ): Promise<void> {
    const form = page.locator('.act-form');
    for (const [label, typed] of Object.entries(fields)) {
      if (typed === true) await form.getByLabel(label).check();
      else if (typeof typed === 'object') {
        const group = form.getByRole('group', { name: label });
        for (const each of typed)
          await group.getByRole('button', { name: each, exact: true }).click();
      } else await form.getByLabel(label, { exact: true }).fill(String(typed));
    }
    await form.getByLabel('Day').fill(on);
    if (tap) await form.getByRole('button', { name: tap, exact: true }).click();
    else await form.getByRole('button', { name: 'Save' }).click();
    await form.waitFor({ state: 'detached' });
  }
  async function act(title: string): Promise<void> {
    await page
      .getByRole('navigation', { name: 'Write down' })
      .getByRole('button', { name: title, exact: true })
      .click();
  }

  return {
    moved: async (on, animals, from, to) => {
      if (animals.length === 1) {
        await animal(animals[0]!);
        await act('Move');
        await write(on, {}, to);
        return;
      }
      await ofPen(from, 'Move many');
      await write(on, { 'Who goes': animals }, to);
    },
    counted: async (on, pen, heads) => {
      await ofPen(pen, 'Count heads');
      await write(on, { 'Heads counted': heads });
    },
    seenToday: async (code) => {
      await walk();
      await page.getByLabel('Find by code, name or chip').fill(code);
      await button(new RegExp(`^${code} Seen`)).click();
      await button(`${code} Seen`).waitFor();
    },
    weighed: async (on, code, grams) => {
      await animal(code);
      await act('Weigh');
      await write(on, { 'Weight in g': grams });
    },
    measured: async (on, code, mm) => {
      await animal(code);
      await act('Measure');
      await write(on, { 'Shell length, straight in mm': mm });
    },
    mated: async (on, male, female) => {
      await animal(male);
      await act('Mating');
      await write(on, {}, female);
    },
    stoodOpen: async (on, pen, other) => {
      await ofPen(pen, 'Fence open');
      await write(on, {}, other);
    },
    fought: async (on, code, other) => {
      await animal(code);
      await act('Wound, fight');
      await write(on, { 'With another of this pen': [other] }, 'Fight');
    },
    ill: async (on, code, what) => {
      await animal(code);
      await act('Ill');
      await write(on, { 'What do you see?': what });
    },
    noted: async (on, code, text) => {
      await animal(code);
      await act('Note');
      await write(on, { Note: text });
    },
    sexed: async (on, code, sex, by) => {
      await animal(code);
      await act('Sex');
      await write(on, { 'Told by': [by.replace(/^./, (first) => first.toUpperCase())] }, sex);
    },
    chipped: async (on, code, chip) => {
      await animal(code);
      await act('Mark, chip');
      await write(on, { 'Kind of mark': ['Chip'], 'The mark, as it is read': chip });
    },
    colour: async (on, code, traits) => {
      await animal(code);
      await act('Colour');
      await write(on, { 'Shows (tick none where it shows none of these)': traits });
    },
    escaped: async (on, code) => {
      await animal(code);
      await act('Escaped');
      await write(on, {}, 'It got out');
    },
    cameBack: async (on, code, knownBy, pen) => {
      await walk();
      await goTo('Away');
      await row(code).click();
      await act('Came back');
      await write(
        on,
        { 'Known by which mark or photo? Another may look like it.': knownBy },
        `${pen}, quarantine`,
      );
    },
    arrived: async (on, { code, hatched, from, pen }) => {
      await ofPen(pen, 'Arrived');
      await write(
        on,
        {
          'Code it gets': code,
          Sex: ['Male'],
          'Hatched, as far as known: 2012, or 2012~ for about': hatched,
          'From whom (may stay empty)': from,
        },
        'Bought',
      );
    },
    sold: async (on, code, to) => {
      await animal(code);
      await act('Left');
      await write(on, { 'To whom (may stay empty)': to }, 'Sold');
    },
    died: async (on, code) => {
      await animal(code);
      await act('Dead');
      await write(on, {}, 'Illness');
    },
    laid: async (on, dam, _pen, { eggs, broken, notSet }) => {
      await animal(dam);
      await act('Eggs');
      await write(on, {
        Eggs: eggs,
        ...(broken ? { 'Of them broken': broken } : {}),
        ...(notSet ? { 'Of them not set, on purpose': notSet } : {}),
        'I saw her lay': true,
      });
    },
    eggsFound: async (on, pen, dams, eggs) => {
      await ofPen(pen, 'Eggs found');
      await write(on, { Eggs: eggs, 'Whose they may be': dams });
    },
    set: async (on, of, eggs, celsius) => {
      await clutch(of);
      await act('Set eggs');
      await write(on, { 'Eggs set': eggs, 'Temperature at the egg in °C': celsius });
    },
    warmth: async (on, of, celsius) => {
      await clutch(of);
      await act('Temperature');
      await write(on, { 'Temperature at the egg from then on in °C': celsius });
    },
    failed: async (on, of, { infertile, diedEarly, diedLate, pale }) => {
      await clutch(of);
      await act('Not hatched');
      await write(on, {
        ...(infertile ? { Infertile: infertile } : {}),
        ...(diedEarly ? { 'Died early': diedEarly } : {}),
        ...(diedLate ? { 'Died late': diedLate } : {}),
        ...(pale ? { 'Of the dead in the shell: pale': pale } : {}),
      });
    },
    hatched: async (on, of, count, codes, pen) => {
      await clutch(of);
      await act('Hatched');
      const chosen = page
        .getByRole('group', { name: 'Put where' })
        .getByRole('button', { name: pen, exact: true });
      // The pen of the last hatching is offered again.
      const isKept = (await chosen.getAttribute('aria-pressed')) === 'true';
      await write(on, {
        'How many': count,
        ...(codes ? { 'Codes of those with one; the others are counted as a lot': codes } : {}),
        ...(isKept ? {} : { 'Put where': [pen] }),
      });
    },
    found: async (on, codes, clutches, pen) => {
      await ofPen(pen, 'Young found');
      const labels = page.getByRole('group', { name: 'Clutches they may be of' });
      for (const code of clutches)
        await labels.getByRole('button', { name: new RegExp(`^${code}`) }).click();
      await write(on, { 'How many': 1, 'Codes they get': codes });
    },
    colourOfClutch: async (on, of, looked, pale) => {
      await clutch(of);
      await act('Colour, by count');
      await write(on, { 'How many were looked at': looked, 'Of them showed: pale': pale });
    },
    lotCounted: async (on, of, count) => {
      await lot(of);
      await act('Count');
      await write(on, { 'How many are there': count });
    },
    lotDied: async (on, of, count) => {
      await lot(of);
      await act('Died');
      await write(on, { 'How many': count }, 'Heat');
    },
    lotPromoted: async (on, of, codes) => {
      await lot(of);
      await act('Give codes');
      await write(on, { 'Their codes': codes });
    },
    lotMoved: async (on, of, to) => {
      await lot(of);
      await act('Move');
      await write(on, {}, to);
    },
    lotMerged: async (on, of, into) => {
      await lot(of);
      await act('Put together');
      const joins = page.getByRole('group', { name: 'They join lot' });
      await page.locator('.act-form').getByLabel('Day').fill(on);
      await joins.getByRole('button', { name: new RegExp(`^${into}`) }).click();
      await page.locator('.act-form').waitFor({ state: 'detached' });
    },
    lotSold: async (on, of, count, to) => {
      await lot(of);
      await act('Left');
      await write(on, { 'How many leave': count, 'To whom (may stay empty)': to }, 'Sold');
    },
    slip: async (on, code, grams) => {
      await animal(code);
      await act('Weigh');
      await write(on, { 'Weight in g': grams });
      await button(new RegExp(`^Undo ${code} weighed`)).click();
      await button(new RegExp(`^Undo ${code} weighed`)).waitFor({ state: 'detached' });
    },
  };
}
