import type { StoredColumn } from './archive-tables.js';

// How each column is written as text and read back, in SQL. What an archive says of a program
// never holds the program's own id: it is put in where it is restored.

/** The column as text, exact: what `fromText` makes of it is the same value. */
export function toText(table: string, column: StoredColumn): string {
  const name = `"${column.name}"`;
  if (table === 'change') {
    if (column.name === 'row_id')
      return `CASE table_name WHEN 'program' THEN 'program' ELSE row_id END`;
    if (column.name === 'before' || column.name === 'after') {
      return `(CASE table_name WHEN 'program' THEN ${name} - 'id' ELSE ${name} - 'program_id' END)::text`;
    }
  }
  // A person who has no account here, or none any more, is known by the name of the archive.
  if (table === 'command' && column.name === 'by_name') {
    return `coalesce(by_name, (SELECT n.name FROM jsonb_to_recordset($1::jsonb) AS n(id uuid, name text) WHERE n.id = account_id))`;
  }
  switch (column.datatype) {
    case 'dateTime':
      return `to_char(${name} AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.${column.type.includes('(3)') ? 'MS' : 'US'}"Z"')`;
    case 'base64Binary':
      return `translate(encode(${name}, 'base64'), E'\\n', '')`;
    default:
      return `${name}::text`;
  }
}

/** The value of the column from the text `v.name`; $1 is the program it comes into. */
export function fromText(table: string, column: StoredColumn): string {
  const value = `v."${column.name}"`;
  if (table === 'change') {
    if (column.name === 'row_id') {
      return `CASE v.table_name WHEN 'program' THEN $1::text ELSE ${value} END`;
    }
    if (column.name === 'before' || column.name === 'after') {
      return `${value}::jsonb || CASE v.table_name WHEN 'program' THEN jsonb_build_object('id', $1::uuid) ELSE jsonb_build_object('program_id', $1::uuid) END`;
    }
  }
  if (column.datatype === 'base64Binary') return `decode(${value}, 'base64')`;
  return `${value}::${column.type}`;
}
