import { candidatesOf, unrecordedShare } from './findings.js';
import type { ClutchColumns } from './snapshot.js';
import {
  type CandidateColumns,
  type ColourCheck,
  NO_DAY,
  NONE,
  type Snapshot,
  sharedFloat64,
  sharedInt32,
} from './snapshot.js';

/** A change to the records, by positions. */
export type Supposed =
  | { readonly kind: 'FATHER'; readonly animal: number; readonly father: number | null }
  | { readonly kind: 'OTHER_FATHER'; readonly animal: number }
  | { readonly kind: 'NOT_OF_CLUTCH'; readonly animal: number }
  | { readonly kind: 'STRIKE_RECORD'; readonly record: RecordRef };

/** A record, or what a colour check says of one trait. */
export interface RecordRef {
  readonly id: string;
  /** Position of the trait; null for a record that says one thing. */
  readonly trait: number | null;
}

/** What the fathers named keep when room is made for another, where there is none yet. Chosen by us: no source. */
export const NAMED_FATHERS_KEEP = 0.9;
/**
 * Clutches with several sires: 20 % of 15 clutches of Testudo graeca, which its authors call an underestimate
 * (Roques, Diaz-Paniagua & Andreu 2004, Can. J. Zool. 82:153-159).
 */
export const SEVERAL_SIRES_RATE = 0.2;

/** The records as they would be. Nothing is written; the given snapshot stays as it is. Cost: copies what changes. */
export function supposedSnapshot(snapshot: Snapshot, supposed: Supposed): Snapshot {
  const supposition = JSON.stringify(supposed);
  if (supposed.kind === 'STRIKE_RECORD') {
    return { ...struck(snapshot, supposed.record), supposition };
  }
  const { animal } = supposed;
  const clutch = snapshot.animals.clutch[animal];
  if (supposed.kind === 'NOT_OF_CLUTCH') {
    return { ...withClutchOf(snapshot, animal, NONE), supposition };
  }
  if (supposed.kind === 'FATHER') {
    const { father } = supposed;
    const [own, at] = ownClutch(snapshot, animal);
    const sires = father === null ? [] : [{ position: father, probability: 1 }];
    return { ...own, sires: withCandidates(own.sires, at, sires), supposition };
  }
  const named = candidatesAt(snapshot.sires, clutch);
  const keep = unrecordedShare(named) > 0 ? 1 : NAMED_FATHERS_KEEP;
  const sires = named.map(({ position, probability }) => ({
    position,
    probability: probability * keep,
  }));
  const mates = snapshot.animals.clutch.filter((each) => each === clutch).length;
  const severally =
    mates > 1 && snapshot.clutches.paternities[clutch] === 'ONE_SIRE'
      ? withPaternity(snapshot.clutches, clutch)
      : snapshot.clutches;
  return {
    ...snapshot,
    clutches: severally,
    sires: withCandidates(snapshot.sires, clutch, sires),
    supposition,
  };
}

/** A colour check without what was misread in it: a trait less, or null where nothing is left. */
export function withoutMisread<Check extends Pick<ColourCheck, 'seen' | 'absent'>>(
  check: Check,
  trait: number | null,
): Check | null {
  if (trait === null) return null;
  const left = (list: readonly number[]) => list.filter((each) => each !== trait);
  const [seen, absent] = [left(check.seen), left(check.absent)];
  return seen.length + absent.length > 0 ? { ...check, seen, absent } : null;
}

function struck(snapshot: Snapshot, { id, trait }: RecordRef): Snapshot {
  return {
    ...snapshot,
    declarations: snapshot.declarations.filter((entry) => entry.id !== id),
    colourChecks: snapshot.colourChecks.flatMap((check) => {
      if (check.id !== id) return [check];
      return withoutMisread(check, trait) ?? [];
    }),
  };
}

/** A young whose clutch mates may have other sires stands in a clutch of its own; else it is its clutch that changes. */
function ownClutch(snapshot: Snapshot, animal: number): [Snapshot, number] {
  const clutch = snapshot.animals.clutch[animal];
  if (clutch !== NONE && snapshot.clutches.paternities[clutch] === 'ONE_SIRE') {
    return [snapshot, clutch];
  }
  const { clutches } = snapshot;
  const added = withOneMoreClutch(clutches, clutch);
  const at = clutches.count;
  const dams = candidatesOf(snapshot, snapshot.dams, animal);
  const moved = withClutchOf({ ...snapshot, clutches: added }, animal, at);
  return [
    {
      ...moved,
      sires: withOneMore(snapshot.sires),
      dams: withCandidates(withOneMore(snapshot.dams), at, dams),
    },
    at,
  ];
}

/** One clutch more, laid as `like` was (NONE: nothing known), whose young have one sire. */
function withOneMoreClutch(clutches: ClutchColumns, like: number): ClutchColumns {
  const longer = Object.entries(clutches).map(([name, column]) => {
    if (column instanceof Float64Array) return [name, sharedFloat64([...column, Number.NaN])];
    if (column instanceof Int32Array)
      return [name, sharedInt32([...column, column[like] ?? NO_DAY])];
    return [name, typeof column === 'number' ? column + 1 : [...column, column[like] ?? null]];
  });
  const { codes, paternities, ...rest } = Object.fromEntries(longer);
  return {
    ...rest,
    codes: codes.with(-1, null),
    paternities: paternities.with(-1, 'ONE_SIRE'),
  } as ClutchColumns;
}

function withClutchOf(snapshot: Snapshot, animal: number, clutch: number): Snapshot {
  const column = sharedInt32(snapshot.animals.clutch);
  column[animal] = clutch;
  return { ...snapshot, animals: { ...snapshot.animals, clutch: column } };
}

function withPaternity(clutches: ClutchColumns, clutch: number): ClutchColumns {
  const rates = sharedFloat64(clutches.rates);
  rates[clutch] = SEVERAL_SIRES_RATE;
  return { ...clutches, rates, paternities: clutches.paternities.with(clutch, 'MIXED') };
}

interface Weighed {
  readonly position: number;
  readonly probability: number;
}

function candidatesAt(columns: CandidateColumns, clutch: number): Weighed[] {
  const list: Weighed[] = [];
  for (let i = columns.from[clutch]; i < columns.from[clutch + 1]; i++) {
    list.push({ position: columns.animal[i], probability: columns.probability[i] });
  }
  return list;
}

/** The columns with other candidates of one clutch. */
function withCandidates(
  columns: CandidateColumns,
  clutch: number,
  list: readonly Weighed[],
): CandidateColumns {
  const [start, end] = [columns.from[clutch], columns.from[clutch + 1]];
  const grown = list.length - (end - start);
  const put = <Value>(old: ArrayLike<Value>, own: readonly Value[]): Value[] => [
    ...Array.from(old).slice(0, start),
    ...own,
    ...Array.from(old).slice(end),
  ];
  return {
    from: sharedInt32(columns.from.map((at, c) => (c > clutch ? at + grown : at))),
    animal: sharedInt32(
      put(
        columns.animal,
        list.map(({ position }) => position),
      ),
    ),
    probability: sharedFloat64(
      put(
        columns.probability,
        list.map(({ probability }) => probability),
      ),
    ),
    basis: put(
      columns.basis,
      list.map(() => 'ASSUMED'),
    ),
  };
}

/** Room for one more clutch, without candidates. */
function withOneMore(columns: CandidateColumns): CandidateColumns {
  return { ...columns, from: sharedInt32([...columns.from, columns.from.at(-1) ?? 0]) };
}
