// The invented program files beside this test, and what their list of planted faults says of them.
import { readFileSync } from 'node:fs';
import { describe, expect, it } from '@jest/globals';
import { parsePartialDate } from '@scutewright/basics';
import {
  checkProgramFile,
  EMPTY_PROGRAM,
  type KnownProgram,
  type ProgramFileCheck,
  readProgramFile,
  writeProgramFile,
} from '@scutewright/commands';

const folder = new URL('../test/programs/', import.meta.url);
const bytesOf = (name: string): Uint8Array => new Uint8Array(readFileSync(new URL(name, folder)));
const TODAY = parsePartialDate('2026-06-01')!.earliest;

function dryRun(name: string, known: KnownProgram = EMPTY_PROGRAM): ProgramFileCheck {
  return checkProgramFile(readProgramFile(bytesOf(name)), known, { today: TODAY });
}

const names = (check: ProgramFileCheck, kind: string): string[] =>
  check.questions.flatMap((each) => (each.kind === kind && 'name' in each ? [each.name] : []));

describe('harbour-group.csv, a sound file of 140', () => {
  const check = dryRun('harbour-group.csv');

  it('has no fault and would create all', () => {
    expect(check.faults).toEqual([]);
    expect(check.isBlocked).toBe(false);
    expect(check.plan.created).toHaveLength(140);
  });

  it('asks about the traits and the locus it names, with a proposal how each is inherited', () => {
    expect(names(check, 'TRAIT').sort()).toEqual(['honey', 'pale', 'smoke']);
    expect(names(check, 'LOCUS')).toEqual(['pl']);
    const proposals = new Map(
      check.questions.flatMap((each) =>
        each.kind === 'TRAIT' ? [[each.name, each.proposal]] : [],
      ),
    );
    // As its description says: pale recessive at pl, honey recessive at hn, smoke shown by one copy at sm.
    expect(proposals.get('pale')).toMatchObject({
      mode: 'RECESSIVE',
      locus: { id: 'pl', alleles: ['N', 'p'] },
      isNewLocus: false,
      rule: { locus: 'pl', genotypes: ['p/p'] },
    });
    expect(proposals.get('honey')).toMatchObject({ mode: 'RECESSIVE', locus: { id: 'hn' } });
    expect(proposals.get('smoke')).toMatchObject({ mode: 'DOMINANT', locus: { id: 'sm' } });
  });

  it('asks nothing once all it names is known', () => {
    const known = {
      ...EMPTY_PROGRAM,
      traits: ['honey', 'pale', 'smoke'],
      loci: [{ id: 'pl', alleles: ['N', 'p'] }],
      pens: names(check, 'PEN'),
      species: ['Testudo hermanni'],
    };
    expect(dryRun('harbour-group.csv', known).questions).toEqual([]);
  });

  it('changes nothing when it comes again', () => {
    const animals = readProgramFile(bytesOf('harbour-group.csv')).rows;
    const again = dryRun('harbour-group.csv', { ...EMPTY_PROGRAM, animals });
    expect(again.faults).toEqual([]);
    expect(again.plan.created).toEqual([]);
    expect(again.plan.changed).toEqual([]);
    expect(again.plan.leftAlone).toHaveLength(140);
  });
});

describe('own-headings.csv, somebody’s own spreadsheet', () => {
  const bytes = bytesOf('own-headings.csv');
  const file = readProgramFile(bytes);

  it('proposes the map of columns, dates, numbers and words', () => {
    expect(file.map).toMatchObject({
      encoding: 'windows-1252',
      separator: ';',
      dateOrder: 'DAY_FIRST',
      decimalSign: ',',
      words: { female: ['f', 'female'], male: ['m', 'male'] },
    });
    expect(file.map.columns.map((column) => column.field)).toEqual([
      ...['code', 'name', 'species', 'sex', 'hatched', 'sire', 'dam', 'clutch', 'traits'],
      ...['genotype', 'pen', 'scl_mm', 'mass_g', 'notes'],
    ]);
    expect(file.guesses).toContain("The column 'Father' is read as sire.");
    expect(file.guesses).toContain('Dates such as 14.09.1998 are read with the day first.');
    expect(file.guesses).toContain('Numbers such as 732,5 are read with a decimal comma.');
  });

  it('reads all values by it', () => {
    expect(file.rows).toHaveLength(60);
    expect(file.rows[6]).toMatchObject({ code: 'HG-007', massG: 808.5, notes: 'from café pond' });
    expect(file.rows[11]).toMatchObject({ code: 'HG-012', hatched: { text: '1998-09-14' } });
    expect(file.rows[26].sires).toEqual([
      { code: 'HG-002', probability: 0.54 },
      { code: 'HG-005', probability: 0.41 },
    ]);
  });

  it('guesses nothing any more once the map is given', () => {
    const told = readProgramFile(bytes, { map: file.map });
    expect(told.guesses).toEqual([]);
    expect(told.rows).toEqual(file.rows);
  });

  it('reports parents that are not in the file', () => {
    const text = new TextDecoder('windows-1252').decode(bytes);
    const without = text.split('\r\n').filter((line) => !line.startsWith('HG-003;'));
    const shortened = readProgramFile(new TextEncoder().encode(without.join('\r\n')));
    const { faults } = checkProgramFile(shortened, EMPTY_PROGRAM, { today: TODAY });
    const young = without.filter((line) => line.split(';')[6] === 'HG-003');
    expect(young.length).toBeGreaterThan(3);
    expect(faults.map(({ code, column, value }) => ({ code, column, value }))).toEqual(
      young.map(() => ({ code: 'UNKNOWN_PARENT', column: 'Mother', value: 'HG-003' })),
    );
  });
});

describe('harbour-messy.csv, with planted faults', () => {
  const list = JSON.parse(readFileSync(new URL('harbour-messy.faults.json', folder), 'utf8')) as {
    faults: { line: number; column: string; value: string; remedy: string }[];
  };
  const check = dryRun('harbour-messy.csv');
  const place = ({ line, column, value }: { line: number; column: string; value: string }) =>
    `${line} ${column} ${value}`;

  it('gives exactly the planted faults, by line, column and value', () => {
    expect(list.faults.length).toBe(19);
    expect(check.faults.map(place).sort()).toEqual(list.faults.map(place).sort());
    expect(check.isBlocked).toBe(true);
  });

  it('gives each a remedy that names what the list says', () => {
    const remedy = (line: number): string =>
      check.faults
        .filter((fault) => fault.line === line)
        .map((fault) => fault.remedy)
        .join();
    expect(remedy(16)).toContain("'HG-006'");
    expect(remedy(63)).toContain('N or p');
    expect(remedy(1)).toContain('notes');
    expect(remedy(41)).toContain('at most 1');
    expect(remedy(91)).toContain('One of the 3 links');
    expect(check.faults.every((fault) => fault.message !== '' && fault.remedy !== '')).toBe(true);
  });

  it('names the three members of the loop at each of its links', () => {
    const loop = check.faults.filter((fault) => fault.code === 'CYCLE');
    expect(loop).toHaveLength(3);
    for (const { message } of loop) {
      for (const code of ['HG-086', 'HG-088', 'HG-090']) expect(message).toContain(code);
    }
  });

  it('is blocked by all but the unknown column', () => {
    expect(check.faults.filter((fault) => !fault.isFatal).map((fault) => fault.code)).toEqual([
      'UNKNOWN_COLUMN',
    ]);
  });
});

describe('large-10000.csv', () => {
  it('is read and checked without fault in seconds, and written back to the same animals', () => {
    const start = performance.now();
    const file = readProgramFile(bytesOf('large-10000.csv'));
    const check = checkProgramFile(file, EMPTY_PROGRAM, { today: TODAY });
    // Far above what it takes (a fraction of a second), so that a busy machine does not fail it.
    expect(performance.now() - start).toBeLessThan(10_000);
    expect(check.faults).toEqual([]);
    expect(check.plan.created).toHaveLength(10_000);
    const text = writeProgramFile(file.rows, { formulaSafe: false });
    const again = readProgramFile(new TextEncoder().encode(text));
    expect(again.rows).toEqual(file.rows);
  });
});
