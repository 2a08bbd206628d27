import { type Fault, FaultsError, type PartialDate } from '@scutewright/basics';
import { checkParents, type Laying, layings } from './check-parents.js';
import { CycleError, cycleFaults, parentGraph } from './parent-graph.js';
import { ONE_SIRE, type Paternity } from './paternity.js';
import { type Draw, FOUND, NO_DAY, type Pedigree } from './pedigree.js';
import { eggRow, type ParentEntry, readRow } from './read-row.js';

/** One animal as the caller knows it. Absent fields are not recorded; null counts as absent. */
export interface PedigreeRow {
  readonly id: string;
  /** An id, or candidates with probabilities that sum to at most 1. */
  readonly sire?: string | readonly Candidate[] | null;
  readonly dam?: string | readonly Candidate[] | null;
  readonly sex?: 'm' | 'f' | '' | null;
  /** `2011`, `2011-06`, `2011-06-03`, with `~` for 'about'. */
  readonly hatched?: string | null;
  /** Rows with the same clutch came from one laying and share its parents. */
  readonly clutch?: string | null;
  /**
   * Instead of `sire`, `dam` and `clutch`: the clutches it may have hatched from (found in the grass, boxes dropped), with
   * probabilities that sum to at most 1. Each animal is drawn on its own, so the relatedness of two of one find is approximate where
   * it is known how many are of which clutch; the figures of each, and with all others, are not touched by that.
   */
  readonly possibleClutches?: readonly PossibleClutch[] | null;
}

/** A clutch as a row would name it; the same clutch in other rows has the same parents. */
export interface PossibleClutch extends Pick<PedigreeRow, 'sire' | 'dam' | 'clutch'> {
  readonly probability: number;
}

export interface Candidate {
  readonly id: string;
  readonly probability: number;
}

export interface PedigreeOptions {
  /**
   * How the young of a clutch come by their sires where these are not certain: one for all clutches, or by
   * clutch (the others ONE_SIRE).
   */
  readonly paternity?: Paternity | Readonly<Record<string, Paternity>>;
}

/**
 * Checks rows and turns them into columns; any order of rows. Clutch mates whose sire (dam) is not
 * recorded still share that one unknown animal, as far as the paternity says so; so does an animal that may be of the
 * clutch, as far as it is.
 *
 * Throws FaultsError with all faults at once: DUPLICATE_ID, UNKNOWN_PARENT, OWN_PARENT, CYCLE, WRONG_SEX,
 * SIRE_AND_DAM, OLDER_THAN_PARENT, CLUTCH_PARENTS_DIFFER, BAD_PROBABILITY, BAD_PATERNITY, BAD_FIELD. Probabilities
 * that sum to 1 + 1e-9 are taken as 1. Cost: rows + candidates, one hash look-up a name.
 */
export function buildPedigree(
  rows: readonly PedigreeRow[],
  options: PedigreeOptions = {},
): Pedigree {
  const faults: Fault[] = [];
  const read = rows.map((row, i) => readRow(row, i, faults));
  const animals = rows.length;
  const positions = new Map<string, number>();
  read.forEach(({ id }, i) => {
    const first = positions.get(id);
    if (first === undefined) positions.set(id, i);
    else if (id) faults.push(duplicate(id, first, i));
  });
  const finds = new Map<number, Draw>();
  for (let i = 0; i < animals; i++) {
    const { possible } = read[i];
    if (possible.length === 0) continue;
    finds.set(i, {
      side: 'EGG',
      clutch: null,
      candidates: Int32Array.from(possible, (_, k) => read.length + k),
      probabilities: Float64Array.from(possible, ({ probability }) => probability),
      paternity: ONE_SIRE,
    });
    for (const clutch of possible) read.push(readRow(eggRow(rows[i], clutch), read.length, faults));
  }
  checkParents(read, positions, faults);
  const laid = layings(read, faults);
  const paternityOf = readPaternity(options.paternity ?? ONE_SIRE, faults);

  const size = read.length;
  const sire = new Int32Array(size).fill(-1);
  const dam = new Int32Array(size).fill(-1);
  const draws: Draw[] = [];
  for (const laying of laid) {
    const first = read[laying.young[0]];
    addParent('SIRE', first.sire, laying, paternityOf(laying.clutch));
    addParent('DAM', first.dam, laying, ONE_SIRE);
  }
  for (const row of finds.keys()) {
    sire[row] = FOUND;
    dam[row] = FOUND;
  }
  const sex = Uint8Array.from(read.slice(0, animals), (row) => row.sex);
  const days = read.slice(0, animals).map((row) => row.hatched);
  const pedigree: Pedigree = {
    size,
    animals,
    ids: read.slice(0, animals).map(({ id }) => id),
    positions,
    sire,
    dam,
    sex: sex.some((each) => each !== 0) ? sex : null,
    hatched: days.some((day) => day !== null) ? hatchColumns(days) : null,
    draws,
    finds,
    founderKin: [],
  };
  try {
    parentGraph(pedigree);
  } catch (error) {
    if (!(error instanceof CycleError)) throw error;
    const found = cycleFaults(error, (node) => (node < animals ? read[node].id : null));
    const isKnown = ({ ids }: Fault): boolean =>
      faults.some(({ code, ids: known }) => code === 'OWN_PARENT' && known[0] === ids[0]);
    faults.push(...found.filter((fault) => fault.ids.length > 1 || !isKnown(fault)));
  }
  if (faults.length > 0) throw new FaultsError(faults);
  return pedigree;

  function addParent(
    side: 'SIRE' | 'DAM',
    entries: readonly ParentEntry[],
    { clutch, young }: Laying,
    paternity: Paternity,
  ): void {
    const column = side === 'SIRE' ? sire : dam;
    // A parent without a row is a fault already and stands for nobody here.
    const known = entries
      .flatMap(({ id, probability }) => {
        const row = positions.get(id);
        return row === undefined ? [] : [{ row, probability }];
      })
      .sort((a, b) => a.row - b.row);
    let node: number;
    if (known.length === 1 && known[0].probability === 1) node = known[0].row;
    else if (known.length === 0 && (young.length === 1 || paternity.kind === 'EACH_OWN_SIRE'))
      node = -1;
    else {
      node = size + draws.length;
      draws.push({
        side,
        clutch,
        candidates: Int32Array.from(known, ({ row }) => row),
        probabilities: Float64Array.from(known, ({ probability }) => probability),
        paternity,
      });
    }
    for (const i of young) column[i] = node;
  }
}

function readPaternity(
  given: Paternity | Readonly<Record<string, Paternity>>,
  faults: Fault[],
): (clutch: string | null) => Paternity {
  const isOne = typeof given.kind === 'string';
  const byClutch = isOne ? {} : (given as Readonly<Record<string, Paternity>>);
  const rest = isOne ? (given as Paternity) : ONE_SIRE;
  for (const [clutch, paternity] of [['', rest] as const, ...Object.entries(byClutch)]) {
    if (isPaternity(paternity)) continue;
    faults.push({
      code: 'BAD_PATERNITY',
      message: `The paternity ${JSON.stringify(paternity)}${clutch ? ` of clutch '${clutch}'` : ''} is not known.`,
      remedy:
        'Use ONE_SIRE, EACH_OWN_SIRE, MIXED(rate) or TWO_SIRES(rate) with a rate from 0 to 1.',
      ids: clutch ? [clutch] : [],
    });
  }
  if (faults.some((fault) => fault.code === 'BAD_PATERNITY')) return () => ONE_SIRE;
  return (clutch) => (clutch !== null && Object.hasOwn(byClutch, clutch) ? byClutch[clutch] : rest);
}

function isPaternity(value: Paternity): boolean {
  switch (value?.kind) {
    case 'ONE_SIRE':
    case 'EACH_OWN_SIRE':
      return true;
    case 'MIXED':
    case 'TWO_SIRES':
      return value.rate >= 0 && value.rate <= 1;
    default:
      return false;
  }
}

function hatchColumns(days: readonly (PartialDate | null)[]): Pedigree['hatched'] {
  return {
    earliest: Int32Array.from(days, (day) => day?.earliest ?? NO_DAY),
    latest: Int32Array.from(days, (day) => day?.latest ?? NO_DAY),
  };
}

function duplicate(id: string, first: number, second: number): Fault {
  return {
    code: 'DUPLICATE_ID',
    message: `'${id}' stands in two rows, ${first} and ${second} (the first row is 0).`,
    remedy: 'Give every animal an id of its own, or remove one of the rows.',
    ids: [id],
  };
}
