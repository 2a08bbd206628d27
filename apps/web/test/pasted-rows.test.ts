import { describe, expect, it } from '@jest/globals';
import { PASTE_KINDS } from '../src/features/records/paste-kinds.js';
import { cellsOf, dayIn, headings, readRows } from '../src/features/records/pasted-rows.js';

const [ANIMALS, CLUTCHES, HATCHINGS] = PASTE_KINDS as [
  (typeof PASTE_KINDS)[number],
  (typeof PASTE_KINDS)[number],
  (typeof PASTE_KINDS)[number],
];

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
    expect(headings(ANIMALS, ['Code', 'Date', 'Length cm', 'Weight kg', 'Colour'])).toEqual([
      'code',
      'date',
      'sclCm',
      'massKg',
      'skip',
    ]);
    expect(headings(ANIMALS, ['A-1', '2026-04-30', '182'])).toBeNull();
    expect(ANIMALS.guess([['A-1', '30.4.2026', '182', '1240', 'shy']])).toEqual([
      'code',
      'date',
      'sclMm',
      'massG',
      'note',
    ]);
  });

  it('become entries in millimetres and grams, or name what is wrong', () => {
    const cells = cellsOf('A-1\t2026-04-30\t18,2\t1.24\nA-2\t\t\t\n\t\t5\t\nA-3\t\tlong\t');
    const rows = readRows(ANIMALS, cells, ['code', 'date', 'sclCm', 'massKg'], '2026-05-01');
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

  it('become clutches and hatchings, by their headings or by the order of the example', () => {
    const lines = cellsOf(CLUTCHES.example);
    const columns = headings(CLUTCHES, lines[0] ?? []) ?? [];
    expect(columns).toEqual(['clutch', 'date', 'dams', 'eggs']);
    const cells = [...lines.slice(1), ['', '2.6.2025', 'F1 / F2', '7'], ['X', '', 'F1', 'ten']];
    const laid = readRows(CLUTCHES, cells, columns, '2026-01-01');
    expect(laid[0]?.entry).toMatchObject({
      on: '2025-06-02',
      laid: { clutch: 'C2025-04', dams: [{ ref: 'HG-012' }], eggs: 9 },
    });
    expect(laid[1]?.entry).toMatchObject({
      on: '2025-06-02',
      laid: { clutch: undefined, dams: [{ ref: 'F1' }, { ref: 'F2' }], eggs: 7 },
    });
    expect(laid[2]?.faults).toEqual(['No date: the year will do.', "'ten' is no whole number."]);
    const rows = cellsOf('C1\t2025-08-20\t6\tY1 Y2\nC2\t2025-08-21\t\tY3\nC3\t2025\t\t');
    const hatched = readRows(HATCHINGS, rows, HATCHINGS.guess(rows), '2026-01-01');
    expect(hatched[0]?.entry).toMatchObject({
      on: '2025-08-20',
      hatched: { clutch: 'C1', count: 6, codes: ['Y1', 'Y2'] },
    });
    expect(hatched[1]?.entry).toMatchObject({ hatched: { count: 1, codes: ['Y3'] } });
    expect(hatched[2]?.faults).toEqual(['How many hatched?']);
  });
});
