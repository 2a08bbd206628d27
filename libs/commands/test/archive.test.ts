import { describe, expect, it } from '@jest/globals';
import {
  ArchiveFault,
  ArchiveRowReader,
  readDescription,
  writeArchiveRow,
  writeDescription,
} from '@scutewright/commands';
import { parse } from 'csv-parse/sync';
import fc from 'fast-check';

type Rows = (string | null)[][];

function read(pieces: readonly string[]): Rows {
  const rows: Rows = [];
  const reader = new ArchiveRowReader('x.csv');
  const onRow = (cells: (string | null)[]) => rows.push(cells);
  for (const piece of pieces) reader.read(piece, onRow);
  reader.end(onRow);
  return rows;
}

const cell = fc.option(
  fc.oneof(
    fc.string({ unit: 'grapheme', maxLength: 8 }),
    fc.string({ unit: fc.constantFrom(...'a",\r\n '), maxLength: 8 }),
  ),
  { nil: null },
);
const table = fc
  .integer({ min: 1, max: 4 })
  .chain((width) =>
    fc.array(fc.array(cell, { minLength: width, maxLength: width }), { maxLength: 6 }),
  );

describe('rows of an archive', () => {
  it('come back cell by cell, however the text is cut, and missing is not empty', () => {
    fc.assert(
      fc.property(table, fc.array(fc.nat(60), { maxLength: 6 }), (rows, cuts) => {
        const text = rows.map(writeArchiveRow).join('');
        const at = [
          0,
          ...cuts.filter((cut) => cut < text.length).sort((a, b) => a - b),
          text.length,
        ];
        const pieces = at.slice(1).map((end, i) => text.slice(at[i], end));
        expect(read(pieces)).toEqual(rows);
      }),
      { numRuns: 2000 },
    );
  });

  it('are read alike by an independent reader, which sees missing as empty', () => {
    fc.assert(
      fc.property(table, (rows) => {
        // A row of one missing cell is an empty line, which not every reader takes for a row.
        fc.pre(rows.every((row) => row.length > 1));
        const text = rows.map(writeArchiveRow).join('');
        const seen = parse(text, { record_delimiter: '\n' });
        expect(seen).toEqual(rows.map((row) => row.map((each) => each ?? '')));
      }),
      { numRuns: 1000 },
    );
  });

  it.each([
    ['a quote in the middle of a cell', 'a,b"c\n'],
    ['text after a closing quote', '"a"b,c\n'],
    ['a quote that is never closed', '"a,b\nc,d\n'],
    ['a last row without its end', 'a,b\nc,d'],
    ['line ends of another program', 'a,b\r\n'],
  ])('are refused in words: %s', (_, text) => {
    expect(() => read([text])).toThrow(ArchiveFault);
    expect(() => read([text])).toThrow(/^The archive is damaged: in x\.csv after line \d+, /);
  });
});

describe('the description of an archive', () => {
  const about = { title: 'North', version: '0.1.0', schema: 3, modified: '2026-04-01T10:00:00Z' };
  const id = { name: 'id', datatype: 'string', words: null, isRequired: true } as const;
  const text = writeDescription(about, [
    { name: 'pen', columns: [id], key: ['id'], references: [] },
    {
      name: 'stay',
      columns: [id, { ...id, name: 'pen_id', words: ['A', 'B'], isRequired: false }],
      key: ['id'],
      references: [{ columns: ['pen_id'], table: 'pen', targets: ['id'] }],
    },
  ]);

  it('has the shape of the standard and comes back', () => {
    // 'tableSchema', 'primaryKey' and 'foreignKeys' of https://www.w3.org/TR/tabular-metadata/.
    const json = JSON.parse(text);
    expect(json.tables[1]).toEqual({
      url: 'stay.csv',
      tableSchema: {
        columns: [
          { name: 'id', titles: 'id', datatype: 'string', required: true },
          { name: 'pen_id', titles: 'pen_id', datatype: { base: 'string', format: 'A|B' } },
        ],
        primaryKey: ['id'],
        foreignKeys: [
          {
            columnReference: ['pen_id'],
            reference: { resource: 'pen.csv', columnReference: ['id'] },
          },
        ],
      },
    });
    const back = readDescription(text);
    expect(back).toMatchObject({ title: 'North', schema: 3, version: '0.1.0' });
    expect([...back.tables]).toEqual([
      ['pen', ['id']],
      ['stay', ['id', 'pen_id']],
    ]);
  });

  it.each([
    ['no JSON', '{'],
    ['another document', '{"tables": []}'],
    ['a name that leads elsewhere', text.replace('pen.csv', '../pen.csv')],
    ['a table twice', text.replaceAll('stay.csv', 'pen.csv')],
    ['a column twice', text.replaceAll('pen_id', 'id')],
    ['a number that is none', text.replace('"3"', '"three"')],
  ])('is refused in words: %s', (_, wrong) => {
    expect(() => readDescription(wrong)).toThrow(ArchiveFault);
  });
});
