import { describe, expect, it } from '@jest/globals';
import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { type QuoteFault, splitRows } from '../dist/program-file/split-rows.js';

interface Split {
  rows: string[][];
  lines: number[];
  quotes: QuoteFault[];
}

function split(text: string, separator = ','): Split {
  const found: Split = { rows: [], lines: [], quotes: [] };
  splitRows(text, separator, (cells, line, quotes) => {
    found.rows.push(cells);
    found.lines.push(line);
    found.quotes.push(...quotes);
    return true;
  });
  return found;
}

describe('splitRows', () => {
  it('splits what RFC 4180 section 2 shows', () => {
    expect(split('aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n').rows).toEqual([
      ['aaa', 'bbb', 'ccc'],
      ['zzz', 'yyy', 'xxx'],
    ]);
    expect(split('"aaa","b\r\nbb","ccc"\r\nzzz,yyy,xxx').rows).toEqual([
      ['aaa', 'b\r\nbb', 'ccc'],
      ['zzz', 'yyy', 'xxx'],
    ]);
    expect(split('"aaa","b""bb","ccc"').rows).toEqual([['aaa', 'b"bb', 'ccc']]);
  });

  it('agrees with an independent parser on any well-formed table', () => {
    const cell = fc.string({
      unit: fc.constantFrom('a', '"', ',', ';', '\t', '\n', '\r', ' ', 'é'),
    });
    const end = fc.constantFrom('\n', '\r\n');
    fc.assert(
      fc.property(
        fc.array(fc.array(cell, { minLength: 2, maxLength: 4 }), { maxLength: 6 }),
        fc.constantFrom(',', ';', '\t'),
        end,
        (table, separator, lineEnd) => {
          const quoted = (text: string): string => `"${text.replaceAll('"', '""')}"`;
          const text = table.map((row) => row.map(quoted).join(separator)).join(lineEnd);
          const options = { delimiter: separator, relax_column_count: true };
          expect(split(text, separator).rows).toEqual(parse(text, options));
        },
      ),
      { numRuns: 500 },
    );
  });

  it('tells the line on which each row starts, over quoted line ends of any kind', () => {
    expect(split('a\n"b\r\nb",1\n\nc\r"d\rd"\re').lines).toEqual([1, 2, 5, 6, 8]);
  });

  it('keeps an unclosed quote to its own cell', () => {
    const { rows, quotes } = split('a,"b,c\nd,e,f\n');
    expect(rows).toEqual([
      ['a', '"b', 'c'],
      ['d', 'e', 'f'],
    ]);
    expect(quotes).toEqual([{ kind: 'UNCLOSED_QUOTE', line: 1, cell: 1, value: '"b' }]);
  });

  it('does not let an unclosed quote swallow lines up to the next quoted cell', () => {
    const { rows, quotes } = split('a,"b,c\nd,e,f\ng,"h",i\n');
    expect(rows).toEqual([
      ['a', '"b', 'c'],
      ['d', 'e', 'f'],
      ['g', 'h', 'i'],
    ]);
    expect(quotes.map(({ kind, line }) => ({ kind, line }))).toEqual([
      { kind: 'UNCLOSED_QUOTE', line: 1 },
    ]);
  });

  it('reports text behind a closing quote', () => {
    const { rows, quotes } = split('a,"b"c,d');
    expect(rows).toEqual([['a', '"b"c', 'd']]);
    expect(quotes).toEqual([{ kind: 'STRAY_QUOTE', line: 1, cell: 1, value: '"b"c' }]);
  });

  it('stays fast on a file that is all quotes', () => {
    for (const text of ['"a\n'.repeat(200_000), '"'.repeat(400_001), '",""\n'.repeat(100_000)]) {
      const start = performance.now();
      split(text);
      // Linear work takes some milliseconds; work by the square would take minutes.
      expect(performance.now() - start).toBeLessThan(5_000);
    }
  });

  it('splits a text that comes in pieces as it splits the whole', () => {
    const characters = fc.constantFrom('a', '"', ',', '\n', '\r', ' ', '"b"', ',"c\nd",');
    const text = fc.array(characters, { maxLength: 60 }).map((list) => list.join(''));
    fc.assert(
      fc.property(text, fc.array(fc.nat(60), { maxLength: 6 }), (all, cuts) => {
        const whole = split(all);
        const rows: string[][] = [];
        const quotes: QuoteFault[] = [];
        let rest = '';
        let line = 1;
        let from = 0;
        for (const cut of [...cuts.sort((a, b) => a - b), all.length]) {
          const end = Math.max(from, Math.min(cut, all.length));
          rest += all.slice(from, end);
          from = end;
          const take = (cells: string[], _: number, found: readonly QuoteFault[]): boolean => {
            rows.push(cells);
            quotes.push(...found);
            return true;
          };
          const place = splitRows(rest, ',', take, { position: 0, line }, cut === all.length);
          rest = rest.slice(place.position);
          line = place.line;
        }
        expect({ rows, quotes }).toEqual({ rows: whole.rows, quotes: whole.quotes });
      }),
      { numRuns: 2000 },
    );
  });
});
