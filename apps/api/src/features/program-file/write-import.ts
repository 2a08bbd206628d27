import { dayText, evenShares, invariant, type PartialDate } from '@scutewright/basics';
import type { ImportPlan, ProgramRow } from '@scutewright/commands';
import type { Tx } from '../../db/database.js';
import { insertRows } from '../../db/insert-rows.js';
import { RowIds } from '../../db/row-ids.js';
import { brings, type Entry, type Ids } from './import-entry.js';
import { writeObservations } from './write-observations.js';

/** Writes an import's plan, set-based: a statement for some thousand rows. Inside its command. */
export async function writeImport(
  tx: Tx,
  programId: string,
  plan: ImportPlan,
  options: {
    species: string | null;
    trust: number;
    /** Told the share done, 0 to 1, and what comes next; whatever it throws takes the command back. */
    onStep: (share: number, words: string) => void;
  },
): Promise<void> {
  /** From one share of the whole to another while about `expected` rows are written. */
  const step = (from: number, to: number, expected: number, words: string) => (written: number) =>
    options.onStep(from + (to - from) * Math.min(1, written / Math.max(1, expected)), words);
  const ids = await readIds(tx);
  const rowIds = new RowIds();
  const rows: Entry[] = [
    ...plan.created.map((row) => ({ row, id: rowIds.next(), isNew: true, fields: null })),
    ...plan.changed.map(({ row, changes }) => ({
      row,
      id: ids.animals.get(row.code) ?? rowIds.next(),
      isNew: false,
      fields: new Set<string>(changes.map(({ field }) => field)),
    })),
  ];
  for (const { row, id } of rows) ids.animals.set(row.code, id);

  const clutches = layClutches(rows, ids, rowIds);
  options.onStep(0, 'Writing the clutches');
  await insertRows(tx, programId, 'clutch', { id: 'uuid', code: 'text' }, clutches.made);
  await insertRows(
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
    map(plan.created, (row) => {
      const id = ids.animals.get(row.code) ?? '';
      return {
        id,
        code: row.code,
        name: row.name,
        species: row.species ?? options.species,
        origin: clutches.ofRow.has(id) ? 'HATCHED_HERE' : 'ACQUIRED',
        clutch_id: clutches.ofRow.get(id) ?? null,
        notes: row.notes,
        ...dates('hatched', row.hatched),
      };
    }),
    step(0.03, 0.17, rows.length, 'Writing the animals'),
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
  await insertRows(
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
      ...candidates(clutchId, 'SIRE', row.sires, ids.animals, rowIds),
      ...candidates(clutchId, 'DAM', row.dams, ids.animals, rowIds),
    ]),
    step(0.17, 0.3, 2 * clutches.parents.size, 'Writing the parents'),
  );
  await writeObservations(
    tx,
    programId,
    rows,
    ids,
    rowIds,
    options.trust,
    step(0.3, 0.9, 4 * rows.length, 'Writing what was seen and measured'),
  );
  const stays = rows.filter((entry) => entry.row.pen !== null && brings(entry, 'pen'));
  await tx.$executeRawUnsafe(
    'DELETE FROM stay WHERE program_id = $1::uuid AND animal_id = ANY($2::uuid[]) AND "from" IS NULL AND "to" IS NULL',
    programId,
    stays.filter(({ isNew }) => !isNew).map(({ id }) => id),
  );
  await insertRows(
    tx,
    programId,
    'stay',
    { id: 'uuid', animal_id: 'uuid', pen_id: 'uuid' },
    map(stays, ({ row, id }) => ({
      id: rowIds.next(),
      animal_id: id,
      pen_id: ids.pens.get(row.pen ?? ''),
    })),
    step(0.9, 1, stays.length, 'Writing who is in which pen'),
  );
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

/** Which clutch each animal hatched from, which clutches are new, and the row that tells each one's parents. */
function layClutches(
  rows: readonly Entry[],
  ids: Ids,
  rowIds: RowIds,
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
      clutchId = rowIds.next();
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
  rowIds: RowIds,
): object[] {
  const shares = evenShares(named.map(({ probability }) => probability));
  invariant(shares, 'a file whose shares cannot be is refused before it is written');
  return named.map(({ code }, i) => ({
    id: rowIds.next(),
    clutch_id: clutchId,
    parent,
    animal_id: animals.get(code),
    probability: Math.min(1, shares[i]),
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

function* map<From>(rows: Iterable<From>, make: (row: From) => object): Generator<object> {
  for (const row of rows) yield make(row);
}

function dates(name: string, date: PartialDate | null): object {
  return {
    [name]: date?.text ?? null,
    [`${name}_earliest`]: date && dayText(date.earliest),
    [`${name}_latest`]: date && dayText(date.latest),
  };
}
