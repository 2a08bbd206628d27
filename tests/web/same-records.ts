import { createHash } from 'node:crypto';
import { asAdmin } from '#tests/api/service.js';

type Row = Record<string, unknown>;

/** Tables whose rows are the acts themselves, or the files and work that brought the program in; not what it holds. */
const ACTS = ['change', 'command', 'job', 'upload', 'kept_reading'];
const UUID = /[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}/g;
/** References are followed so many steps: a stay names an animal, which names a clutch, which names its candidates' animals. */
const ROUNDS = 6;

/**
 * All rows of a program, table by table, in a form that two programs share if they hold the same: ids are replaced by what
 * the row of that id says, times of entry are left out. The tables are those of the catalogue that belong to a program.
 */
export async function recordsOf(
  database: string,
  programId: string,
): Promise<Record<string, string[]>> {
  const tables = await asAdmin(database, async (client) => {
    const { rows } = await client.query<{ name: string; times: string[] }>(
      `SELECT t.table_name AS name, coalesce(array_agg(c.column_name::text) FILTER (WHERE c.data_type LIKE 'timestamp%'), '{}') AS times
       FROM information_schema.tables t JOIN information_schema.columns c USING (table_schema, table_name)
       WHERE t.table_schema = 'public' AND t.table_type = 'BASE TABLE'
       GROUP BY t.table_name HAVING bool_or(c.column_name = 'program_id') ORDER BY 1`,
    );
    const found = new Map<string, Row[]>();
    for (const { name, times } of rows) {
      if (ACTS.includes(name)) continue;
      const { rows: held } = await client.query<{ row: Row }>(
        `SELECT to_jsonb(t) - 'program_id' - $2::text[] AS row FROM ${name} t WHERE program_id = $1`,
        [programId, times],
      );
      found.set(
        name,
        held.map(({ row }) => row),
      );
    }
    return found;
  });
  let labels = new Map<string, string>();
  for (const [table, rows] of tables)
    for (const { id } of rows) if (typeof id === 'string') labels.set(id, table);
  for (let round = 0; round < ROUNDS; round++) {
    const next = new Map<string, string>();
    for (const [table, rows] of tables) {
      for (const row of rows) {
        if (typeof row.id !== 'string') continue;
        const hash = createHash('sha256').update(told(row, labels)).digest('hex');
        next.set(row.id, `${table} ${hash.slice(0, 8)}`);
      }
    }
    labels = next;
  }
  return Object.fromEntries(
    [...tables].map(([table, rows]) => [table, rows.map((row) => told(row, labels)).sort()]),
  );
}

function told({ id, ...row }: Row, labels: ReadonlyMap<string, string>): string {
  return JSON.stringify(row).replace(UUID, (found) =>
    found === id ? 'itself' : (labels.get(found) ?? found),
  );
}
