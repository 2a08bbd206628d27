import { dayText } from '@scutewright/basics';
import { askDefinitions, type ImportQuestion } from './ask-definitions.js';
import { checkClutches } from './check-clutches.js';
import { checkCycles } from './check-cycles.js';
import { checkGenotypes, foundLoci } from './check-genotypes.js';
import { checkAges, checkLinks, checkSexes, type Headings } from './check-links.js';
import { clutchParents, rowsByClutch } from './clutch-parents.js';
import { type FileFault, FileFaults } from './file-fault.js';
import type { KnownProgram } from './known-program.js';
import { type ImportPlan, planImport } from './plan-import.js';
import type { Field, FileRow } from './program-row.js';
import type { ProgramFile } from './read-program-file.js';
import { wouldBe } from './would-be.js';

export interface CheckOptions {
  /** Whole days since 1970-01-01 (UTC): a later hatch date is a fault. */
  readonly today: number;
}

/** What an import would do, and all that stands in its way. */
export interface ProgramFileCheck {
  /** Those of the reading too, by line and then by column; at most `MOST_LISTED` of a code. */
  readonly faults: readonly FileFault[];
  /** All faults by code, also those not listed. */
  readonly counts: ReadonlyMap<string, number>;
  /** True as long as a fatal fault stands: then nothing may be written. */
  readonly isBlocked: boolean;
  readonly plan: ImportPlan;
  /** What must be answered before writing; with the answers put into `known` they are not asked again. */
  readonly questions: readonly ImportQuestion[];
}

/**
 * Compares a file with itself and with what the program holds: the dry run of an import. Reports one fault per
 * cell, the first in this order: unreadable, duplicate code, own or unknown parent, loop of ancestors, wrong sex,
 * parent not older, clutch mates with different parents. Rows with a faulty cell are still planned, without that
 * cell. Never throws. Cost: linear in rows and known animals, beside the nearest codes (see `CodeFinder`).
 */
export function checkProgramFile(
  file: ProgramFile,
  known: KnownProgram,
  options: CheckOptions,
): ProgramFileCheck {
  const faults = new FileFaults(file.faults);
  const { rows } = file;
  const headings = headingsOf(file);
  const first = checkCodes(rows, headings.code, faults);
  checkFuture(rows, headings.hatched, options.today, faults);
  const found = foundLoci(rows, known.loci);
  const loci = new Map(known.loci.map((locus) => [locus.id, locus]));
  for (const [id, { locus }] of found) loci.set(id, locus);
  checkGenotypes(rows, loci, headings, faults);
  const clutches = rowsByClutch(rows);
  const agreed = (side: 'sire' | 'dam') =>
    clutchParents(
      clutches,
      side,
      known,
      first,
      (row) => !faults.isFaulty(row.line, headings[side]),
    );
  // The parents of a clutch are settled twice: once to lay the file over the program, and again without the
  // cells that the checks in between have found wrong, so that sound mates are not blamed for them.
  const animals = wouldBe(rows, known, { sire: agreed('sire'), dam: agreed('dam') });
  checkLinks(rows, animals, headings, faults);
  checkCycles(animals, headings, faults);
  checkSexes(animals, headings, faults);
  checkAges(animals, headings, faults);
  for (const side of ['sire', 'dam'] as const) {
    checkClutches(clutches, side, agreed(side), headings, faults);
  }
  const questions = askDefinitions(rows, known, found, faults);
  return {
    faults: faults.list.toSorted((a, b) => a.line - b.line || compare(a.column, b.column)),
    counts: faults.counts,
    isBlocked: faults.hasFatal,
    plan: planImport(rows, new Map(known.animals.map((animal) => [animal.code, animal]))),
    questions,
  };
}

/** Adds a fault for every further row of a code; answers the first row of each. */
function checkCodes(
  rows: readonly FileRow[],
  column: string,
  faults: FileFaults,
): ReadonlyMap<string, FileRow> {
  const first = new Map<string, FileRow>();
  for (const row of rows) {
    const earlier = first.get(row.code);
    if (!earlier) {
      first.set(row.code, row);
      continue;
    }
    const sexes =
      earlier.sex && row.sex && earlier.sex !== row.sex ? ', once male and once female' : '';
    faults.add({
      code: 'DUPLICATE_CODE',
      isFatal: true,
      line: row.line,
      column,
      value: row.code,
      message: `'${row.code}' stands on line ${earlier.line} already${sexes}.`,
      remedy: 'One row per animal: give it another code or remove one of the two.',
    });
  }
  return first;
}

function checkFuture(
  rows: readonly FileRow[],
  column: string,
  today: number,
  faults: FileFaults,
): void {
  for (const { line, code, hatched } of rows) {
    if (!hatched || hatched.earliest <= today) continue;
    faults.add({
      code: 'FUTURE_DATE',
      isFatal: true,
      line,
      column,
      value: hatched.text,
      message: `'${code}' would hatch after today, ${dayText(today)}.`,
      remedy: 'Correct the date.',
    });
  }
}

/** The file's own names of its columns, so that people find the place. */
function headingsOf(file: ProgramFile): Headings {
  if (file.map.format === 'SIX_COLUMNS') {
    const shared = { clutch: 'clutch', traits: 'phenotype', genotype: 'genotype' };
    return { code: 'id', sex: 'sex', hatched: 'hatched', sire: 'father', dam: 'mother', ...shared };
  }
  const of = (field: Field): string =>
    file.map.columns.find((column) => column.field === field)?.heading || field;
  return {
    code: of('code'),
    sex: of('sex'),
    hatched: of('hatched'),
    sire: of('sire'),
    dam: of('dam'),
    clutch: of('clutch'),
    traits: of('traits'),
    genotype: of('genotype'),
  };
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
