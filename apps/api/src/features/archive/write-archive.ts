import { createWriteStream } from 'node:fs';
import { Writable } from 'node:stream';
import {
  type ArchiveAbout,
  DESCRIPTION_FILE,
  fileOf,
  writeArchiveRow,
  writeDescription,
} from '@scutewright/commands';
import { configure, ZipWriter } from '@zip.js/zip.js';
import type { ClientBase } from 'pg';
import type { Database } from '../../db/database.js';
import { type ProgramAccess, readProgram } from '../../db/in-program.js';
import { VERSION } from '../../version.js';
import { readArchiveTables, readSchemaNumber, type StoredTable } from './archive-tables.js';
import { toText } from './column-text.js';

// The streams of Node compress on its own threads.
configure({ useWebWorkers: false });

/** Rows held at once; fewer where a row may hold a whole photograph. */
const ROWS_AT_ONCE = 1000;
const FILES_AT_ONCE = 4;

/**
 * Writes all records of a program into a zip file: a CSV file for each table and their
 * description. Everything is of one revision. Memory: some thousand rows, however many there are.
 * The same program gives the same bytes.
 */
export async function writeArchive(
  database: Database,
  right: ProgramAccess,
  file: string,
): Promise<void> {
  // Of the installation, so asked outside the program's door.
  const { rows: accounts } = await database.pool.query('SELECT id, name FROM account');
  const schema = await readSchemaNumber(database);
  await readProgram(database, right, async (client) => {
    const tables = await readArchiveTables(client);
    const zip = new ZipWriter(Writable.toWeb(createWriteStream(file)), {
      // Always the same, so that the same records give the same file.
      lastModDate: new Date(2000, 0, 1),
      extendedTimestamp: false,
      zip64: false,
    });
    const about = await readAbout(client, schema);
    await zip.add(DESCRIPTION_FILE, ReadableStream.from([encode(writeDescription(about, tables))]));
    const names = JSON.stringify(accounts);
    for (const table of tables) {
      await zip.add(fileOf(table.name), ReadableStream.from(csvOf(client, table, names)));
    }
    await zip.close();
  });
}

async function* csvOf(
  client: ClientBase,
  table: StoredTable,
  accounts: string,
): AsyncGenerator<Uint8Array> {
  const columns = table.columns.map((column) => toText(table.name, column));
  const order = table.orderColumn ? [table.orderColumn] : table.key;
  const isNamed = columns.some((sql) => sql.includes('$1'));
  await client.query(
    `DECLARE archived NO SCROLL CURSOR FOR SELECT ${columns.join(', ')} FROM "${table.name}"
     WHERE ${table.name === 'program' ? 'id' : 'program_id'} = current_program()
     ${order.length > 0 ? `ORDER BY ${order.map((name) => `"${name}"`).join(', ')}` : ''}`,
    isNamed ? [accounts] : [],
  );
  yield encode(writeArchiveRow(table.columns.map(({ name }) => name)));
  const holdsFiles = table.columns.some(({ datatype }) => datatype === 'base64Binary');
  for (;;) {
    const { rows } = await client.query<(string | null)[]>({
      text: `FETCH ${holdsFiles ? FILES_AT_ONCE : ROWS_AT_ONCE} FROM archived`,
      rowMode: 'array',
    });
    if (rows.length === 0) break;
    yield encode(rows.map(writeArchiveRow).join(''));
  }
  await client.query('CLOSE archived');
}

async function readAbout(client: ClientBase, schema: number): Promise<ArchiveAbout> {
  const { rows } = await client.query<{ name: string; modified: string }>(
    `SELECT name, to_char(coalesce((SELECT max(at) FROM command), created_at) AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS"Z"') AS modified
     FROM program WHERE id = current_program()`,
  );
  return { title: rows[0].name, modified: rows[0].modified, version: VERSION, schema };
}

const encoder = new TextEncoder();

function encode(text: string): Uint8Array {
  return encoder.encode(text);
}
