import { readFileSync } from 'node:fs';
import { expect, it } from '@jest/globals';
import { scriptOfPages } from './script-size.js';

const MOST_KB = 200;

it('sends no page more script than the budget', () => {
  const sizes = scriptOfPages();
  expect(Object.keys(sizes).length).toBeGreaterThan(30);
  expect(Object.entries(sizes).filter(([, kB]) => kB > MOST_KB)).toEqual([]);
});

it('names every page of the routes', () => {
  const routes = new URL('../../../apps/web/src/app/routes.tsx', import.meta.url);
  const pages = readFileSync(routes, 'utf8').match(/\bpage\(\s*'/g) ?? [];
  expect(Object.keys(scriptOfPages())).toHaveLength(pages.length);
});
