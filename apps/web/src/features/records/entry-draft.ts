import { parsePartialDate } from '@scutewright/basics';
import type { FormFault } from '../../components/error-summary.js';
import { EMPTY_DATE, type TypedDate, typedDate, typedDateText } from '../../lib/typed-date.js';
import { numberOf } from '../../lib/typed-number.js';
import type { EntryField, EntryForm, EntryInput } from './entry-form.js';

/** What a field holds as typed: a text, chosen codes, a tick, a date, counts by trait. */
export type DraftValue = string | readonly string[] | boolean | TypedDate | CountsByTrait;
export type CountsByTrait = { readonly [trait: string]: string };

export interface EntryDraft {
  readonly on: TypedDate;
  readonly note: string;
  /** By the name of the field. */
  readonly values: Readonly<Record<string, DraftValue>>;
}

/** Of the control in the page. */
export const controlId = (field: string) => `entry-${field.replace('.', '-')}`;

const LISTS: ReadonlySet<string> = new Set([
  'animal',
  'animals',
  'lots',
  'clutches',
  'traits',
  'codes',
]);

export function emptyValue({ shape }: EntryField): DraftValue {
  if (LISTS.has(shape)) return [];
  if (shape === 'tick') return false;
  if (shape === 'date') return EMPTY_DATE;
  return shape === 'trait-counts' ? {} : '';
}

/** The form as it opens: today, and what the address names. */
export function freshDraft(form: EntryForm, given: URLSearchParams, today: string): EntryDraft {
  const values = form.fields.map((field) => {
    const text = given.get(field.name);
    const empty = emptyValue(field);
    if (text === null) return [field.name, empty] as const;
    if (Array.isArray(empty)) return [field.name, text.split(',')] as const;
    if (field.shape === 'trait-counts') {
      const counts = text.split(',').map((each) => each.split(':') as [string, string]);
      return [field.name, Object.fromEntries(counts)] as const;
    }
    if (typeof empty === 'boolean') return [field.name, text === 'true'] as const;
    if (field.shape === 'date') return [field.name, typedDate(text)] as const;
    return [field.name, typeof empty === 'string' ? text : empty] as const;
  });
  const on = given.get('on') ?? (form.day?.isNeeded ? today : null);
  const note = given.get('note') ?? '';
  return { on: typedDate(on), note, values: Object.fromEntries(values) };
}

/** Faults that need no server to see. */
export function entryFaults(form: EntryForm, draft: EntryDraft): FormFault[] {
  const faults: FormFault[] = [];
  const fault = (field: string, message: string) =>
    faults.push({ field: controlId(field), message });
  for (const field of form.fields) {
    const value = draft.values[field.name] ?? emptyValue(field);
    if (field.isNeeded && isEmpty(value)) fault(field.name, `${field.label}: write it down.`);
    if (field.shape === 'count' && !isEmpty(value) && !/^\d+$/.test(String(value).trim())) {
      fault(field.name, `${field.label}: write a whole number.`);
    }
    if (field.shape === 'number' && !isEmpty(value) && numberOf(String(value)) === null) {
      fault(field.name, `${field.label}: write a number, such as 31.5.`);
    }
    if (field.shape === 'trait-counts') {
      const wrong = Object.values(value as CountsByTrait).some(
        (count) => !/^\s*\d*\s*$/.test(count),
      );
      if (wrong) fault(field.name, `${field.label}: write whole numbers.`);
    }
    if (field.shape === 'date') dateFault(field.name, value as TypedDate);
  }
  if (form.day) {
    if (form.day.isNeeded && isEmpty(draft.on)) fault('on', `${form.day.label}: the year will do.`);
    dateFault('on', draft.on);
  }
  return faults;

  function dateFault(field: string, date: TypedDate): void {
    const text = typedDateText(date);
    if (text !== '' && !parsePartialDate(text)) {
      fault(
        field,
        date.year.trim()
          ? 'There is no such day. Look at year, month and day again.'
          : 'Write the year too; month and day alone say too little.',
      );
    }
  }
}

/** The entry that the draft says; the id comes with the sending. */
export function entryInput(form: EntryForm, draft: EntryDraft): Omit<EntryInput, 'id'> {
  const said: Record<string, unknown> = { ...form.fixed };
  for (const field of form.fields) {
    const value = sentValue(field, draft.values[field.name] ?? emptyValue(field));
    if (value !== undefined) put(said, field.name.split('.'), value);
  }
  return {
    on: typedDateText(draft.on) || null,
    note: draft.note.trim() || null,
    [form.kind]: said,
  };
}

/** Which field of the form a place of the service means: `measured.massG`, `input.entries.0.measured.massG`. */
export function fieldOfPlace(form: EntryForm, place: string): string | undefined {
  const path = place.replace(/^input\.entries\.\d+\./, '');
  if (path === 'on' || path === `${form.kind}.on`) return 'on';
  const name = path.replace(`${form.kind}.`, '');
  return form.fields
    .map((field) => field.name)
    .filter((field) => name === field || name.startsWith(`${field}.`))
    .toSorted((a, b) => b.length - a.length)[0];
}

function sentValue(field: EntryField, value: DraftValue): unknown {
  if (field.shape === 'trait-counts') {
    const counts = Object.entries(value as CountsByTrait).flatMap(([trait, count]) =>
      Number(count) > 0 ? [{ trait, count: Number(count) }] : [],
    );
    return counts.length > 0 ? counts : undefined;
  }
  // An empty list of traits says something: somebody looked and saw none.
  if (isEmpty(value) && field.shape !== 'traits') return undefined;
  if (field.shape === 'date') return typedDateText(value as TypedDate);
  if (field.shape === 'count') return Number(value);
  if (field.shape === 'number') return numberOf(String(value)) ?? undefined;
  if (field.shape === 'animal') return (value as readonly string[])[0];
  if (field.name === 'dams' || field.shape === 'clutches') {
    return (value as readonly string[]).map((ref) => ({ ref }));
  }
  return typeof value === 'string' ? value.trim() : value;
}

function isEmpty(value: DraftValue): boolean {
  if (typeof value === 'string') return value.trim() === '';
  if (typeof value === 'boolean') return !value;
  if (Array.isArray(value)) return value.length === 0;
  return 'year' in value
    ? typedDateText(value as TypedDate) === ''
    : Object.keys(value).length === 0;
}

/** Sets `split.count` or `pens.0` in what is sent. */
function put(into: Record<string, unknown>, [name = '', ...rest]: string[], value: unknown): void {
  if (rest.length === 0) into[name] = value;
  else if (/^\d+$/.test(rest[0] ?? '')) {
    const list = (into[name] as unknown[] | undefined) ?? [];
    list[Number(rest[0])] = value;
    into[name] = list;
  } else {
    const part = (into[name] as Record<string, unknown> | undefined) ?? {};
    put(part, rest, value);
    into[name] = part;
  }
}
