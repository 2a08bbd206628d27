import { dayText, parsePartialDate } from '@scutewright/basics';
import { DEFAULT_FATHER_RULE, type FathersInput, type PossibleFathers } from '@scutewright/housing';
import {
  candidatesOfClutch,
  maturityDays,
  type ParentCandidate,
  sexFinding,
  storageYears,
} from './findings.js';
import {
  type CandidateColumns,
  NO_DAY,
  type Snapshot,
  sharedFloat64,
  sharedInt32,
} from './snapshot.js';

/**
 * The snapshot with the parents that its records add up to. A clutch with a laying date, possible mothers and no father
 * written down gets its possible fathers from who was where (`find`: libs/housing `possibleFathers`). Who is known to be of
 * the other sex drops out of what was written down, and the rest is weighed anew: the 'male' that laid is nobody's father.
 */
export async function withParents(
  snapshot: Snapshot,
  find: (input: FathersInput) => Promise<PossibleFathers[]>,
): Promise<Snapshot> {
  const { clutches } = snapshot;
  const dams = withoutWrongSex(snapshot, snapshot.dams, 'MALE');
  const written = withoutWrongSex(snapshot, snapshot.sires, 'FEMALE');
  const open = Array.from({ length: clutches.count }, (_, c) => c).filter(
    (c) =>
      clutches.laid[c] !== null &&
      candidatesOfClutch(snapshot.sires, c).length === 0 &&
      dams[c].length > 0,
  );
  if (
    open.length === 0 &&
    written.every((row, c) => row.length === candidatesOfClutch(snapshot.sires, c).length)
  ) {
    return snapshot;
  }
  const found = open.length > 0 ? await find(fathersInput(snapshot, open, dams)) : [];
  const derived = new Map(found.map((each) => [Number(each.clutch), each]));
  const sires = written.map((row, c) => {
    const fathers = derived.get(c)?.fathers;
    return fathers
      ? fathers.map(
          ({ id, probability }): ParentCandidate => ({
            position: Number(id),
            probability,
            basis: 'HOUSED_TOGETHER',
          }),
        )
      : row;
  });
  return {
    ...snapshot,
    sires: columnsOf(sires),
    dams: columnsOf(dams),
    season: { ...snapshot.season, derivedFathers: derived },
  };
}

function fathersInput(
  snapshot: Snapshot,
  open: readonly number[],
  dams: readonly ParentCandidate[][],
): FathersInput {
  const { animals, clutches, stays, season } = snapshot;
  const { settings } = season;
  return {
    rule: {
      ...DEFAULT_FATHER_RULE,
      storageYears: settings.storageYears,
      recencyHalfYears: settings.recencyHalfYears,
    },
    clutches: open.map((c) => ({
      id: String(c),
      laid: clutches.laid[c] ?? '',
      dams: dams[c].map(({ position, probability }) => ({
        id: String(position),
        probability,
        storageYears: storageYears(snapshot, position),
        unrecordedShare: unrecordedMale(snapshot, c, position).share,
      })),
    })),
    animals: Array.from({ length: animals.count }, (_, i) => ({
      id: String(i),
      sex: ({ MALE: 'm', FEMALE: 'f', UNKNOWN: null } as const)[sexFinding(snapshot, i).sex],
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
      const known = isWrong.get(position) ?? sexFinding(snapshot, position).sex === wrong;
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
export function columnsOf(rows: readonly ParentCandidate[][]): CandidateColumns {
  const from = new Int32Array(rows.length + 1);
  rows.forEach((row, c) => {
    from[c + 1] = from[c] + row.length;
  });
  const flat = rows.flat();
  return {
    from: sharedInt32(from),
    animal: sharedInt32(flat.map(({ position }) => position)),
    probability: sharedFloat64(flat.map(({ probability }) => probability)),
    basis: flat.map(({ basis }) => basis),
  };
}
