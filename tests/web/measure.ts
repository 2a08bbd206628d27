/**
 * `npm run measure -- ADDRESS EMAIL PASSWORD`: how soon the pages of a running service stand and answer, as Largest
 * Contentful Paint and Interaction to Next Paint (https://web.dev/vitals), in a phone's window on a processor four
 * times slower than this one, with an invented program of 5,000 animals that it makes on the first run. Times vary
 * with what else the machine does: the best and the middle of five are shown, and no check rests on them.
 */
import type { Browser, Page } from 'playwright-core';
import { openBrowser } from './browser.js';
import { inventedProgramFile } from './invented-program.js';
import { scriptOfPages } from './script-size.js';

const [base = 'http://localhost:4310', email, password] = process.argv.slice(2);
const SLOWER = 4;
const TIMES = 5;
const PROGRAM = 'Five thousand, to measure';

const browser = await openBrowser();
try {
  await measure(browser);
} finally {
  await browser.close();
}

async function measure(browser: Browser): Promise<void> {
  const context = await browser.newContext();
  const page = await context.newPage();
  await page.goto(`${base}/sign-in`);
  await ask(
    page,
    'mutation($e: String!, $p: String!) { signIn(email: $e, password: $p) { account { id } } }',
    {
      e: email,
      p: password,
    },
  );
  const programId = (await findProgram(page)) ?? (await makeProgram(page));
  const { animals } = await ask<{ animals: { edges: { node: { id: string } }[] } }>(
    page,
    'query($p: ID!) { animals(programId: $p, first: 2, orderBy: LATEST) { edges { node { id } } } }',
    { p: programId },
  );
  const [one, other] = animals.edges.map(({ node }) => node.id);
  const pages = {
    today: 'today',
    animals: 'animals',
    'animals/:animalId': `animals/${one}`,
    'lineage/:animalId': `lineage/${one}`,
    pairings: 'pairings',
    sales: `sales?animals=${one},${other}`,
    pens: 'pens',
    genes: 'genes',
    program: 'program',
  };
  const state = await context.storageState();
  const script = scriptOfPages();
  console.log('page                script gzip   LCP best, middle    INP best, middle');
  for (const [path, address] of Object.entries(pages)) {
    const paints: number[] = [];
    const answers: number[] = [];
    for (let k = 0; k < TIMES; k++) {
      const phone = await browser.newContext({
        storageState: state,
        viewport: { width: 390, height: 844 },
      });
      const { paint, answer } = await visit(
        await phone.newPage(),
        `${base}/programs/${programId}/${address}`,
      );
      paints.push(paint);
      answers.push(answer);
      await phone.close();
    }
    const figures = (times: number[]) => {
      const inOrder = times.toSorted((a, b) => a - b);
      return `${Math.round(inOrder[0])}, ${Math.round(inOrder[inOrder.length >> 1])} ms`.padEnd(20);
    };
    const size = `${script[`/programs/:programId/${path}`]} kB`;
    console.log(path.padEnd(20), size.padEnd(12), figures(paints), figures(answers));
  }
}

/** Opens a page on a slow phone, and types, opens what can be opened and changes the theme, as a reader would. */
async function visit(page: Page, address: string): Promise<{ paint: number; answer: number }> {
  // The browser is open already, at this service.
  await page.goto(`${base}/mark.svg`);
  const devtools = await page.context().newCDPSession(page);
  await devtools.send('Emulation.setCPUThrottlingRate', { rate: SLOWER });
  await page.addInitScript(() => {
    const seen = { paint: 0, answer: 0 };
    Object.assign(window, { seen });
    new PerformanceObserver((list) => {
      for (const entry of list.getEntries()) seen.paint = entry.startTime;
    }).observe({ type: 'largest-contentful-paint', buffered: true });
    new PerformanceObserver((list) => {
      for (const entry of list.getEntries()) {
        if ((entry as PerformanceEntry & { interactionId: number }).interactionId > 0) {
          seen.answer = Math.max(seen.answer, entry.duration);
        }
      }
    }).observe({ type: 'event', durationThreshold: 16, buffered: true } as PerformanceObserverInit);
  });
  await page.goto(address, { waitUntil: 'load' });
  await page.waitForFunction(
    () => document.querySelector('h1') && !document.querySelector('.skeleton'),
  );
  await page.waitForTimeout(700);
  await page.locator('#find-anything').click();
  await page.keyboard.type('BG-01', { delay: 120 });
  await page.waitForTimeout(500);
  await page.keyboard.press('Escape');
  await page.keyboard.press('Escape');
  const folded = page.locator('main summary:visible');
  for (let k = 0; k < Math.min(2, await folded.count()); k++) await folded.nth(k).click();
  for (const theme of ['Dark', 'Sun', 'Light']) {
    await page.locator('.themes').getByText(theme, { exact: true }).click();
    await page.waitForTimeout(400);
  }
  return page.evaluate(
    () => (window as unknown as { seen: { paint: number; answer: number } }).seen,
  );
}

async function findProgram(page: Page): Promise<string | undefined> {
  const { viewer } = await ask<{
    viewer: { memberships: { program: { id: string; name: string } }[] } | null;
  }>(page, '{ viewer { memberships { program { id name } } } }');
  if (!viewer) throw new Error('Nobody is signed in: give ADDRESS EMAIL PASSWORD of an owner.');
  return viewer.memberships.find(({ program }) => program.name === PROGRAM)?.program.id;
}

/** Makes the invented program by the same way as a breeder's own file comes in. */
async function makeProgram(page: Page): Promise<string> {
  const act = <Data>(name: string, type: string, answer: string, p: string, input: object) =>
    ask<Data>(
      page,
      `mutation($p: ID!, $i: ${type}!) { ${name}(programId: $p, input: $i) { ${answer} } }`,
      {
        p,
        i: { commandId: crypto.randomUUID(), ...input },
      },
    );
  const { createProgram } = await ask<{ createProgram: { id: string } }>(
    page,
    'mutation($i: CreateProgramInput!) { createProgram(input: $i) { id } }',
    { i: { commandId: crypto.randomUUID(), name: PROGRAM } },
  );
  const { id } = createProgram;
  await act('addLocus', 'AddLocusInput', 'command { id }', id, {
    code: 'pl',
    name: 'pale',
    inheritance: 'AUTOSOMAL',
    alleles: [{ name: 'N' }, { name: 'p', frequency: '1/20' }],
    founderRule: 'ANY',
  });
  await act('addTrait', 'AddTraitInput', 'command { id }', id, {
    name: 'pale',
    shows: 'pl = p/p',
    misreadYoung: 0.01,
    misreadAdult: 0,
  });
  const uploadId = await page.evaluate(
    async ([address, text]) => {
      const headers = { 'content-type': 'application/octet-stream' };
      const sent = await fetch(address, { method: 'POST', headers, body: text });
      return ((await sent.json()) as { uploadId: string }).uploadId;
    },
    [`/files/${id}?name=invented.csv`, inventedProgramFile(5000)],
  );
  const { importProgramFile } = await act<{ importProgramFile: { created: number } }>(
    'importProgramFile',
    'ImportProgramFileInput',
    'created faults { message }',
    id,
    { uploadId, isDryRun: false, species: 'Testudo graeca', makesProposed: true, trust: 0.8 },
  );
  if (importProgramFile.created !== 5000) throw new Error(JSON.stringify(importProgramFile));
  return id;
}

async function ask<Data>(page: Page, query: string, variables: object = {}): Promise<Data> {
  const answer = await page.evaluate(async (body) => {
    const headers = { 'content-type': 'application/json' };
    return (await fetch('/graphql', { method: 'POST', headers, body })).json();
  }, JSON.stringify({ query, variables }));
  if (answer.errors) throw new Error(JSON.stringify(answer.errors));
  return answer.data as Data;
}
