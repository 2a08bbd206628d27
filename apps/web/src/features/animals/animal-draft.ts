import { parsePartialDate } from '@scutewright/basics';
import type { FormFault } from '../../components/error-summary.js';
import type { Sex } from '../../components/sex-shape.js';
import { EMPTY_DATE, type TypedDate, typedDateText } from '../../lib/typed-date.js';
import { type ParentRow, parentShares } from './parent-shares.js';

export type Origin = 'HATCHED_HERE' | 'ACQUIRED' | 'ANCESTOR_ONLY';

/** What the form of an animal holds, as typed. */
export interface AnimalDraft {
  readonly code: string;
  readonly name: string;
  readonly species: string;
  readonly sex: Sex;
  readonly origin: Origin;
  readonly hatched: TypedDate;
  readonly mothers: readonly ParentRow[];
  readonly fathers: readonly ParentRow[];
  readonly notes: string;
}

export const EMPTY_ANIMAL: AnimalDraft = {
  code: '',
  name: '',
  species: '',
  sex: 'UNKNOWN',
  origin: 'HATCHED_HERE',
  hatched: EMPTY_DATE,
  mothers: [],
  fathers: [],
  notes: '',
};

/** Faults that need no server to see. */
export function draftFaults(draft: AnimalDraft): FormFault[] {
  const faults: FormFault[] = [];
  if (!draft.code.trim()) faults.push({ field: 'code', message: 'Give the animal a code.' });
  if (!draft.species.trim()) faults.push({ field: 'species', message: 'Write the species.' });
  const hatched = typedDateText(draft.hatched);
  if (hatched !== '' && !parsePartialDate(hatched)) {
    faults.push({
      field: 'hatched',
      message: draft.hatched.year.trim()
        ? 'There is no such day. Look at year, month and day again.'
        : 'Write the year too; month and day alone say too little.',
    });
  }
  for (const [field, rows] of [
    ['mothers', draft.mothers],
    ['fathers', draft.fathers],
  ] as const) {
    const { fault } = parentShares(rows);
    if (fault) {
      faults.push({
        field: fault.row === null ? `${field}-find` : `${field}-${fault.row}`,
        message: fault.message,
      });
    }
  }
  return faults;
}

/** Where in the form a place of the server's input stands: `input.sires.0.animalId`. */
export function fieldOfPlace(place: string): string | undefined {
  const [, name, row] = place.split('.');
  if (name === 'sires' || name === 'dams') {
    const field = name === 'sires' ? 'fathers' : 'mothers';
    return row === undefined ? `${field}-find` : `${field}-${row}`;
  }
  return ['code', 'name', 'species', 'hatched', 'notes'].find((field) => field === name);
}

/** The fields of the input as the draft has them. */
export function draftInput(draft: AnimalDraft) {
  const parents = (rows: readonly ParentRow[]) => {
    const { shares } = parentShares(rows);
    return rows.map(({ animalId }, row) => ({ animalId, probability: shares[row] }));
  };
  return {
    code: draft.code.trim(),
    name: draft.name.trim() || null,
    species: draft.species.trim(),
    sex: draft.sex,
    origin: draft.origin,
    hatched: typedDateText(draft.hatched) || null,
    dams: parents(draft.mothers),
    sires: parents(draft.fathers),
    notes: draft.notes.trim() || null,
  };
}

/**
 * Only what differs from `before`. Parents above all: their probabilities may be findings that
 * moved with evidence, and sending them back untouched would write them down as declared.
 */
export function changedInput(before: AnimalDraft, after: AnimalDraft) {
  const old = draftInput(before);
  const changed = Object.entries(draftInput(after)).filter(
    ([field, value]) => JSON.stringify(value) !== JSON.stringify(old[field as keyof typeof old]),
  );
  return Object.fromEntries(changed) as Partial<ReturnType<typeof draftInput>>;
}
