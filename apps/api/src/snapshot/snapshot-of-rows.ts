import {
  lociOf,
  locusPairsOf,
  pensOf,
  speciesSettingsOf,
  traitsOf,
} from './definitions-of-rows.js';
import type { KeptParts } from './kept-parts.js';
import { at, type Positions, positionsOf } from './positions.js';
import type { ProgramRows } from './program-rows.js';
import { seasonOfRows } from './season-of-rows.js';
import {
  type AnimalColumns,
  type CandidateColumns,
  type ClutchColumns,
  type ColourCheck,
  type Declaration,
  NO_DAY,
  NONE,
  type SexRecord,
  type Snapshot,
  sharedFloat64,
  sharedInt32,
} from './snapshot.js';
import { openWhereNull } from './stay-days.js';

/**
 * The snapshot that rows add up to, part by part, before the parents that follow from them (`withParents`). A part reads the
 * rows it is given and nothing else, so that one whose rows did not change is taken over (`KeptParts`).
 */
export function snapshotOfRows(rows: ProgramRows, parts: KeptParts): Snapshot {
  const clutchAt = parts.of(clutchPositions, rows.clutches);
  const animalAt = parts.of(animalPositions, rows.animals);
  const penAt = parts.of(penPositions, rows.pens);
  return {
    programId: rows.program.id,
    programName: rows.program.name,
    isDemo: rows.program.isDemo,
    revision: rows.program.revision,
    animals: parts.of(animalsOf, rows.animals, animalAt, clutchAt),
    clutches: parts.of(clutchesOf, rows.clutches, penAt),
    ...parts.of(candidatesOf, rows.candidates, clutchAt, animalAt),
    sexRecords: parts.of(sexRecordsOf, rows.sexes, animalAt),
    loci: parts.of(lociOf, rows.loci),
    locusPairs: parts.of(locusPairsOf, rows.locusPairs, rows.loci),
    traits: parts.of(traitsOf, rows.traits),
    pens: parts.of(pensOf, rows.pens),
    speciesSettings: parts.of(speciesSettingsOf, rows.speciesSettings),
    stays: parts.of(staysOf, rows.stays, animalAt, penAt),
    ...parts.of(looksOf, rows.looks, animalAt, rows.loci, rows.traits),
    sclMm: parts.of(lengthsOf, rows.sizes, animalAt),
    season: seasonOfRows(rows, parts, { animals: animalAt, clutches: clutchAt, pens: penAt }),
  };
}

// A function of their own each: `KeptParts` knows a part by the function that made it.
const clutchPositions = (rows: ProgramRows['clutches']) => positionsOf(rows);
const animalPositions = (rows: ProgramRows['animals']) => positionsOf(rows);
const penPositions = (rows: ProgramRows['pens']) => positionsOf(rows);

function animalsOf(
  rows: ProgramRows['animals'],
  positionById: Positions,
  clutches: Positions,
): AnimalColumns {
  return {
    count: rows.length,
    ids: rows.map((row) => row[0]),
    codes: rows.map((row) => row[1]),
    names: rows.map((row) => row[2]),
    species: rows.map((row) => row[3]),
    origins: rows.map((row) => row[4]),
    hatched: rows.map((row) => row[5]),
    hatchedEarliest: sharedInt32(rows.map((row) => row[6] ?? NO_DAY)),
    hatchedLatest: sharedInt32(rows.map((row) => row[7] ?? NO_DAY)),
    clutch: sharedInt32(rows.map((row) => (row[8] ? at(clutches, row[8]) : NONE))),
    positionById,
    positionByCode: new Map(rows.map((row, i) => [row[1], i])),
  };
}

function clutchesOf(rows: ProgramRows['clutches'], pens: Positions): ClutchColumns {
  return {
    count: rows.length,
    ids: rows.map((row) => row[0]),
    codes: rows.map((row) => row[1]),
    laid: rows.map((row) => row[2]),
    paternities: rows.map((row) => row[3]),
    rates: sharedFloat64(rows.map((row) => row[4] ?? Number.NaN)),
    laidEarliest: sharedInt32(rows.map((row) => row[5] ?? NO_DAY)),
    laidLatest: sharedInt32(rows.map((row) => row[6] ?? NO_DAY)),
    eggs: sharedInt32(rows.map((row) => row[7] ?? NONE)),
    broken: sharedInt32(rows.map((row) => row[8] ?? NONE)),
    notSet: sharedInt32(rows.map((row) => row[9] ?? NONE)),
    pens: rows.map((row) => (row[10] ? at(pens, row[10]) : null)),
    species: rows.map((row) => row[11]),
  };
}

function candidatesOf(
  rows: ProgramRows['candidates'],
  clutches: Positions,
  animals: Positions,
): Pick<Snapshot, 'sires' | 'dams'> {
  const columns = (parent: 'SIRE' | 'DAM'): CandidateColumns => {
    const mine = rows.filter((row) => row[1] === parent);
    const from = new Int32Array(clutches.size + 1);
    for (const [clutchId] of mine) from[at(clutches, clutchId) + 1]++;
    for (let c = 0; c < clutches.size; c++) from[c + 1] += from[c];
    return {
      from: sharedInt32(from),
      animal: sharedInt32(mine.map((row) => at(animals, row[2]))),
      probability: sharedFloat64(mine.map((row) => row[3])),
      basis: mine.map((row) => row[4]),
    };
  };
  return { sires: columns('SIRE'), dams: columns('DAM') };
}

function sexRecordsOf(rows: ProgramRows['sexes'], animals: Positions): Snapshot['sexRecords'] {
  const records = new Map<number, SexRecord[]>();
  for (const [id, , animalId, sex, date, method] of rows) {
    const position = at(animals, animalId);
    const list = records.get(position);
    if (list) list.push({ id, sex, date, method });
    else records.set(position, [{ id, sex, date, method }]);
  }
  return records;
}

function staysOf(
  rows: ProgramRows['stays'],
  animals: Positions,
  pens: Positions,
): Snapshot['stays'] {
  return rows.map((row) => ({
    id: row[0],
    animal: at(animals, row[2]),
    pen: at(pens, row[3]),
    from: row[4],
    to: row[5],
    days: openWhereNull(row[1], row[6], row[7], row[8]),
  }));
}

function looksOf(
  rows: ProgramRows['looks'],
  animals: Positions,
  loci: ProgramRows['loci'],
  traits: ProgramRows['traits'],
): Pick<Snapshot, 'colourChecks' | 'declarations'> {
  const [locusAt, traitAt] = [positionsOf(loci), positionsOf(traits)];
  const colourChecks: ColourCheck[] = [];
  const declarations: Declaration[] = [];
  for (const [id, onDay, kind, animalId, locusId, value, date] of rows) {
    const animal = at(animals, animalId);
    if (kind === 'colour-check') {
      const look = readLook(value as { seen: string[]; absent?: string[] }, traitAt);
      colourChecks.push({ id, animal, ...look, date, day: onDay ?? NO_DAY });
    } else if (locusId) {
      const { alleles, trust } = value as { alleles: string[]; trust: number };
      declarations.push({ id, animal, locus: at(locusAt, locusId), alleles, trust });
    }
  }
  return { colourChecks, declarations };
}

/** Where a record does not say what was looked for, seeing nothing means none of the traits; one that is gone is left out. */
function readLook(
  { seen: seenIds, absent: absentIds }: { seen: string[]; absent?: string[] },
  traitAt: Positions,
): Pick<ColourCheck, 'seen' | 'absent'> {
  const seen = seenIds.map((traitId) => at(traitAt, traitId));
  const all = seen.length === 0 ? [...traitAt.values()] : [];
  const absent = absentIds?.flatMap((traitId) => traitAt.get(traitId) ?? []) ?? all;
  return { seen, absent };
}

/** The length that was measured last; of one day the one with the greater id, as everywhere. */
function lengthsOf(rows: ProgramRows['sizes'], animals: Positions): Float64Array {
  const lengths = sharedFloat64(new Float64Array(animals.size).fill(Number.NaN));
  const begun = new Float64Array(animals.size).fill(Number.NEGATIVE_INFINITY);
  const ids: string[] = [];
  for (const [id, , kind, animalId, mm, , , earliest] of rows) {
    if (kind !== 'scl') continue;
    const animal = at(animals, animalId);
    const since = earliest ?? Number.NEGATIVE_INFINITY;
    if (since < begun[animal] || (since === begun[animal] && id < (ids[animal] ?? ''))) continue;
    begun[animal] = since;
    ids[animal] = id;
    lengths[animal] = mm;
  }
  return lengths;
}
