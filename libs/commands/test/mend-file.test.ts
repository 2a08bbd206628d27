import { readFileSync } from 'node:fs';
import { describe, expect, it } from '@jest/globals';
import {
  type Correction,
  checkProgramFile,
  EMPTY_PROGRAM,
  mendFile,
  type ProgramFile,
  readProgramFile,
} from '@scutewright/commands';
import fc from 'fast-check';

const encode = (text: string): Uint8Array => new TextEncoder().encode(text);
const today = 20_600;

function faultsOf(file: ProgramFile) {
  return checkProgramFile(file, EMPTY_PROGRAM, { today }).faults;
}

describe('faults mended in place', () => {
  it('replaces the cell that a fault names, or one of its possible parents', () => {
    const text =
      'code;hatched;sire;scl_mm\nA;2001;;120\nB;31.02.2011; X:0.6 | A:0.4;12O\n"C";2012;;99\n';
    const bytes = encode(text);
    const corrections: Correction[] = [
      { line: 3, column: 'hatched', from: '31.02.2011', to: '28.02.2011' },
      { line: 3, column: 'sire', from: 'X', to: 'C' },
      { line: 3, column: 'scl_mm', from: '12O', to: '120' },
      { line: 2, column: 'sire', from: '', to: 'A "the old";' },
      { line: 9, column: 'sire', from: 'X', to: 'C' },
      { line: 2, column: 'no such column', from: '', to: 'x' },
    ];
    const file = readProgramFile(bytes, { corrections });
    expect(file.rows[1]).toMatchObject({
      hatched: { text: '2011-02-28' },
      sires: [
        { code: 'C', probability: 0.6 },
        { code: 'A', probability: 0.4 },
      ],
      sclMm: 120,
    });
    // What was typed is read as strictly as what stood there.
    expect(file.faults.list).toMatchObject([{ code: 'BAD_PARENT', line: 2, column: 'sire' }]);
    expect(mendFile(bytes, file.map, corrections)).toBe(
      'code;hatched;sire;scl_mm\nA;2001;"A ""the old"";";120\nB;28.02.2011;C:0.6|A:0.4;120\n"C";2012;;99\n',
    );
  });

  it('mends every fault of the messy file that names a cell; the others stand', () => {
    const bytes = readFileSync(new URL('../test/programs/harbour-messy.csv', import.meta.url));
    const before = faultsOf(readProgramFile(bytes)).filter(({ isFatal }) => isFatal);
    const cells = before.filter(
      ({ line, column }) => line > 0 && column !== '' && column !== 'code',
    );
    expect(cells.length).toBeGreaterThan(5);
    const corrections = cells.map(({ line, column, value }) => ({
      line,
      column,
      from: value,
      to: '',
    }));
    const after = faultsOf(readProgramFile(bytes, { corrections })).filter(
      ({ isFatal }) => isFatal,
    );
    const places = (list: typeof before) => list.map(({ line, column }) => `${line} ${column}`);
    const left = new Set(places(after));
    expect(places(cells).filter((place) => left.has(place))).toEqual([]);
    expect(after.length).toBeLessThan(before.length);
  });

  it('reads the mended file as it reads the file with its corrections', () => {
    const cell = fc.constantFrom(
      '',
      'A',
      'B',
      'C:0.5|A:0.5',
      '2001',
      'x"y',
      '"q,r"',
      '"a\nb"',
      ' m ',
    );
    const row = fc.array(cell, { minLength: 3, maxLength: 5 });
    const columns = ['code', 'sire', 'notes', 'hatched'];
    const correction = fc.record({
      line: fc.integer({ min: 1, max: 8 }),
      column: fc.constantFrom(...columns, 'column 5'),
      from: fc.constantFrom('', 'A', 'x"y', 'C'),
      to: fc.constantFrom('', 'Z', 'say "it", then', 'two\nlines', '1999'),
    });
    fc.assert(
      fc.property(
        fc.array(row, { maxLength: 6 }),
        fc.array(correction, { maxLength: 5 }),
        fc.constantFrom('\n', '\r\n'),
        (rows, corrections, end) => {
          // A first column that nothing spoils, so that most rows are read.
          const lines = rows.map((cells, i) => [`R${i}`, ...cells.slice(1)].join(','));
          const bytes = encode([columns.join(','), ...lines].join(end));
          const file = readProgramFile(bytes, { corrections });
          const mended = readProgramFile(encode(mendFile(bytes, file.map, corrections)), {
            map: file.map,
          });
          const plain = (read: ProgramFile) => read.rows.map(({ line: _, ...rest }) => rest);
          expect(plain(mended)).toEqual(plain(file));
        },
      ),
      { numRuns: 500 },
    );
  });
});
