import { readFileSync } from 'node:fs';
import { describe, expect, it } from '@jest/globals';
import { parsePartialDate } from '@scutewright/basics';
import {
  checkProgramFile,
  EMPTY_PROGRAM,
  type FileRow,
  readProgramFile,
  writeProgramFile,
} from '@scutewright/commands';
import { type LocusInput, type RuleInput, readLoci, readTraits } from '@scutewright/genetics';

const seed = new URL('../../../seed/', import.meta.url);
const text = readFileSync(new URL('saltmarsh-group.csv', seed), 'utf8');
const definitions = JSON.parse(readFileSync(new URL('definitions.json', seed), 'utf8')) as {
  notice: string;
  program: { species: string };
  loci: LocusInput[];
  traits: { name: string; when: RuleInput }[];
  pens: { name: string; areaM2: number }[];
};
const file = readProgramFile(new TextEncoder().encode(text));
const { rows } = file;
const byCode = new Map(rows.map((row) => [row.code, row]));
const shows = (row: FileRow, trait: string): boolean => row.traits?.includes(trait) ?? false;

describe('the invented demo', () => {
  it('is read without fault, guess or question once its definitions are known', () => {
    const known = {
      ...EMPTY_PROGRAM,
      traits: definitions.traits.map((trait) => trait.name),
      loci: definitions.loci,
      pens: definitions.pens.map((pen) => pen.name),
      species: [definitions.program.species],
    };
    const today = parsePartialDate('2026-01-01')!.earliest;
    const check = checkProgramFile(file, known, { today });
    expect(check.faults).toEqual([]);
    expect(file.guesses).toEqual([]);
    expect(check.questions).toEqual([]);
    expect(check.plan.created).toHaveLength(rows.length);
  });

  it('is what its generator makes, and what an export would write', async () => {
    const { makeDemo } = (await import(new URL('make-demo.mjs', seed).href)) as {
      makeDemo: () => string;
    };
    expect(makeDemo()).toBe(text);
    expect(writeProgramFile(rows, { formulaSafe: false })).toBe(text);
  });

  it('has definitions that hold together and say that they are invented', () => {
    const loci = readLoci(definitions.loci);
    const traits = definitions.traits.map(({ name, when }) => ({ id: name, when }));
    expect(readTraits(traits, loci).size).toBe(5);
    expect(definitions.notice).toContain('Invented');
    expect(definitions.pens.every((pen) => pen.areaM2 > 0)).toBe(true);
  });

  it('has what a demo must show', () => {
    expect(rows.length).toBeGreaterThanOrEqual(120);
    expect(rows.length).toBeLessThanOrEqual(200);
    const years = rows.flatMap((row) => (row.clutch && row.hatched ? [row.hatched.earliest] : []));
    expect(Math.max(...years) - Math.min(...years)).toBeGreaterThan(365 * 38);
    const clutches = (test: (row: FileRow) => boolean): number =>
      new Set(rows.filter(test).map((row) => row.clutch)).size;
    expect(clutches((row) => row.sires.length > 1)).toBeGreaterThan(20);
    expect(clutches((row) => row.notes?.includes('stored sperm') ?? false)).toBeGreaterThan(2);
    expect(rows.filter((row) => row.genotype.length > 0)).toHaveLength(1);
    for (const trait of definitions.traits) {
      expect(rows.some((row) => shows(row, trait.name))).toBe(true);
    }
    const plainOfTwoPales = rows.filter(
      ({ sires, dams, traits }) =>
        traits?.length === 0 &&
        sires.length === 1 &&
        shows(byCode.get(sires[0].code)!, 'brine') &&
        shows(byCode.get(dams[0].code)!, 'chalk'),
    );
    expect(plainOfTwoPales.length).toBeGreaterThan(1);
    const malesTogether = rows.filter((row) => row.pen === 'Reed yard' && row.sex === 'm');
    expect(malesTogether.length).toBeGreaterThan(2);
  });

  it('breaks no law of inheritance at a dominant trait: who shows sedge has a parent that does', () => {
    const hasCopy = (row: FileRow): boolean => shows(row, 'sedge') || shows(row, 'double sedge');
    const hatchedHere = rows.filter((row) => hasCopy(row) && row.dams.length > 0);
    expect(hatchedHere.length).toBeGreaterThan(15);
    for (const row of hatchedHere) {
      const dam = byCode.get(row.dams[0].code)!;
      const sires = row.sires.map((sire) => byCode.get(sire.code)!);
      const isPossible = shows(row, 'double sedge')
        ? hasCopy(dam) && sires.some(hasCopy)
        : hasCopy(dam) || sires.some(hasCopy);
      expect([row.code, isPossible]).toEqual([row.code, true]);
    }
  });
});
