/** A million mutated rows through the reader and the checks of program files: no crash, no broken promise. */
import { readFileSync } from 'node:fs';
import { seededRandom } from '@scutewright/basics';
import { fuzz } from './mutate-program-file.js';

const ROWS = 1_000_000;
const programs = new URL('../../../libs/commands/test/programs/', import.meta.url);

export function run(): boolean {
  const lines = readFileSync(new URL('harbour-group.csv', programs), 'utf8').trim().split(/\r?\n/);
  const start = performance.now();
  const total = fuzz(lines, ROWS, 200, seededRandom(20260601));
  const seconds = ((performance.now() - start) / 1000).toFixed(0);
  console.log(
    `${ROWS} mutated rows in ${total.files} files (${seconds} s): ${total.rowsRead} rows read, ` +
      `${total.faults} faults told, ${total.readable} files read whole, written and read back`,
  );
  // A fuzz that never gets through, or never finds anything, tests nothing.
  return total.readable > 0 && total.faults > ROWS / 10 && total.rowsRead > ROWS / 10;
}
