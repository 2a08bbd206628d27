import { readFileSync } from 'node:fs';

/** Of this software, as in the package.json of the repository. */
export const VERSION: string = JSON.parse(
  readFileSync(new URL('../../../package.json', import.meta.url), 'utf8'),
).version;
