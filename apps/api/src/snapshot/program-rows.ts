import type { Origin, Sex } from '@scutewright/commands';
import type { ClientBase } from 'pg';
import type { ClutchColumns, LocusPairRow } from './snapshot.js';

/*
 * The rows that a snapshot is made of, as a fixed number of statements answers them, however many animals.
 *
 * `readRows` asks all of them. `readRowsAnew` takes the rows of an earlier revision and asks only for what changed since: the
 * history (`change`) names each row that the acts in between wrote. A statement over tables that none of them touched keeps
 * its rows, as the very same array: by that `KeptParts` knows that what was made of them holds. A statement of the two large
 * tables gives one row for each of the table's (`rowByRow`): those named are asked for and put in their place. All others
 * are asked anew. Where the history does not account for every revision in between, or names very many rows, all is read.
 */

/** Days leave the database as whole days since 1970-01-01: nothing is parsed here. */
const day = (column: string) => `${column} - date '1970-01-01'`;
const days = (...columns: string[]) => columns.map(day).join(', ');

interface Statement<Row> {
  readonly tables: readonly string[];
  readonly text: string;
  /** One row for each of the table's that `text` picks, begun with its id and the day it is ordered by. */
  readonly rowByRow?: { readonly order: string };
  /** Only for the compiler. */
  readonly row?: Row;
}

function whole<Row extends unknown[]>(tables: readonly string[], text: string): Statement<Row> {
  return { tables, text };
}

/** What `readRowsAnew` needs to put a row in its place. */
type Placed<Rest extends unknown[]> = [id: string, order: number | null, ...Rest];

function rowByRow<Rest extends unknown[]>(
  table: 'observation' | 'stay',
  order: string,
  columns: string,
  which: string,
): Statement<Placed<Rest>> {
  const text = `SELECT id, ${day(order)}, ${columns} FROM ${table} WHERE ${which}`;
  return { tables: [table], text, rowByRow: { order: `${order} NULLS FIRST, id` } };
}

type Text = string | null;
type Day = number | null;

const SIZES = "'scl', 'plastron', 'curved', 'mass'";
/** Kinds of which nothing is read but that somebody saw the animal. */
const SIGHTINGS = "'seen', 'health', 'incident'";
const OTHERS = `'sex', 'colour-check', 'declaration', ${SIZES}, ${SIGHTINGS}, 'note'`;

const STATEMENTS = {
  animals: whole<[string, string, Text, string, Origin, Text, Day, Day, Text]>(
    ['animal'],
    `SELECT id, code, name, species, origin, hatched, ${days('hatched_earliest', 'hatched_latest')}, clutch_id
     FROM animal ORDER BY code`,
  ),
  clutches: whole<
    [
      id: string,
      code: Text,
      laid: Text,
      paternity: ClutchColumns['paternities'][number],
      rate: number | null,
      laidEarliest: Day,
      laidLatest: Day,
      eggs: number | null,
      broken: number | null,
      notSet: number | null,
      pen: Text,
      species: Text,
    ]
  >(
    ['clutch'],
    `SELECT id, code, laid, paternity, paternity_rate, ${days('laid_earliest', 'laid_latest')},
       eggs, broken, not_set, pen_id, species FROM clutch ORDER BY id`,
  ),
  candidates: whole<
    [clutch: string, 'SIRE' | 'DAM', animal: string, chance: number, basis: string]
  >(
    ['candidate'],
    `SELECT clutch_id, parent, animal_id, probability, basis FROM candidate
     ORDER BY clutch_id, probability DESC, animal_id`,
  ),
  loci: whole<[id: string, code: string, name: string, definition: unknown]>(
    ['locus'],
    'SELECT id, code, name, definition FROM locus ORDER BY code',
  ),
  locusPairs: whole<[string, string, string, LocusPairRow['kind'], string, Text]>(
    ['locus_pair'],
    'SELECT id, first_id, second_id, kind, chance, reason FROM locus_pair ORDER BY id',
  ),
  traits: whole<[id: string, name: string, definition: unknown]>(
    ['trait'],
    'SELECT id, name, definition FROM trait ORDER BY name',
  ),
  pens: whole<[id: string, name: string, areaM2: number | null, boolean, features: unknown]>(
    ['pen'],
    'SELECT id, name, area_m2, is_quarantine, features FROM pen ORDER BY name',
  ),
  speciesSettings: whole<[species: string, overrides: unknown]>(
    ['species_setting'],
    'SELECT species, overrides FROM species_setting',
  ),
  batches: whole<[id: string, clutch: string, label: string, eggs: number, setOn: Text]>(
    ['egg_batch'],
    'SELECT id, clutch_id, label, eggs, set_on FROM egg_batch ORDER BY clutch_id, set_on_earliest NULLS FIRST, label',
  ),
  transfers: whole<[animal: string, way: string, date: Text, earliest: Day, latest: Day]>(
    ['transfer'],
    `SELECT animal_id, way, date, ${days('date_earliest', 'date_latest')} FROM transfer
     WHERE animal_id IS NOT NULL ORDER BY date_latest NULLS FIRST, id`,
  ),
  possibleClutches: whole<[animal: string, clutch: string, probability: number]>(
    ['possible_clutch'],
    'SELECT animal_id, clutch_id, probability FROM possible_clutch ORDER BY probability DESC, id',
  ),
  lots: whole<[id: string, code: string, species: string]>(
    ['lot'],
    'SELECT id, code, species FROM lot ORDER BY code',
  ),
  lotSums: whole<
    [
      lot: string,
      clutch: Text,
      sum: number,
      came: number | null,
      hatched: number | null,
      firstHatched: Day,
      lastHatched: Day,
    ]
  >(
    ['lot_change'],
    `SELECT lot_id, clutch_id, sum(count)::int, sum(count) FILTER (WHERE count > 0)::int,
       sum(count) FILTER (WHERE kind IN ('HATCHED', 'FOUND'))::int,
       min(${day('date_earliest')}) FILTER (WHERE kind = 'HATCHED'),
       max(${day('date_latest')}) FILTER (WHERE kind = 'HATCHED')
     FROM lot_change GROUP BY lot_id, clutch_id ORDER BY lot_id, clutch_id`,
  ),
  promoted: whole<[clutch: string, count: number]>(
    ['lot_change', 'animal'],
    `SELECT a.clutch_id, count(*)::int FROM lot_change c JOIN animal a ON a.program_id = c.program_id AND a.id = c.animal_id
     WHERE c.kind = 'PROMOTED' AND a.clutch_id IS NOT NULL GROUP BY a.clutch_id ORDER BY a.clutch_id`,
  ),
  stays: rowByRow<[animal: string, pen: string, Text, Text, Day, Day, Day]>(
    'stay',
    'from_earliest',
    `animal_id, pen_id, "from", "to", ${days('from_latest', 'to_earliest', 'to_latest')}`,
    'animal_id IS NOT NULL',
  ),
  lotStays: rowByRow<[lot: string, pen: string, Day, Day, Day]>(
    'stay',
    'from_earliest',
    `lot_id, pen_id, ${days('from_latest', 'to_earliest', 'to_latest')}`,
    'lot_id IS NOT NULL',
  ),
  sexes: rowByRow<[animal: string, Sex, date: Text, method: Text, latest: Day]>(
    'observation',
    'date_earliest',
    `animal_id, value->>'sex', date, method, ${day('date_latest')}`,
    "kind = 'sex' AND animal_id IS NOT NULL",
  ),
  looks: rowByRow<
    [kind: string, animal: string, locus: Text, value: unknown, date: Text, latest: Day]
  >(
    'observation',
    'date_earliest',
    `kind, animal_id, locus_id, value, date, ${day('date_latest')}`,
    "kind IN ('colour-check', 'declaration') AND animal_id IS NOT NULL",
  ),
  sizes: rowByRow<
    [kind: string, animal: string, mmOrG: number, date: Text, method: Text, earliest: Day]
  >(
    'observation',
    'date_latest',
    `kind, animal_id, (value->>CASE kind WHEN 'mass' THEN 'g' ELSE 'mm' END)::float8, date, method, ${day('date_earliest')}`,
    `kind IN (${SIZES}) AND animal_id IS NOT NULL`,
  ),
  sightings: rowByRow<[animal: string]>(
    'observation',
    'date_latest',
    'animal_id',
    `kind IN (${SIGHTINGS}) AND animal_id IS NOT NULL`,
  ),
  happenings: rowByRow<
    [
      kind: string,
      animal: Text,
      clutch: Text,
      pen: Text,
      lot: Text,
      locus: Text,
      other: Text,
      value: unknown,
      date: Text,
      method: Text,
    ]
  >(
    'observation',
    'date_latest',
    'kind, animal_id, clutch_id, pen_id, lot_id, locus_id, other_animal_id, value, date, method',
    `kind NOT IN (${OTHERS})`,
  ),
};

type Name = keyof typeof STATEMENTS;
type RowOf<Of> = Of extends Statement<infer Row> ? Row : never;

/** By statement, its rows in its order. Rows are never changed. */
export type ProgramRows = {
  readonly [Key in Name]: readonly RowOf<(typeof STATEMENTS)[Key]>[];
} & {
  readonly program: {
    readonly id: string;
    readonly name: string;
    readonly isDemo: boolean;
    readonly revision: number;
    readonly seasonSettings: unknown;
  };
};

export const ROW_TABLES: ReadonlySet<string> = new Set(
  Object.values(STATEMENTS).flatMap(({ tables }) => tables),
);

/** More rows of a table than this are not asked for one by one. */
const MOST_BY_ID = 1000;

/** All rows of the program. The transaction must not see what others commit meanwhile (`readProgram`). */
export async function readRows(client: ClientBase): Promise<ProgramRows> {
  const rows: Record<string, unknown> = { program: await readProgramRow(client) };
  for (const [name, statement] of Object.entries(STATEMENTS))
    rows[name] = await ask(client, statement);
  return rows as ProgramRows;
}

/** The same answer as `readRows`, for what changed since the rows of an earlier revision. */
export async function readRowsAnew(client: ClientBase, before: ProgramRows): Promise<ProgramRows> {
  const program = await readProgramRow(client);
  const touched = await rowsTouched(client, before.program.revision, program.revision);
  if (!touched) return readRows(client);
  const rows: Record<string, unknown> = { program };
  for (const [name, statement] of Object.entries(STATEMENTS)) {
    const known = before[name as Name];
    if (!statement.tables.some((table) => touched.has(table))) {
      rows[name] = known;
    } else if (statement.rowByRow) {
      const ids = touched.get(statement.tables[0]) ?? [];
      const now = (await ask(client, statement, ids)) as Placed<unknown[]>[];
      rows[name] = withAnew(known as readonly Placed<unknown[]>[], ids, now);
    } else {
      rows[name] = await ask(client, statement);
    }
  }
  return rows as ProgramRows;
}

async function ask(
  client: ClientBase,
  { text, rowByRow: placed }: Statement<unknown>,
  ids?: readonly string[],
): Promise<unknown[][]> {
  const those = ids ? ' AND id = ANY($1::uuid[])' : '';
  const order = placed ? ` ORDER BY ${placed.order}` : '';
  const values = ids ? [ids] : [];
  const query = { text: `${text}${those}${order}`, values, rowMode: 'array' as const };
  return (await client.query(query)).rows;
}

async function readProgramRow(client: ClientBase): Promise<ProgramRows['program']> {
  const { rows } = await client.query<ProgramRows['program']>(
    `SELECT id, name, is_demo AS "isDemo", revision, settings -> 'season' AS "seasonSettings"
     FROM program WHERE id = current_program()`,
  );
  return rows[0];
}

/** By table, the ids of the rows that the acts after one revision wrote, up to another; null where that is not known or too much. */
async function rowsTouched(
  client: ClientBase,
  after: number,
  upTo: number,
): Promise<Map<string, string[]> | null> {
  const { rows } = await client.query({
    text: 'SELECT id FROM command WHERE revision > $1',
    values: [after],
    rowMode: 'array',
  });
  if (rows.length !== upTo - after || rows.length > MOST_BY_ID) return null;
  const changes = await client.query<[table: string, id: string]>({
    text: `SELECT DISTINCT table_name, row_id FROM change WHERE command_id = ANY($1::uuid[]) LIMIT ${MOST_BY_ID + 1}`,
    values: [rows.map(([id]) => id)],
    rowMode: 'array',
  });
  if (changes.rows.length > MOST_BY_ID) return null;
  const touched = new Map<string, string[]>();
  for (const [table, id] of changes.rows) {
    const ids = touched.get(table);
    if (ids) ids.push(id);
    else touched.set(table, [id]);
  }
  return touched;
}

/** The rows without those of these ids, and with what they are now; the same array where nothing comes or goes. */
function withAnew<Row extends Placed<unknown[]>>(
  rows: readonly Row[],
  ids: readonly string[],
  now: readonly Row[],
): readonly Row[] {
  const gone = new Set(ids);
  const kept = rows.filter(([id]) => !gone.has(id));
  if (kept.length === rows.length && now.length === 0) return rows;
  const merged: Row[] = [];
  let next = 0;
  for (const row of kept) {
    while (next < now.length && isBefore(now[next], row)) merged.push(now[next++]);
    merged.push(row);
  }
  return merged.concat(now.slice(next));
}

/** As the database orders them: rows without a day first, then by day, then by the bytes of the id. */
function isBefore([id, on]: Placed<unknown[]>, [otherId, otherOn]: Placed<unknown[]>): boolean {
  const [one, other] = [on ?? Number.NEGATIVE_INFINITY, otherOn ?? Number.NEGATIVE_INFINITY];
  return one === other ? id < otherId : one < other;
}
