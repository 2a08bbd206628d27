import { dayText, parsePartialDate } from '@scutewright/basics';
import {
  DEFAULT_FATHER_RULE,
  type FathersInput,
  type PossibleFather,
  type PossibleFathers,
} from '@scutewright/housing';
import { firstDayChanged } from './changed-days.js';
import {
  candidatesOfClutch,
  maturityDays,
  type ParentCandidate,
  sexOf,
  storageYears,
} from './findings.js';
import {
  type CandidateColumns,
  NO_DAY,
  type Snapshot,
  sharedFloat64,
  sharedInt32,
} from './snapshot.js';

/** A snapshot as it was read, and with its parents. */
export interface ReadSnapshot {
  readonly read: Snapshot;
  readonly snapshot: Snapshot;
}

/**
 * The snapshot with the parents that its records add up to. A clutch with a laying date, possible mothers and no father
 * written down gets its possible fathers from who was where (`find`: libs/housing `possibleFathers`). Who is known to be of
 * the other sex drops out of what was written down, and the rest is weighed anew: the 'male' that laid is nobody's father.
 * A clutch keeps the fathers it had in the snapshot `before` where nothing that they follow from differs.
 */
export async function withParents(
  snapshot: Snapshot,
  find: (input: FathersInput) => Promise<PossibleFathers[]>,
  before?: ReadSnapshot,
): Promise<Snapshot> {
  if (before && haveSameParents(before.read, snapshot)) {
    const { sires, dams, season } = before.snapshot;
    const { derivedFathers } = season;
    return { ...snapshot, sires, dams, season: { ...snapshot.season, derivedFathers } };
  }
  const { clutches } = snapshot;
  const dams = withoutWrongSex(snapshot, snapshot.dams, 'MALE');
  const written = withoutWrongSex(snapshot, snapshot.sires, 'FEMALE');
  const open = Array.from({ length: clutches.count }, (_, c) => c).filter(
    (c) =>
      clutches.laid[c] !== null &&
      snapshot.sires.from[c] === snapshot.sires.from[c + 1] &&
      dams[c].length > 0,
  );
  if (
    open.length === 0 &&
    written.every((row, c) => row.length === candidatesOfClutch(snapshot.sires, c).length)
  ) {
    return snapshot;
  }
  const kept = before ? fathersKept(before, snapshot, open, dams) : null;
  const asked = open.filter((c) => !kept?.has(c));
  const found = asked.length > 0 ? await find(fathersInput(snapshot, asked, dams)) : [];
  const anew = new Map(found.map((each) => [Number(each.clutch), each]));
  const derived = new Map(open.map((c) => [c, (kept?.get(c) ?? anew.get(c))!]));
  const sires = written.map((row, c) => derived.get(c)?.fathers.map(asCandidate) ?? row);
  return {
    ...snapshot,
    sires: columnsOf(sires),
    dams: columnsOf(dams),
    season: { ...snapshot.season, derivedFathers: derived },
  };
}

function asCandidate({ id, probability }: PossibleFather): ParentCandidate {
  return { position: Number(id), probability, basis: 'HOUSED_TOGETHER' };
}

/** Whether the same is written of all clutches and animals, and nothing that fathers follow from differs before the last laying. */
function haveSameParents(before: Snapshot, now: Snapshot): boolean {
  const areRecordsSame = (['animals', 'clutches', 'sires', 'dams', 'sexRecords'] as const).every(
    (part) => before[part] === now[part],
  );
  if (!areRecordsSame) return false;
  const since = firstDayChanged(before, now);
  return now.clutches.laidLatest.every((laid) => laid < since);
}

/** Fathers of the snapshot before that still hold, by clutch position: of clutches as they were, laid before anything differs. */
function fathersKept(
  { read, snapshot: before }: ReadSnapshot,
  now: Snapshot,
  open: readonly number[],
  dams: readonly ParentCandidate[][],
): Map<number, PossibleFathers> {
  const since = firstDayChanged(read, now);
  const clutchBefore = new Map(before.clutches.ids.map((id, c) => [id, c]));
  const areInPlace = before.animals.positionById === now.animals.positionById;
  const placed = ({ fathers, unrecorded }: PossibleFathers, c: number): PossibleFathers => ({
    clutch: String(c),
    fathers: areInPlace
      ? fathers
      : fathers.map((father) => {
          const id = before.animals.ids[Number(father.id)];
          return { ...father, id: String(now.animals.positionById.get(id)) };
        }),
    unrecorded,
  });
  const kept = new Map<number, PossibleFathers>();
  for (const c of open) {
    const then = clutchBefore.get(now.clutches.ids[c]) ?? -1;
    const fathers = before.season.derivedFathers.get(then);
    const holds =
      fathers &&
      now.clutches.laidLatest[c] < since &&
      before.clutches.laid[then] === now.clutches.laid[c] &&
      areSame(candidatesOfClutch(before.dams, then), before, dams[c], now);
    if (holds) kept.set(c, placed(fathers, c));
  }
  return kept;
}

function areSame(
  were: readonly ParentCandidate[],
  before: Snapshot,
  are: readonly ParentCandidate[],
  now: Snapshot,
): boolean {
  return (
    were.length === are.length &&
    were.every(
      ({ position, probability }, i) =>
        before.animals.ids[position] === now.animals.ids[are[i].position] &&
        probability === are[i].probability,
    )
  );
}

function fathersInput(
  snapshot: Snapshot,
  asked: readonly number[],
  dams: readonly ParentCandidate[][],
): FathersInput {
  const { clutches, season } = snapshot;
  const { settings } = season;
  const years = (c: number) =>
    dams[c]
      .map(({ position }) => storageYears(snapshot, position))
      .reduce((a, b) => Math.max(a, b));
  const first = asked.map((c) => clutches.laidEarliest[c] - 366 * (years(c) + 1));
  const start = first.reduce((a, b) => Math.min(a, b));
  const end = asked.map((c) => clutches.laidLatest[c]).reduce((a, b) => Math.max(a, b));
  // Outside these days nothing is looked at.
  const stays = snapshot.stays.filter(({ days }) => days.first <= end && days.last >= start);
  const animals = new Set(stays.map(({ animal }) => animal));
  for (const c of asked) for (const { position } of dams[c]) animals.add(position);
  return {
    rule: {
      ...DEFAULT_FATHER_RULE,
      storageYears: settings.storageYears,
      recencyHalfYears: settings.recencyHalfYears,
    },
    clutches: asked.map((c) => ({
      id: String(c),
      laid: clutches.laid[c] ?? '',
      dams: dams[c].map(({ position, probability }) => ({
        id: String(position),
        probability,
        storageYears: storageYears(snapshot, position),
        unrecordedShare: unrecordedMale(snapshot, c, position).share,
      })),
    })),
    animals: [...animals].map((i) => ({
      id: String(i),
      sex: ({ MALE: 'm', FEMALE: 'f', UNKNOWN: null } as const)[sexOf(snapshot, i)],
      mature_from: maturityTexts(snapshot, i),
    })),
    stays: stays.map(({ animal, pen, from, to }) => ({
      animal: String(animal),
      pen: String(pen),
      from,
      to,
    })),
    contacts: season.breaches.map(({ pens: [one, other], from, to }) => ({
      pens: [String(one), String(other)] as const,
      from,
      to,
    })),
    matings: season.matings
      .filter(({ day }) => day !== NO_DAY)
      .map(({ male, female, day }) => ({ male: String(male), female: String(female), day })),
  };
}

const SHARES = { CLOSED: 0.02, UNKNOWN: 0.05, OPEN: 0.15 };

/**
 * The least share of a male nobody recorded for a clutch of this dam, and the state of the yard it follows from: of the states in
 * the time from which she may store sperm the one with the largest share. Our figures: common practice, no source; the program
 * may set its own.
 */
export function unrecordedMale(
  snapshot: Snapshot,
  clutch: number,
  dam: number,
): { readonly share: number; readonly yard: keyof typeof SHARES } {
  const { clutches, season } = snapshot;
  const { yard, yardSince, unrecordedShare } = season.settings;
  const since = yardSince === null ? null : parsePartialDate(yardSince);
  const [earliest, latest] = [clutches.laidEarliest[clutch], clutches.laidLatest[clutch]];
  const isSaid = since === null || latest >= since.earliest;
  const wasBefore =
    since !== null && earliest - 365.25 * storageYears(snapshot, dam) < since.latest;
  const states = [...(isSaid ? [yard] : []), ...(wasBefore ? (['UNKNOWN'] as const) : [])];
  const worst = states.reduce((one, other) => (SHARES[other] > SHARES[one] ? other : one));
  return { share: unrecordedShare ?? SHARES[worst], yard: worst };
}

function maturityTexts(snapshot: Snapshot, animal: number): [string, string] | null {
  const { possible, certain } = maturityDays(snapshot, animal);
  if (!Number.isFinite(possible) || !Number.isFinite(certain)) return null;
  return [dayText(Math.round(possible)), dayText(Math.round(certain))];
}

/** Candidates without those known to be of the wrong sex; what is left, with the unrecorded share, sums to 1 again. */
function withoutWrongSex(
  snapshot: Snapshot,
  columns: CandidateColumns,
  wrong: 'MALE' | 'FEMALE',
): ParentCandidate[][] {
  const isWrong = new Map<number, boolean>();
  return Array.from({ length: snapshot.clutches.count }, (_, c) => {
    const rows = candidatesOfClutch(columns, c);
    const kept = rows.filter(({ position }) => {
      const known = isWrong.get(position) ?? sexOf(snapshot, position) === wrong;
      isWrong.set(position, known);
      return !known;
    });
    if (kept.length === rows.length) return rows;
    const dropped = rows.reduce(
      (sum, { position, probability }) => sum + (isWrong.get(position) ? probability : 0),
      0,
    );
    const left = 1 - dropped;
    return left > 1e-9 ? kept.map((row) => ({ ...row, probability: row.probability / left })) : [];
  });
}

/** Candidates by clutch as columns. */
export function columnsOf(rows: readonly (readonly ParentCandidate[])[]): CandidateColumns {
  const from = sharedInt32(new Int32Array(rows.length + 1));
  rows.forEach((row, c) => {
    from[c + 1] = from[c] + row.length;
  });
  const animal = sharedInt32(new Int32Array(from[rows.length]));
  const probability = sharedFloat64(new Float64Array(from[rows.length]));
  const basis: string[] = [];
  for (const row of rows) {
    for (const candidate of row) {
      animal[basis.length] = candidate.position;
      probability[basis.length] = candidate.probability;
      basis.push(candidate.basis);
    }
  }
  return { from, animal, probability, basis };
}
