import { mkdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core';

const axeSource = readFileSync(
  createRequire(import.meta.url).resolve('axe-core/axe.min.js'),
  'utf8',
);
const shots = fileURLToPath(new URL('../../../.cache/screenshots/', import.meta.url));

/** Headless Chromium: Debian's, or the one that CHROME_PATH names. */
const LAUNCH = {
  executablePath: process.env.CHROME_PATH ?? '/usr/bin/chromium',
  args: [
    ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
    '--disable-dev-shm-usage',
    '--disable-gpu',
    '--disable-background-networking',
    '--disable-component-update',
    '--disable-sync',
    '--no-first-run',
  ],
};

export function openBrowser(): Promise<Browser> {
  return chromium.launch(LAUNCH);
}

/** A phone: a narrow browser that keeps what it stores in a folder, so that it can be closed and opened again. */
export async function openPhone(folder: string): Promise<BrowserContext> {
  return patient(
    await chromium.launchPersistentContext(folder, {
      ...LAUNCH,
      viewport: { width: 390, height: 844 },
      bypassCSP: true,
      hasTouch: true,
      reducedMotion: 'reduce',
    }),
  );
}

/** A window of this width; the content policy of the page would keep the checker out, so it is lifted for it. */
export async function openWindow(browser: Browser, width: number): Promise<BrowserContext> {
  return patient(
    await browser.newContext({
      viewport: { width, height: width < 600 ? 844 : 900 },
      bypassCSP: true,
      hasTouch: width < 600,
      reducedMotion: 'reduce',
    }),
  );
}

/** A machine that does other things beside draws a long page in more than the half minute that is usual. */
function patient(context: BrowserContext): BrowserContext {
  context.setDefaultTimeout(90_000);
  return context;
}

/** Accessibility faults of the page as it stands: WCAG A, AA, AAA and best practice. */
export async function accessibilityFaults(page: Page): Promise<string[]> {
  await page.evaluate(axeSource);
  return page.evaluate(async () => {
    const axe = (
      window as unknown as {
        axe: { run(): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }> };
      }
    ).axe;
    const { violations } = await axe.run();
    return violations.map(({ id, nodes }) => `${id}: ${nodes[0].html.slice(0, 160)}`);
  });
}

export async function setTheme(page: Page, theme: 'light' | 'dark' | 'sun'): Promise<void> {
  await page.evaluate((name) => document.documentElement.setAttribute('data-theme', name), theme);
}

/** Pixels that the page is wider than its window: 0 where nothing has to be pushed sideways. */
export function sidewaysScroll(page: Page): Promise<number> {
  return page.evaluate(
    () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
  );
}

export async function shoot(page: Page, name: string): Promise<void> {
  mkdirSync(shots, { recursive: true });
  await page.screenshot({ path: `${shots}${name}.png`, fullPage: true });
}
