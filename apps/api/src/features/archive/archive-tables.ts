import type { ArchiveColumn, ArchiveDatatype, ArchiveTable } from '@scutewright/commands';
import type { ClientBase } from 'pg';
import type { Database } from '../../db/database.js';

/** One column with what the database needs to write and read it as text. */
export interface StoredColumn extends ArchiveColumn {
  /** PostgreSQL's own name of the type. */
  readonly type: string;
  readonly hasDefault: boolean;
  readonly refersToAccount: boolean;
}

export interface StoredTable extends ArchiveTable {
  readonly columns: readonly StoredColumn[];
  /** A column that numbers itself is not in the archive: the order of its rows is. */
  readonly orderColumn: string | null;
}

/**
 * Tables that have to do with the installation and not with the program: who may see it, and
 * files that only pass through. Whatever else has a program's walls around it goes along, so a
 * table that a later version adds comes along by itself.
 */
export const NOT_ARCHIVED: readonly string[] = ['member', 'upload', 'upload_part'];

/** The tables of a program, those referred to before those that refer to them; `command` and `change` last. */
export async function readArchiveTables(client: ClientBase): Promise<StoredTable[]> {
  const { rows: columns } = await client.query<{
    table: string;
    name: string;
    type: string;
    base: string;
    is_required: boolean;
    default: string | null;
    words: string[] | null;
    refers_to_account: boolean;
  }>(
    `SELECT c.relname AS table, a.attname AS name, format_type(a.atttypid, a.atttypmod) AS type,
      t.typname AS base, a.attnotnull AS is_required, pg_get_expr(d.adbin, d.adrelid) AS default,
      (SELECT array_agg(e.enumlabel::text ORDER BY e.enumsortorder) FROM pg_enum e WHERE e.enumtypid = t.oid) AS words,
      EXISTS (SELECT FROM pg_constraint k WHERE k.conrelid = c.oid AND k.contype = 'f'
        AND k.confrelid = 'account'::regclass AND a.attnum = ANY (k.conkey)) AS refers_to_account
     FROM pg_class c JOIN pg_attribute a ON a.attrelid = c.oid JOIN pg_type t ON t.oid = a.atttypid
     LEFT JOIN pg_attrdef d ON d.adrelid = c.oid AND d.adnum = a.attnum
     WHERE c.relkind = 'r' AND c.relnamespace = 'public'::regnamespace AND c.relforcerowsecurity
       AND a.attnum > 0 AND NOT a.attisdropped AND c.relname <> ALL ($1)
     ORDER BY c.relname, a.attnum`,
    [NOT_ARCHIVED],
  );
  const { rows: keys } = await client.query<{
    table: string;
    kind: string;
    columns: string[];
    target: string | null;
    targets: string[] | null;
  }>(
    `SELECT conrelid::regclass::text AS table, contype::text AS kind, nullif(confrelid, 0)::regclass::text AS target,
      (SELECT array_agg(attname::text ORDER BY i) FROM unnest(conkey) WITH ORDINALITY AS k(n, i)
        JOIN pg_attribute ON attrelid = conrelid AND attnum = n) AS columns,
      (SELECT array_agg(attname::text ORDER BY i) FROM unnest(confkey) WITH ORDINALITY AS k(n, i)
        JOIN pg_attribute ON attrelid = confrelid AND attnum = n) AS targets
     FROM pg_constraint WHERE contype IN ('p', 'f') AND connamespace = 'public'::regnamespace
     ORDER BY conrelid::regclass::text, conname`,
  );
  const names = [...new Set(columns.map(({ table }) => table))];
  const tables = names.map((name): StoredTable => {
    // The program's own id is given anew by whoever restores it, and stands for the whole archive.
    const own = name === 'program' ? 'id' : 'program_id';
    const numbered = columns.find((column) => column.table === name && isNumbered(column.default));
    const without = (list: readonly string[]) => list.filter((column) => column !== own);
    return {
      name,
      orderColumn: numbered?.name ?? null,
      columns: columns
        .filter((column) => column.table === name && column.name !== own && column !== numbered)
        .map((column) => ({
          name: column.name,
          type: column.type,
          datatype: datatypeOf(column.base),
          words: column.words,
          // A text that must be there may still be empty, which the standard cannot tell from missing.
          isRequired: column.is_required && (column.base !== 'text' || column.name === 'code'),
          hasDefault: column.default !== null || !column.is_required,
          refersToAccount: column.refers_to_account,
        })),
      key: numbered
        ? []
        : without(keys.find(({ table, kind }) => table === name && kind === 'p')?.columns ?? []),
      references: keys
        .filter(({ table, kind, target }) => table === name && kind === 'f' && target !== 'program')
        .filter(({ target }) => names.includes(target ?? ''))
        .map(({ columns: from, target, targets }) => ({
          columns: without(from),
          table: target ?? '',
          targets: (targets ?? []).filter((column) => column !== 'program_id'),
        })),
    };
  });
  return inOrder(tables);
}

/** The last step of the tables that this database has. */
export async function readSchemaNumber(database: Database): Promise<number> {
  const { rows } = await database.pool.query<{ step: number }>(
    "SELECT max(substring(migration_name FROM '^[0-9]+')::int) AS step FROM _prisma_migrations WHERE finished_at IS NOT NULL",
  );
  return rows[0].step;
}

function isNumbered(expression: string | null): boolean {
  return expression?.startsWith('nextval(') ?? false;
}

const DATATYPES: Readonly<Record<string, ArchiveDatatype>> = {
  int2: 'integer',
  int4: 'integer',
  int8: 'integer',
  float4: 'double',
  float8: 'double',
  bool: 'boolean',
  date: 'date',
  timestamptz: 'dateTime',
  json: 'json',
  jsonb: 'json',
  bytea: 'base64Binary',
};

function datatypeOf(base: string): ArchiveDatatype {
  return DATATYPES[base] ?? 'string';
}

/** Rows that others refer to come first; the history comes last, since it shuts the door behind a restore. */
function inOrder(tables: readonly StoredTable[]): StoredTable[] {
  const last = ['command', 'change'];
  const left = new Map(tables.map((table) => [table.name, table]));
  const done: StoredTable[] = [];
  const take = (name: string, above: readonly string[]): void => {
    const table = left.get(name);
    if (!table) return;
    if (above.includes(name)) {
      throw new Error(`Tables that refer to each other cannot be restored: ${above.join(' -> ')}`);
    }
    for (const { table: target } of table.references) take(target, [...above, name]);
    left.delete(name);
    done.push(table);
  };
  take('program', []);
  for (const { name } of tables) if (!last.includes(name)) take(name, []);
  for (const name of last) take(name, []);
  return done;
}
