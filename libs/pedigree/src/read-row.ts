import { type Fault, type PartialDate, parsePartialDate } from '@scutewright/basics';
import type { PedigreeRow, PossibleClutch } from './build-pedigree.js';
import { FEMALE, MALE } from './pedigree.js';

/** How far above 1 the probabilities of candidates may sum: what rounding leaves. */
const SUM_SLACK = 1e-9;

export interface ParentEntry {
  readonly id: string;
  readonly probability: number;
}

/** A row with its fields read; what could not be read is a fault and counts as absent. */
export interface ReadRow {
  readonly id: string;
  readonly sire: readonly ParentEntry[];
  readonly dam: readonly ParentEntry[];
  readonly sex: number;
  readonly hatched: PartialDate | null;
  readonly clutch: string | null;
  /** Empty for an animal of a known clutch, or of parents nobody recorded. */
  readonly possible: readonly PossibleClutch[];
}

export function readRow(row: PedigreeRow, position: number, faults: Fault[]): ReadRow {
  const id = typeof row.id === 'string' ? row.id : '';
  const report = (code: string, message: string, remedy: string): void => {
    faults.push({ code, message, remedy, ids: id ? [id] : [] });
  };
  if (!id) {
    report('BAD_FIELD', `Row ${position} has no id.`, 'Give every animal an id (a text).');
  }
  const sexes: Readonly<Record<string, number>> = { m: MALE, f: FEMALE, '': 0 };
  const sex = Object.hasOwn(sexes, row.sex ?? '') ? sexes[row.sex ?? ''] : undefined;
  if (sex === undefined) {
    report('BAD_FIELD', `'${id}' has the sex '${row.sex}'.`, "Write 'm', 'f' or leave it empty.");
  }
  const hatched = row.hatched ? parsePartialDate(String(row.hatched)) : null;
  if (row.hatched && !hatched) {
    report(
      'BAD_FIELD',
      `'${id}' has the hatching date '${row.hatched}'.`,
      'Write it as 2011, 2011-06 or 2011-06-03.',
    );
  }
  return {
    id,
    sire: readParent(row.sire, `the sire of '${id}'`, report),
    dam: readParent(row.dam, `the dam of '${id}'`, report),
    sex: sex ?? 0,
    hatched,
    clutch: row.clutch || null,
    possible: readPossible(row, report),
  };
}

function readPossible(
  row: PedigreeRow,
  report: (code: string, message: string, remedy: string) => void,
): readonly PossibleClutch[] {
  const list = row.possibleClutches ?? [];
  if (list.length === 0) return list;
  const what = `the clutch of '${row.id}'`;
  if (row.sire || row.dam || row.clutch) {
    const remedy = 'Name the parents with each possible clutch, or give one clutch.';
    report('BAD_FIELD', `'${row.id}' has parents or a clutch beside its possible ones.`, remedy);
    return [];
  }
  const entries = list.map(({ clutch, probability }, k) => ({
    id: clutch ?? `number ${k + 1}`,
    probability,
  }));
  const wrong = wrongProbabilities(entries, what);
  if (wrong) {
    report('BAD_PROBABILITY', wrong, PROBABILITY_REMEDY);
    return [];
  }
  const scale = Math.max(
    1,
    entries.reduce((total, { probability }) => total + probability, 0),
  );
  return list
    .filter((each) => each.probability > 0)
    .map((each) => ({ ...each, probability: each.probability / scale }));
}

/** The egg that `row` was if it is of this clutch, as a row. */
export function eggRow(row: PedigreeRow, { clutch, sire, dam }: PossibleClutch): PedigreeRow {
  const id = `${row.id} (if of ${clutch ? `clutch ${clutch}` : 'these parents'})`;
  return { id, sire, dam, clutch, sex: row.sex, hatched: row.hatched };
}

/** Candidates with a probability over 0, sum at most 1; a plain id is certain. */
function readParent(
  value: PedigreeRow['sire'],
  what: string,
  report: (code: string, message: string, remedy: string) => void,
): readonly ParentEntry[] {
  if (value === undefined || value === null || value === '') return [];
  if (typeof value === 'string') return [{ id: value, probability: 1 }];
  if (!Array.isArray(value) || value.some((each) => typeof each?.id !== 'string' || !each.id)) {
    report('BAD_FIELD', `${capital(what)} cannot be read.`, 'Write an id or a list of candidates.');
    return [];
  }
  const wrong = wrongProbabilities(value, what);
  if (wrong) {
    report('BAD_PROBABILITY', wrong, PROBABILITY_REMEDY);
    return [];
  }
  const sum = value.reduce((total, { probability }) => total + probability, 0);
  const scale = sum > 1 ? 1 / sum : 1;
  return value
    .filter((each) => each.probability > 0)
    .map(({ id, probability }) => ({ id, probability: probability * scale }));
}

export const PROBABILITY_REMEDY =
  'Give each candidate once, with a probability from 0 to 1; together at most 1.';

/** What is wrong with the probabilities of candidates for `what`; null when nothing is. */
export function wrongProbabilities(list: readonly ParentEntry[], what: string): string | null {
  let sum = 0;
  for (const { id, probability } of list) {
    if (!(probability >= 0 && probability <= 1 + SUM_SLACK)) {
      return `Candidate '${id}' for ${what} has the probability ${probability}.`;
    }
    sum += probability;
  }
  if (new Set(list.map((each) => each.id)).size < list.length) {
    return `A candidate for ${what} is named twice.`;
  }
  return sum > 1 + SUM_SLACK ? `The probabilities for ${what} sum to ${sum}.` : null;
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
