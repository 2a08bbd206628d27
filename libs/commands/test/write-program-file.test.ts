import { describe, expect, it } from '@jest/globals';
import {
  type FileRow,
  type ProgramRow,
  readProgramFile,
  writeProgramFile,
} from '@scutewright/commands';
import fc from 'fast-check';
import { anyProgram } from './any-program-row.js';

const encode = (text: string): Uint8Array => new TextEncoder().encode(text);
const withoutLine = ({ line: _line, ...row }: FileRow): ProgramRow => row;

function read(text: string, isGuarded = false): ProgramRow[] {
  const file = readProgramFile(encode(text), isGuarded ? { map: { isGuarded } } : {});
  expect(file.faults.list.filter((fault) => fault.code !== 'EMPTY_FILE')).toEqual([]);
  expect(file.guesses).toEqual([]);
  return file.rows.map(withoutLine);
}

const plainRow: ProgramRow = {
  code: 'A-1',
  name: null,
  species: null,
  sex: null,
  hatched: null,
  sires: [],
  dams: [],
  clutch: null,
  traits: null,
  absent: [],
  genotype: [],
  pen: null,
  sclMm: null,
  massG: null,
  notes: null,
};

describe('writeProgramFile', () => {
  it('gives back every program, byte for byte, formulas guarded or not', () => {
    fc.assert(
      fc.property(anyProgram, fc.boolean(), (rows, formulaSafe) => {
        const text = writeProgramFile(rows, { formulaSafe });
        const back = read(text, formulaSafe);
        expect(back).toEqual(rows);
        expect(writeProgramFile(back, { formulaSafe })).toBe(text);
      }),
      { numRuns: 1_500 },
    );
  });

  it('writes an animal of which only the code is known, and one with everything', () => {
    const full: ProgramRow = {
      ...plainRow,
      code: 'A-2',
      name: 'Big "B", the second',
      sires: [
        { code: 'A-1', probability: 0.75 },
        { code: 'A-3', probability: null },
      ],
      traits: [],
      genotype: [{ locus: 'pl', alleles: ['N', 'p'] }],
      massG: 1234.5,
    };
    expect(writeProgramFile([plainRow, full], { formulaSafe: false })).toBe(
      'code,name,species,sex,hatched,sire,dam,clutch,traits,genotype,pen,scl_mm,mass_g,notes\n' +
        'A-1,,,,,,,,,,,,,\n' +
        'A-2,"Big ""B"", the second",,,,A-1:0.75|A-3,,,none,pl=N/p,,,1234.5,\n',
    );
  });

  it('guards text that a spreadsheet could run, only when asked', () => {
    // OWASP, 'CSV Injection': cells that begin with = + - @ are run as formulas.
    for (const notes of ['=1+1', '+1', '-1', '@SUM(A1)', "'=1"]) {
      const row = { ...plainRow, notes };
      expect(writeProgramFile([row], { formulaSafe: false })).toContain(`,${notes}\n`);
      expect(writeProgramFile([row], { formulaSafe: true })).toContain(`,'${notes}\n`);
    }
  });

  it('says when a file looks guarded and the map does not', () => {
    const text = writeProgramFile([{ ...plainRow, notes: '=1+1' }], { formulaSafe: true });
    const file = readProgramFile(encode(text));
    expect(file.guardedCells).toBe(1);
    expect(file.rows[0].notes).toBe("'=1+1");
  });
});
