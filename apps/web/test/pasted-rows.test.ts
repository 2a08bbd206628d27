import { describe, expect, it } from '@jest/globals';
import {
  cellsOf,
  dayIn,
  guessedColumns,
  headings,
  readRows,
} from '../src/features/records/pasted-rows.js';

// Invented rows. Dates by ISO 8601; day before month with dots; with slashes only where one order is possible.
describe('pasted rows', () => {
  it('read dates, and refuse one that could be two days', () => {
    expect(dayIn('2026-04-30')).toBe('2026-04-30');
    expect(dayIn('30.4.2026')).toBe('2026-04-30');
    expect(dayIn('4/30/2026')).toBe('2026-04-30');
    expect(dayIn('30/4/2026')).toBe('2026-04-30');
    expect(dayIn('5/5/2026')).toBe('2026-05-05');
    expect(dayIn('3/4/2026')).toBeNull();
    expect(dayIn('31.4.2026')).toBeNull();
    expect(dayIn('2026')).toBe('2026');
  });

  it('take headings for columns, and guess without them', () => {
    expect(headings(['Code', 'Date', 'Length cm', 'Weight kg', 'Colour'])).toEqual([
      'code',
      'date',
      'sclCm',
      'massKg',
      'skip',
    ]);
    expect(headings(['A-1', '2026-04-30', '182'])).toBeNull();
    expect(guessedColumns([['A-1', '30.4.2026', '182', '1240', 'shy']])).toEqual([
      'code',
      'date',
      'sclMm',
      'massG',
      'note',
    ]);
  });

  it('become entries in millimetres and grams, or name what is wrong', () => {
    const cells = cellsOf('A-1\t2026-04-30\t18,2\t1.24\nA-2\t\t\t\n\t\t5\t\nA-3\t\tlong\t');
    const rows = readRows(cells, ['code', 'date', 'sclCm', 'massKg'], '2026-05-01');
    expect(rows[0]?.entry).toEqual({
      on: '2026-04-30',
      note: null,
      measured: { animal: 'A-1', sclMm: 182, massG: 1240, plastronMm: undefined },
    });
    expect(rows[1]?.entry).toEqual({
      on: '2026-05-01',
      note: null,
      seen: { animals: ['A-2'], pen: null },
    });
    expect(rows[2]).toMatchObject({ entry: null, faults: ['No code.'] });
    expect(rows[3]).toMatchObject({ entry: null, faults: ["'long' is no length or weight."] });
  });
});
