import { describe, expect, it } from '@jest/globals';
import {
  EncodingGuess,
  FIELDS,
  MOST_BYTES,
  type ProgramFile,
  ProgramFileReader,
  readProgramFile,
} from '@scutewright/commands';

const encode = (text: string): Uint8Array => new TextEncoder().encode(text);
const read = (text: string): ProgramFile => readProgramFile(encode(text));
const faultsOf = (text: string): string[] =>
  read(text).faults.list.map(
    ({ code, line, column, value }) => `${code} ${line} ${column} ${value}`,
  );
const cell = (column: string, value: string): string[] =>
  faultsOf(`code,name,${column}\nA-1,x,"${value}"\n`).map((fault) => fault.split(' ')[0]);

describe('cells that cannot be read', () => {
  it.each([
    ['hatched', '31-02-2011', 'NO_SUCH_DATE'],
    ['hatched', '2011-02-29', 'NO_SUCH_DATE'],
    ['hatched', '2011-13', 'NO_SUCH_DATE'],
    ['hatched', '20111-01-01', 'FIVE_DIGIT_YEAR'],
    ['hatched', '40123', 'FIVE_DIGIT_YEAR'],
    ['hatched', '1700', 'YEAR_OUT_OF_RANGE'],
    ['hatched', '14.09.98', 'TWO_DIGIT_YEAR'],
    ['hatched', 'last spring', 'BAD_DATE'],
    ['sex', 'x', 'BAD_SEX'],
    ['scl_mm', '12O', 'LETTER_O'],
    ['scl_mm', '12,5', 'DECIMAL_COMMA'],
    ['scl_mm', '=A1', 'FORMULA'],
    ['scl_mm', '164 mm', 'BAD_NUMBER'],
    ['scl_mm', '1e3', 'BAD_NUMBER'],
    ['scl_mm', '0', 'NUMBER_OUT_OF_RANGE'],
    ['mass_g', '-5', 'NUMBER_OUT_OF_RANGE'],
    ['sire', 'A:1.2', 'PROBABILITY_OUT_OF_RANGE'],
    ['sire', 'A:0', 'PROBABILITY_OUT_OF_RANGE'],
    ['sire', 'A:60%', 'BAD_PROBABILITY'],
    ['sire', 'A:0.7|B:0.4', 'PROBABILITIES_OVER_1'],
    ['sire', 'A:0.6|B:0.4|C', 'NOTHING_LEFT'],
    ['sire', 'A|A', 'PARENT_TWICE'],
    ['sire', 'A||B', 'BAD_PARENT'],
    ['dam', ':0.5', 'BAD_PARENT'],
    ['traits', 'none;pale', 'NONE_WITH_TRAIT'],
    ['traits', 'pale;;honey', 'BAD_TRAIT'],
    ['traits', 'pale;pale', 'TRAIT_TWICE'],
    ['traits', 'pale;not pale', 'TRAIT_TWICE'],
    ['traits', 'none;not pale', 'NONE_WITH_TRAIT'],
    ['genotype', 'pl', 'BAD_GENOTYPE'],
    ['genotype', 'pl=N/p/q', 'BAD_GENOTYPE'],
    ['genotype', 'pl=N/N;pl=N/p', 'LOCUS_TWICE'],
    ['notes', 'x'.repeat(20_001), 'TOO_LONG'],
  ])('%s %s', (column, value, code) => {
    expect(cell(column, value)).toEqual([code]);
  });

  it('are all reported at once, each with its line and its column, and the others are still read', () => {
    const file = read('code,sex,scl_mm\nA-1,x,12O\n\nA-2,m,150\n,f,1\nA:3,,\n');
    expect(file.faults.list.map(({ code, line, column }) => [code, line, column])).toEqual([
      ['BAD_SEX', 2, 'sex'],
      ['LETTER_O', 2, 'scl_mm'],
      ['EMPTY_CODE', 5, 'code'],
      ['BAD_CODE', 6, 'code'],
    ]);
    expect(file.rows.map(({ code, sex, sclMm }) => [code, sex, sclMm])).toEqual([
      ['A-1', null, null],
      ['A-2', 'm', 150],
    ]);
  });

  it('tell what bytes could not be read', () => {
    const bytes = encode('code,name\nA-1,Kröte ä ö ü\nA-2,xx\n');
    bytes[bytes.length - 2] = 0xff;
    expect(readProgramFile(bytes).faults.list).toMatchObject([
      { code: 'UNREADABLE_CHARACTER', line: 3, column: 'name' },
    ]);
  });
});

describe('dates as people write them', () => {
  const dates = (...cells: string[]): (string | undefined)[] =>
    read(`id;born\n${cells.map((each, i) => `A-${i};${each}`).join('\n')}\n`).rows.map(
      (row) => row.hatched?.text,
    );

  it('reads day first where a day over 12 shows it', () => {
    expect(dates('14.09.1998', '03.08.1999', '6/2001', '2004', '2005-06-07')).toEqual([
      ...['1998-09-14', '1999-08-03', '2001-06', '2004', '2005-06-07'],
    ]);
  });

  it('reads month first where that is what fits', () => {
    expect(dates('9/14/1998', '08/03/1999')).toEqual(['1998-09-14', '1999-08-03']);
  });

  it('says so where nothing in the file proves the order', () => {
    const { guesses } = read('id;born\nA-1;03.08.1999\n');
    expect(guesses.join()).toContain('no date in the file proves it');
  });

  it('reads named months, about, and a midnight that a spreadsheet added', () => {
    expect(dates('3 June 2011', 'Juli 2011', 'ca. 1987', '~1990', '2001-05-06 00:00:00')).toEqual([
      ...['2011-06-03', '2011-07', '1987~', '1990~', '2001-05-06'],
    ]);
  });

  it('reads two digits of a year once the map says which century', () => {
    const text = encode('id;born\nA-1;14.09.98\nA-2;14.09.03\n');
    const file = readProgramFile(text, { map: { twoDigitYearsFrom: 1950 } });
    expect(file.rows.map((row) => row.hatched?.text)).toEqual(['1998-09-14', '2003-09-14']);
  });
});

describe('tables as people make them', () => {
  it.each([',', ';', '\t', '|'])('finds the separator %j', (separator) => {
    const text = ['Code,Father,Weight kg', 'A-1,,1', 'A-2,A-1,1.25'].join('\n');
    const file = read(text.replaceAll(',', separator));
    expect(file.map.separator).toBe(separator);
    expect(file.rows[1]).toMatchObject({ sires: [{ code: 'A-1' }], massG: 1250 });
  });

  it('finds headings below a title and believes a line that names the separator', () => {
    const file = read('sep=;\nMy tortoises, 2020;;\n\nTier;Vater;Geschlecht\nA-1;;Männchen\n');
    expect(file.rows).toMatchObject([{ code: 'A-1', sex: 'm', line: 5 }]);
  });

  it('reads lengths and masses in the unit that the heading names', () => {
    const file = read('id,Carapace cm,Weight oz\nA-1,16.4,10\n');
    // An ounce is 28.349523125 g exactly (NIST Handbook 44, appendix C).
    expect(file.rows).toMatchObject([{ sclMm: 164, massG: 283.495231 }]);
  });

  it('takes a map before its own guesses', () => {
    const text = encode('Who,Papa\nA-1,\nA-2,A-1\n');
    expect(readProgramFile(text).faults.list.map((fault) => fault.code)).toContain(
      'NO_CODE_COLUMN',
    );
    const columns = [
      { heading: 'Who', field: 'code', unit: null },
      { heading: 'Papa', field: 'sire', unit: null },
    ] as const;
    const file = readProgramFile(text, { map: { columns } });
    expect(file.faults.list).toEqual([]);
    expect(file.rows[1].sires).toEqual([{ code: 'A-1', probability: null }]);
  });

  it('reports rows with too many or too few cells without guessing at them', () => {
    const text = 'code,sex,mass_g\nA-1,m,732,5\nA-2,m\nA-3,f,7,,\n';
    expect(faultsOf(text)).toEqual(['RAGGED_ROW 2  A-1,m,732,5', 'RAGGED_ROW 3  A-2,m']);
    expect(read(text).rows.map(({ code, massG }) => [code, massG])).toEqual([
      ['A-1', null],
      ['A-2', null],
      ['A-3', 7],
    ]);
  });

  it('reports unclosed quotes, unknown, doubled and unnamed columns', () => {
    expect(faultsOf('code,name\nA-1,"Bo\nA-2,Ann\n')).toEqual(['UNCLOSED_QUOTE 2 name "Bo']);
    expect(faultsOf('code,name,shoe\nA-1,,\n')).toEqual(['UNKNOWN_COLUMN 1 shoe shoe']);
    expect(faultsOf('code,name,name\nA-1,,\n')).toEqual(['DUPLICATE_COLUMN 1 name name']);
    expect(faultsOf('code,name,\nA-1,,lost\nA-2,,\n')).toEqual(['UNNAMED_COLUMN 2 column 3 lost']);
  });

  it('says what a file is that is no table of animals', () => {
    expect(readProgramFile(new Uint8Array()).faults.list[0].code).toBe('EMPTY_FILE');
    expect(faultsOf(' \n\n')).toEqual(['EMPTY_FILE 0  ']);
    expect(faultsOf('code,name\n')).toEqual(['EMPTY_FILE 0  ']);
    expect(faultsOf('PK\u0003\u0004rest')).toEqual(['NOT_TEXT 0  ']);
    expect(faultsOf('once upon a time').join()).toContain('WRONG_SEPARATOR');
    const tooLarge = readProgramFile(new Uint8Array(MOST_BYTES + 1));
    expect(tooLarge.faults.list[0]).toMatchObject({ code: 'FILE_TOO_LARGE', isFatal: true });
  });

  it('knows every field of the format by its own name', () => {
    const file = read(`${FIELDS.join(',')}\n${FIELDS.map(() => '').join(',')}\n`);
    expect(file.map.columns.map((column) => column.field)).toEqual(FIELDS);
    expect(file.guesses).toEqual([]);
  });

  it('lists a thousand faults of a kind and counts all', () => {
    const rows = Array.from({ length: 1500 }, (_, i) => `A-${i},x`);
    const { faults } = read(`code,sex\n${rows.join('\n')}\n`);
    expect(faults.list).toHaveLength(1000);
    expect(faults.counts.get('BAD_SEX')).toBe(1500);
  });
});

describe('the six columns of a pedigree', () => {
  const pedigree = '1 3 1 2 2 2\n1 1 0 0 1 1\n1 2 0 0 2 0\n';

  it('are recognised and read', () => {
    const file = read(pedigree);
    expect(file.map.format).toBe('SIX_COLUMNS');
    expect(file.rows).toMatchObject([
      { code: '3', sex: 'f', sires: [{ code: '1' }], dams: [{ code: '2' }], traits: null },
      { code: '1', sex: 'm', sires: [], dams: [] },
      { code: '2', sex: 'f' },
    ]);
    expect(file.faults.list.map(({ code, isFatal }) => [code, isFatal])).toEqual([
      ['PHENOTYPE_LEFT_OUT', false],
    ]);
  });

  it('give traits once somebody says which trait is meant', () => {
    const file = readProgramFile(encode(pedigree), { map: { affectedTrait: 'pale' } });
    // Unaffected says nothing of other traits.
    expect(file.rows.map(({ traits, absent }) => [traits, absent])).toEqual([
      [['pale'], []],
      [[], ['pale']],
      [null, []],
    ]);
    expect(file.faults.list).toEqual([]);
  });

  it('keep families apart where they share ids', () => {
    const file = read('1 1 0 0 1 0\n2 1 0 0 2 0\n2 5 0 1 1 0\n');
    expect(file.rows.map((row) => row.code)).toEqual(['1-1', '2-1', '2-5']);
    expect(file.rows[2].dams).toEqual([{ code: '2-1', probability: null }]);
  });
});

describe('a file that comes in pieces', () => {
  const inPieces = (bytes: Uint8Array, length: number): ProgramFile => {
    const guess = new EncodingGuess();
    const pieces = Array.from({ length: Math.ceil(bytes.length / length) }, (_, i) =>
      bytes.subarray(i * length, (i + 1) * length),
    );
    for (const piece of pieces) guess.push(piece);
    const reader = new ProgramFileReader(guess, bytes.length);
    for (const [i, piece] of pieces.entries()) reader.push(piece, i === pieces.length - 1);
    return reader.file();
  };

  it('is read as the whole is: rows, faults and their lines', () => {
    // Longer than the head that is looked at first, with quotes, line ends in cells and faults all over.
    const lines = ['code,name,sex,hatched,sire,notes,extra'];
    for (let i = 0; i < 40_000; i++) {
      const quote = i % 997 === 0 ? '"' : '';
      lines.push(
        `A-${i},Zoë ${quote}${i},${i % 13 === 0 ? 'x' : 'f'},19${i % 100},A-${i - 1}|A-${i - 2},"says ""a""\r\nand, then${i % 501 === 0 ? '' : '"'},`,
      );
    }
    for (const separator of ['\n', '\r\n']) {
      const bytes = encode(lines.join(separator));
      const whole = readProgramFile(bytes);
      expect(whole.rows.length).toBeGreaterThan(30_000);
      expect(whole.faults.counts.size).toBeGreaterThan(2);
      for (const length of [100_003, 2 ** 20]) {
        const { rows, faults, ...rest } = inPieces(bytes, length);
        expect(rest).toEqual({ ...whole, rows: undefined, faults: undefined });
        expect(faults.counts).toEqual(whole.faults.counts);
        expect(faults.list).toEqual(whole.faults.list);
        // One comparison of all of them: the matcher would look for a difference by the square.
        expect(JSON.stringify(rows) === JSON.stringify(whole.rows)).toBe(true);
      }
    }
  });

  it.each(['', '\n \n', '\u0000', 'f 1 0 0 1 1\nf 2 0 0 2 1\n', 'PK\u0003\u0004'])('%j', (text) => {
    const bytes = encode(text);
    const whole = readProgramFile(bytes);
    const cut = inPieces(bytes, 4);
    expect(cut.rows).toEqual(whole.rows);
    expect(cut.faults.list).toEqual(whole.faults.list);
    expect(cut.map).toEqual(whole.map);
  });
});
