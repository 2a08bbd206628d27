import type { VariablesOf } from '../../lib/graphql.js';
import type { RecordEntries } from '../../lib/record-entries.js';

/** One entry as it is sent. */
export type EntryInput = VariablesOf<typeof RecordEntries>['input']['entries'][number];
/** The kinds of entry the service takes. */
export type EntryKind = Exclude<keyof EntryInput, 'id' | 'on' | 'note' | 'version'>;

/** How a field of an entry is asked for. */
export type FieldShape =
  | 'animal'
  | 'animals'
  | 'lot'
  | 'lots'
  | 'clutch'
  | 'clutches'
  | 'pen'
  | 'gene'
  | 'traits'
  | 'trait-counts'
  | 'count'
  | 'number'
  | 'line'
  | 'lines'
  | 'codes'
  | 'date'
  | 'tick'
  | 'choice';

export interface EntryField {
  /** Where in the entry of its kind it stands, such as `split.count`. */
  readonly name: string;
  readonly label: string;
  readonly shape: FieldShape;
  readonly hint?: string;
  readonly isNeeded?: boolean;
  /** What leaving it empty means, where that is not 'not known'. */
  readonly none?: string;
  readonly options?: readonly { readonly value: string; readonly words: string }[];
  /** Under 'More'. */
  readonly isMore?: boolean;
  /** Shown only once the server asked for it: a fault stood at one of these fields. */
  readonly afterFaultAt?: readonly string[];
}

export interface NextAct {
  readonly words: string;
  readonly form: string;
  /** Which fields it takes along from this entry. */
  readonly keep: readonly string[];
}

/** One small form: a kind of entry, or one of several things that a kind can say. */
export interface EntryForm {
  readonly id: string;
  readonly kind: EntryKind;
  readonly title: string;
  readonly about: string;
  /** Of the day; absent where the fields say themselves when. */
  readonly day?: { readonly label: string; readonly isNeeded: boolean };
  readonly fields: readonly EntryField[];
  /** What the form says by itself. */
  readonly fixed?: Readonly<Record<string, unknown>>;
  readonly next?: readonly NextAct[];
  readonly caution?: { readonly lead: string; readonly text: string; readonly source: string };
}
