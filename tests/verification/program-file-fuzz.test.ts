import { readFileSync } from 'node:fs';
import { describe, expect, it } from '@jest/globals';
import { seededRandom } from '@scutewright/basics';
import { fuzz } from './mutate-program-file.js';

// The short run of program-file.verify: the same mutations, fewer rows.
const programs = new URL('../../../libs/commands/test/programs/', import.meta.url);

describe('mutated program files', () => {
  it.each(['harbour-group.csv', 'harbour-messy.csv', 'own-headings.csv'])('%s', (name) => {
    const lines = readFileSync(new URL(name, programs), 'latin1').trim().split(/\r?\n/);
    const total = fuzz(lines, 5_000, 20, seededRandom(7));
    expect(total.files).toBeGreaterThan(400);
    expect(total.faults).toBeGreaterThan(1_000);
    expect(total.rowsRead).toBeGreaterThan(1_000);
    if (name === 'harbour-group.csv') expect(total.readable).toBeGreaterThan(10);
  });
});
