import { invariant } from '@scutewright/basics';
import {
  locusDefinitionSchema,
  type Origin,
  penFeaturesSchema,
  type Sex,
  speciesOverridesSchema,
  traitDefinitionSchema,
} from '@scutewright/commands';
import type { ClientBase } from 'pg';
import { readSeason } from './read-season.js';
import {
  type CandidateColumns,
  type ClutchColumns,
  type ColourCheck,
  type Declaration,
  type LocusPairRow,
  NO_DAY,
  NONE,
  type SexRecord,
  type Snapshot,
  sharedFloat64,
  sharedInt32,
} from './snapshot.js';
import { openWhereNull } from './stay-days.js';

// Dates leave the database as whole days since 1970-01-01: nothing is parsed here.
export const day = (column: string) => `${column} - date '1970-01-01'`;

/** The days of a stay, as `openWhereNull` takes them. */
export const STAY_DAYS = ['from_earliest', 'from_latest', 'to_earliest', 'to_latest']
  .map(day)
  .join(', ');
export type StayDayColumns = Parameters<typeof openWhereNull>;

/** Reads one program whole: a fixed number of statements, however many animals. */
export async function readSnapshot(client: ClientBase, programId: string): Promise<Snapshot> {
  const rows = async (text: string): Promise<unknown[][]> =>
    (await client.query({ text, rowMode: 'array' })).rows;
  const [program] = (await rows(
    'SELECT name, is_demo, revision FROM program WHERE id = current_program()',
  )) as [string, boolean, number][];
  const animals = (await rows(
    `SELECT id, code, name, species, origin, hatched, ${day('hatched_earliest')}, ${day('hatched_latest')}, clutch_id
     FROM animal ORDER BY code`,
  )) as [
    string,
    string,
    string | null,
    string,
    Origin,
    string | null,
    number | null,
    number | null,
    string | null,
  ][];
  const clutches = (await rows(
    `SELECT id, code, laid, paternity, paternity_rate, ${day('laid_earliest')}, ${day('laid_latest')},
       eggs, broken, not_set, pen_id, species FROM clutch ORDER BY id`,
  )) as [
    string,
    string | null,
    string | null,
    ClutchColumns['paternities'][number],
    number | null,
    number | null,
    number | null,
    number | null,
    number | null,
    number | null,
    string | null,
    string | null,
  ][];
  const candidates = (await rows(
    `SELECT clutch_id, parent, animal_id, probability, basis FROM candidate
     ORDER BY clutch_id, probability DESC, animal_id`,
  )) as [string, 'SIRE' | 'DAM', string, number, string][];
  const sexes = (await rows(
    `SELECT id, animal_id, value->>'sex', date, method FROM observation
     WHERE kind = 'sex' AND animal_id IS NOT NULL ORDER BY date_earliest NULLS FIRST, id`,
  )) as [string, string, Sex, string | null, string | null][];

  const definitions = await readDefinitions(rows);
  const penAt = new Map(definitions.pens.map(({ id }, i) => [id, i]));
  const positionById = new Map(animals.map((row, i) => [row[0], i]));
  const clutchPosition = new Map(clutches.map((row, i) => [row[0], i]));
  const sexRecords = new Map<number, SexRecord[]>();
  for (const [id, animalId, sex, date, method] of sexes) {
    const position = at(positionById, animalId);
    const list = sexRecords.get(position) ?? [];
    if (list.length === 0) sexRecords.set(position, list);
    list.push({ id, sex, date, method });
  }
  const candidatesOf = (parent: 'SIRE' | 'DAM'): CandidateColumns => {
    const mine = candidates.filter((row) => row[1] === parent);
    const from = new Int32Array(clutches.length + 1);
    for (const [clutchId] of mine) from[at(clutchPosition, clutchId) + 1]++;
    for (let c = 0; c < clutches.length; c++) from[c + 1] += from[c];
    return {
      from: sharedInt32(from),
      animal: sharedInt32(mine.map((row) => at(positionById, row[2]))),
      probability: sharedFloat64(mine.map((row) => row[3])),
      basis: mine.map((row) => row[4]),
    };
  };

  return {
    programId,
    programName: program[0],
    isDemo: program[1],
    revision: program[2],
    animals: {
      count: animals.length,
      ids: animals.map((row) => row[0]),
      codes: animals.map((row) => row[1]),
      names: animals.map((row) => row[2]),
      species: animals.map((row) => row[3]),
      origins: animals.map((row) => row[4]),
      hatched: animals.map((row) => row[5]),
      hatchedEarliest: sharedInt32(animals.map((row) => row[6] ?? NO_DAY)),
      hatchedLatest: sharedInt32(animals.map((row) => row[7] ?? NO_DAY)),
      clutch: sharedInt32(animals.map((row) => (row[8] ? at(clutchPosition, row[8]) : NONE))),
      positionById,
      positionByCode: new Map(animals.map((row, i) => [row[1], i])),
    },
    clutches: {
      count: clutches.length,
      ids: clutches.map((row) => row[0]),
      codes: clutches.map((row) => row[1]),
      laid: clutches.map((row) => row[2]),
      laidEarliest: sharedInt32(clutches.map((row) => row[5] ?? NO_DAY)),
      laidLatest: sharedInt32(clutches.map((row) => row[6] ?? NO_DAY)),
      eggs: sharedInt32(clutches.map((row) => row[7] ?? NONE)),
      broken: sharedInt32(clutches.map((row) => row[8] ?? NONE)),
      notSet: sharedInt32(clutches.map((row) => row[9] ?? NONE)),
      pens: clutches.map((row) => (row[10] ? at(penAt, row[10]) : null)),
      species: clutches.map((row) => row[11]),
      paternities: clutches.map((row) => row[3]),
      rates: sharedFloat64(clutches.map((row) => row[4] ?? Number.NaN)),
    },
    sires: candidatesOf('SIRE'),
    dams: candidatesOf('DAM'),
    sexRecords,
    speciesSettings: await readSpeciesSettings(rows),
    ...definitions,
    ...(await readYardAndEvidence(rows, positionById, definitions)),
    season: await readSeason(rows, {
      animals: positionById,
      clutches: clutchPosition,
      pens: penAt,
      traits: new Map(definitions.traits.map(({ id }, i) => [id, i])),
      loci: new Map(definitions.loci.map(({ id }, i) => [id, i])),
    }),
  };
}

export type Rows = (text: string) => Promise<unknown[][]>;

async function readSpeciesSettings(rows: Rows): Promise<Snapshot['speciesSettings']> {
  const settings = (await rows('SELECT species, overrides FROM species_setting')) as [
    string,
    unknown,
  ][];
  return new Map(
    settings.map(([species, overrides]) => [species, speciesOverridesSchema.parse(overrides)]),
  );
}

type DefinitionParts = Pick<Snapshot, 'loci' | 'locusPairs' | 'traits' | 'pens'>;

async function readDefinitions(rows: Rows): Promise<DefinitionParts> {
  const loci = (await rows('SELECT id, code, name, definition FROM locus ORDER BY code')) as [
    string,
    string,
    string,
    unknown,
  ][];
  const pairs = (await rows(
    'SELECT id, first_id, second_id, kind, chance, reason FROM locus_pair ORDER BY id',
  )) as [string, string, string, LocusPairRow['kind'], string, string | null][];
  const locusAt = new Map(loci.map(([id], position) => [id, position]));
  const traits = (await rows('SELECT id, name, definition FROM trait ORDER BY name')) as [
    string,
    string,
    unknown,
  ][];
  const pens = (await rows(
    'SELECT id, name, area_m2, is_quarantine, features FROM pen ORDER BY name',
  )) as [string, string, number | null, boolean, unknown][];
  return {
    loci: loci.map(([id, code, name, definition]) => ({
      id,
      code,
      name,
      definition: locusDefinitionSchema.parse(definition),
    })),
    locusPairs: pairs.map(([id, first, second, kind, chance, reason]) => ({
      id,
      first: at(locusAt, first),
      second: at(locusAt, second),
      kind,
      chance,
      reason,
    })),
    traits: traits.map(([id, name, definition]) => ({
      id,
      name,
      definition: traitDefinitionSchema.parse(definition),
    })),
    pens: pens.map(([id, name, areaM2, isQuarantine, features]) => ({
      id,
      name,
      areaM2,
      isQuarantine,
      ...yardPlan(features),
    })),
  };
}

function yardPlan(features: unknown) {
  const { list, ...plan } = penFeaturesSchema.parse(features);
  return { features: list, ...plan };
}

async function readYardAndEvidence(
  rows: Rows,
  animals: ReadonlyMap<string, number>,
  { loci, traits, pens }: Pick<Snapshot, 'loci' | 'traits' | 'pens'>,
): Promise<Pick<Snapshot, 'stays' | 'colourChecks' | 'declarations' | 'sclMm'>> {
  const positions = (list: readonly { id: string }[]) =>
    new Map(list.map(({ id }, position) => [id, position]));
  const [locusAt, traitAt, penAt] = [positions(loci), positions(traits), positions(pens)];
  const stays = (await rows(
    `SELECT id, animal_id, pen_id, "from", "to", ${STAY_DAYS} FROM stay
     WHERE animal_id IS NOT NULL ORDER BY from_earliest NULLS FIRST, id`,
  )) as [string, string, string, string | null, string | null, ...StayDayColumns][];
  const observations = (await rows(
    `SELECT id, kind, animal_id, locus_id, value, date, ${day('date_earliest')} FROM observation
     WHERE animal_id IS NOT NULL AND kind IN ('colour-check', 'declaration', 'scl')
     ORDER BY date_earliest NULLS FIRST, id`,
  )) as [string, string, string, string | null, unknown, string | null, number | null][];
  const colourChecks: ColourCheck[] = [];
  const declarations: Declaration[] = [];
  const sclMm = new Float64Array(new SharedArrayBuffer(animals.size * 8)).fill(Number.NaN);
  for (const [id, kind, animalId, locusId, value, date, dateDay] of observations) {
    const animal = at(animals, animalId);
    if (kind === 'colour-check') {
      colourChecks.push({
        id,
        animal,
        ...readLook(value as { seen: string[]; absent?: string[] }, traitAt),
        date,
        day: dateDay ?? NO_DAY,
      });
    } else if (kind === 'declaration' && locusId) {
      const { alleles, trust } = value as { alleles: string[]; trust: number };
      declarations.push({ id, animal, locus: at(locusAt, locusId), alleles, trust });
    } else if (kind === 'scl') {
      sclMm[animal] = (value as { mm: number }).mm;
    }
  }
  return {
    colourChecks,
    declarations,
    sclMm,
    stays: stays.map(([id, animalId, penId, from, to, ...days]) => ({
      id,
      animal: at(animals, animalId),
      pen: at(penAt, penId),
      from,
      to,
      days: openWhereNull(...days),
    })),
  };
}

export function at(positions: ReadonlyMap<string, number>, id: string): number {
  const position = positions.get(id);
  invariant(position !== undefined, `row ${id} is read in the same transaction`);
  return position;
}

/** Where a record does not say what was looked for, seeing nothing means none of the traits; one that is gone is left out. */
function readLook(
  { seen: seenIds, absent: absentIds }: { seen: string[]; absent?: string[] },
  traitAt: ReadonlyMap<string, number>,
): Pick<ColourCheck, 'seen' | 'absent'> {
  const seen = seenIds.map((traitId) => at(traitAt, traitId));
  const all = seen.length === 0 ? [...traitAt.values()] : [];
  const absent = absentIds?.flatMap((traitId) => traitAt.get(traitId) ?? []) ?? all;
  return { seen, absent };
}
