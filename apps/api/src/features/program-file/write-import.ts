import { randomUUID } from 'node:crypto';
import { dayText, type PartialDate } from '@scutewright/basics';
import type { ImportPlan, ProgramRow } from '@scutewright/commands';
import type { Tx } from '../../db/database.js';

/** Writes an import's plan, set-based: the number of statements does not grow with the rows. Inside its command. */
export async function writeImport(
  tx: Tx,
  programId: string,
  plan: ImportPlan,
  options: { species: string | null; trust: number },
): Promise<void> {
  const ids = await readIds(tx);
  const rows: Entry[] = [
    ...plan.created.map((row) => ({ row, id: randomUUID(), isNew: true, fields: null })),
    ...plan.changed.map(({ row, changes }) => ({
      row,
      id: ids.animals.get(row.code) ?? randomUUID(),
      isNew: false,
      fields: new Set<string>(changes.map(({ field }) => field)),
    })),
  ];
  for (const { row, id } of rows) ids.animals.set(row.code, id);

  const clutches = layClutches(rows, ids);
  await insert(tx, programId, 'clutch', { id: 'uuid', code: 'text' }, clutches.made);
  await insert(
    tx,
    programId,
    'animal',
    {
      id: 'uuid',
      code: 'text',
      name: 'text',
      species: 'text',
      origin: 'origin',
      clutch_id: 'uuid',
      hatched: 'text',
      hatched_earliest: 'date',
      hatched_latest: 'date',
      notes: 'text',
    },
    rows
      .filter(({ isNew }) => isNew)
      .map(({ row, id }) => ({
        id,
        code: row.code,
        name: row.name,
        species: row.species ?? options.species,
        origin: clutches.ofRow.has(id) ? 'HATCHED_HERE' : 'ACQUIRED',
        clutch_id: clutches.ofRow.get(id) ?? null,
        notes: row.notes,
        ...dates('hatched', row.hatched),
      })),
  );
  await updateAnimals(
    tx,
    programId,
    rows.filter(({ isNew }) => !isNew),
    clutches.ofRow,
  );
  await tx.$executeRawUnsafe(
    'DELETE FROM candidate WHERE program_id = $1::uuid AND clutch_id = ANY($2::uuid[])',
    programId,
    [...clutches.parents.keys()],
  );
  await insert(
    tx,
    programId,
    'candidate',
    {
      id: 'uuid',
      clutch_id: 'uuid',
      parent: 'parent_kind',
      animal_id: 'uuid',
      probability: 'float8',
      basis: 'candidate_basis',
    },
    [...clutches.parents].flatMap(([clutchId, row]) => [
      ...candidates(clutchId, 'SIRE', row.sires, ids.animals),
      ...candidates(clutchId, 'DAM', row.dams, ids.animals),
    ]),
  );
  await writeObservations(tx, programId, rows, ids, options.trust);
  const stays = rows.filter((entry) => entry.row.pen !== null && brings(entry, 'pen'));
  await tx.$executeRawUnsafe(
    'DELETE FROM stay WHERE program_id = $1::uuid AND animal_id = ANY($2::uuid[]) AND "from" IS NULL AND "to" IS NULL',
    programId,
    stays.filter(({ isNew }) => !isNew).map(({ id }) => id),
  );
  await insert(
    tx,
    programId,
    'stay',
    { id: 'uuid', animal_id: 'uuid', pen_id: 'uuid' },
    stays.map(({ row, id }) => ({
      id: randomUUID(),
      animal_id: id,
      pen_id: ids.pens.get(row.pen ?? ''),
    })),
  );
}

interface Ids {
  readonly animals: Map<string, string>;
  readonly clutches: Map<string, string>;
  readonly clutchOf: Map<string, string>;
  readonly traits: Map<string, string>;
  readonly loci: Map<string, string>;
  readonly pens: Map<string, string>;
}

async function readIds(tx: Tx): Promise<Ids> {
  const map = async (sql: string) =>
    new Map(
      (await tx.$queryRawUnsafe<{ key: string; id: string }[]>(sql)).map(({ key, id }) => [
        key,
        id,
      ]),
    );
  return {
    animals: await map('SELECT code AS key, id FROM animal'),
    clutches: await map('SELECT code AS key, id FROM clutch WHERE code IS NOT NULL'),
    clutchOf: await map(
      'SELECT code AS key, clutch_id AS id FROM animal WHERE clutch_id IS NOT NULL',
    ),
    traits: await map('SELECT code AS key, id FROM trait'),
    loci: await map('SELECT code AS key, id FROM locus'),
    pens: await map('SELECT name AS key, id FROM pen'),
  };
}

/** A row to be written, of a new animal or of one that is there. */
interface Entry {
  readonly row: ProgramRow;
  readonly id: string;
  readonly isNew: boolean;
  /** What changes of an animal that is there; null for a new one, of which everything is written. */
  readonly fields: ReadonlySet<string> | null;
}

function brings(entry: Entry, field: string): boolean {
  return entry.fields === null || entry.fields.has(field);
}

/** Which clutch each animal hatched from, which clutches are new, and the row that tells each one's parents. */
function layClutches(
  rows: readonly Entry[],
  ids: Ids,
): { made: object[]; ofRow: Map<string, string>; parents: Map<string, ProgramRow> } {
  const made: object[] = [];
  const ofRow = new Map<string, string>();
  const parents = new Map<string, ProgramRow>();
  const byCode = new Map(ids.clutches);
  for (const entry of rows) {
    const { row, id } = entry;
    const hasParents = row.sires.length + row.dams.length > 0;
    let clutchId = row.clutch ? byCode.get(row.clutch) : ids.clutchOf.get(row.code);
    if (!clutchId && (row.clutch || hasParents)) {
      clutchId = randomUUID();
      made.push({ id: clutchId, code: row.clutch });
      if (row.clutch) byCode.set(row.clutch, clutchId);
    }
    if (!clutchId) continue;
    ofRow.set(id, clutchId);
    const tells = brings(entry, 'sire') || brings(entry, 'dam');
    const known = parents.get(clutchId);
    // Of clutch mates the one that tells most is taken: the others agree or say nothing.
    const words = (each: ProgramRow) => each.sires.length + each.dams.length;
    if (hasParents && tells && (!known || words(row) > words(known))) parents.set(clutchId, row);
  }
  return { made, ofRow, parents };
}

function candidates(
  clutchId: string,
  parent: 'SIRE' | 'DAM',
  named: ProgramRow['sires'],
  animals: ReadonlyMap<string, string>,
): object[] {
  const told = named.reduce((sum, { probability }) => sum + (probability ?? 0), 0);
  const open = named.filter(({ probability }) => probability === null).length;
  return named.map(({ code, probability }) => ({
    id: randomUUID(),
    clutch_id: clutchId,
    parent,
    animal_id: animals.get(code),
    probability: Math.min(1, probability ?? (1 - told) / open),
    basis: 'DECLARED',
  }));
}

async function updateAnimals(
  tx: Tx,
  programId: string,
  entries: readonly Entry[],
  clutchOf: ReadonlyMap<string, string>,
): Promise<void> {
  if (entries.length === 0) return;
  const values = entries.map((entry) => ({
    id: entry.id,
    name: brings(entry, 'name') ? entry.row.name : null,
    species: brings(entry, 'species') ? entry.row.species : null,
    notes: brings(entry, 'notes') ? entry.row.notes : null,
    clutch_id: clutchOf.get(entry.id) ?? null,
    ...dates('hatched', brings(entry, 'hatched') ? entry.row.hatched : null),
  }));
  // An empty cell is never a change, so what the file does not bring stays.
  await tx.$executeRawUnsafe(
    `UPDATE animal a SET name = coalesce(v.name, a.name), species = coalesce(v.species, a.species),
      notes = coalesce(v.notes, a.notes), clutch_id = coalesce(v.clutch_id, a.clutch_id),
      hatched = coalesce(v.hatched, a.hatched), hatched_earliest = coalesce(v.hatched_earliest, a.hatched_earliest),
      hatched_latest = coalesce(v.hatched_latest, a.hatched_latest)
     FROM jsonb_to_recordset($2::jsonb) AS v(id uuid, name text, species text, notes text, clutch_id uuid,
      hatched text, hatched_earliest date, hatched_latest date)
     WHERE a.program_id = $1::uuid AND a.id = v.id`,
    programId,
    JSON.stringify(values),
  );
}

async function writeObservations(
  tx: Tx,
  programId: string,
  rows: readonly Entry[],
  ids: Ids,
  trust: number,
): Promise<void> {
  const made: {
    kind: string;
    animal_id: string;
    locus_id?: string;
    value: string;
    isNew: boolean;
  }[] = [];
  for (const entry of rows) {
    const { row, id, isNew } = entry;
    const add = (kind: string, value: object, locus?: string) =>
      made.push({ kind, animal_id: id, locus_id: locus, value: JSON.stringify(value), isNew });
    if (row.sex && brings(entry, 'sex')) add('sex', { sex: row.sex === 'm' ? 'MALE' : 'FEMALE' });
    if (row.traits && brings(entry, 'traits')) {
      add('colour-check', { seen: row.traits.map((name) => ids.traits.get(name)) });
    }
    if (row.sclMm !== null && brings(entry, 'scl_mm')) add('scl', { mm: row.sclMm });
    if (row.massG !== null && brings(entry, 'mass_g')) add('mass', { g: row.massG });
    if (brings(entry, 'genotype')) {
      for (const { locus, alleles } of row.genotype) {
        add('declaration', { alleles, trust }, ids.loci.get(locus));
      }
    }
  }
  // What an earlier file said of the same thing is replaced; what was observed otherwise stays.
  const again = made.filter(({ isNew }) => !isNew);
  await tx.$executeRawUnsafe(
    `DELETE FROM observation o USING jsonb_to_recordset($2::jsonb) AS v(kind text, animal_id uuid, locus_id uuid)
     WHERE o.program_id = $1::uuid AND o.animal_id = v.animal_id AND o.kind = v.kind
       AND o.locus_id IS NOT DISTINCT FROM v.locus_id AND o.method = 'program file'`,
    programId,
    JSON.stringify(again),
  );
  await insert(
    tx,
    programId,
    'observation',
    {
      id: 'uuid',
      kind: 'text',
      animal_id: 'uuid',
      locus_id: 'uuid',
      value: 'jsonb',
      method: 'text',
    },
    made.map(({ isNew: _, ...rest }) => ({ id: randomUUID(), method: 'program file', ...rest })),
  );
}

function dates(name: string, date: PartialDate | null): object {
  return {
    [name]: date?.text ?? null,
    [`${name}_earliest`]: date && dayText(date.earliest),
    [`${name}_latest`]: date && dayText(date.latest),
  };
}

/** Inserts rows by one statement: a column is one array, and the server zips them. */
export async function insert(
  tx: Tx,
  programId: string,
  table: string,
  columns: Readonly<Record<string, string>>,
  rows: readonly object[],
): Promise<void> {
  if (rows.length === 0) return;
  const names = Object.keys(columns);
  const arrays = names.map((name) =>
    rows.map((row) => (row as Record<string, unknown>)[name] ?? null),
  );
  const zipped = names.map((_, i) => `$${i + 2}::text[]`).join(', ');
  const typed = names.map((name) => `v.${name}::${columns[name]}`).join(', ');
  await tx.$executeRawUnsafe(
    `INSERT INTO ${table} (program_id, ${names.join(', ')})
     SELECT $1::uuid, ${typed} FROM unnest(${zipped}) AS v(${names.join(', ')})`,
    programId,
    ...arrays.map((values) => values.map((value) => (value === null ? null : String(value)))),
  );
}
