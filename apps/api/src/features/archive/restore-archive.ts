import { ArchiveFault, ArchiveRowReader, fileOf } from '@scutewright/commands';
import type { ClientBase } from 'pg';
import type { Database } from '../../db/database.js';
import { accessOfFounder, writeNewProgram } from '../../db/in-program.js';
import type { JobRun } from '../../jobs/job-runner.js';
import { KeptParts } from '../../snapshot/kept-parts.js';
import { readRows } from '../../snapshot/program-rows.js';
import { snapshotOfRows } from '../../snapshot/snapshot-of-rows.js';
import {
  readArchiveTables,
  readSchemaNumber,
  type StoredColumn,
  type StoredTable,
} from './archive-tables.js';
import { fromText } from './column-text.js';
import { type ArchiveBytes, type OpenArchive, openArchive } from './open-archive.js';

/** A statement takes at most so many rows or characters. */
const ROWS_AT_ONCE = 2000;
const CHARACTERS_AT_ONCE = 8_000_000;

type Row = (string | null)[];

export interface Restored {
  readonly name: string;
  readonly rows: number;
}

/**
 * Makes a new program of an archive, all or nothing: all ids are kept (a program's ids need only be
 * unlike within it, so an archive can come back beside the program it was made of), only the
 * program's own id is new, and its history is the archive's. The account becomes its owner.
 * Throws ArchiveFault in words; memory: some thousand rows.
 */
export async function restoreArchive(
  database: Database,
  target: { accountId: string; programId: string },
  bytes: ArchiveBytes,
  run: JobRun,
): Promise<Restored> {
  run.report(0, 'Opening the archive');
  const archive = await openArchive(bytes);
  const { schema, version } = archive.description;
  if (schema > (await readSchemaNumber(database))) {
    throw new ArchiveFault(
      `The archive was written by a newer version of Scutewright (${version}, step ${schema} of its tables) than this one.`,
      'Bring this installation up to date first. Nothing was written.',
    );
  }
  const { rows } = await database.pool.query<{ id: string }>('SELECT id FROM account');
  const accounts = new Set(rows.map(({ id }) => id));
  const access = accessOfFounder(target.accountId, target.programId);
  return writeNewProgram(database, access, async (client) => {
    const tables = await readArchiveTables(client);
    refuseUnknown(archive, tables);
    const into = { client, ...target, accounts };
    let read = 0;
    let total = 0;
    for (const table of tables) {
      const columns = archive.description.tables.get(table.name);
      if (!columns) continue;
      const count = await restoreTable(into, archive, table, columns, (length) => {
        read += length;
        run.report(
          0.02 + (0.9 * read) / Math.max(1, archive.size),
          `Writing ${fileOf(table.name)}`,
        );
        run.stopIfAsked();
      });
      total += count;
      if (table.name !== 'program') continue;
      if (count !== 1)
        throw new ArchiveFault('The archive is damaged: program.csv has not one row.');
      await client.query(
        "INSERT INTO member (program_id, account_id, role) VALUES ($1, $2, 'OWNER')",
        [target.programId, target.accountId],
      );
    }
    run.report(0.93, 'Opening the program');
    await refuseUnreadable(client);
    run.stopIfAsked();
    const { rows: named } = await client.query<{ name: string }>(
      'SELECT name FROM program WHERE id = current_program()',
    );
    return { name: named[0].name, rows: total };
  });
}

/** A table or column that this version does not have, or that it cannot do without. */
function refuseUnknown(archive: OpenArchive, tables: readonly StoredTable[]): void {
  const known = new Map(tables.map((table) => [table.name, table]));
  for (const [name, columns] of archive.description.tables) {
    const table = known.get(name);
    const strange = table
      ? columns.find((column) => !table.columns.some((each) => each.name === column))
      : '';
    if (!table || strange !== undefined) {
      throw new ArchiveFault(
        `The archive holds ${strange ? `a column '${strange}' in ` : ''}${fileOf(name)}, which no version up to this one writes.`,
      );
    }
    // An older archive has fewer columns: what is missing takes its default.
    const missing = table.columns.find(
      (column) => !column.hasDefault && !columns.includes(column.name),
    );
    if (missing) {
      throw new ArchiveFault(
        `The archive is damaged: ${fileOf(name)} has no column '${missing.name}'.`,
      );
    }
  }
  for (const name of ['program', 'command', 'change']) {
    if (!archive.description.tables.has(name)) {
      throw new ArchiveFault(`The archive is damaged: it has no ${fileOf(name)}.`);
    }
  }
}

interface Into {
  readonly client: ClientBase;
  readonly accountId: string;
  readonly programId: string;
  readonly accounts: ReadonlySet<string>;
}

/** Answers the number of rows. */
async function restoreTable(
  into: Into,
  archive: OpenArchive,
  table: StoredTable,
  names: readonly string[],
  onPiece: (length: number) => void,
): Promise<number> {
  const columns = names.map(
    (name) => table.columns.find((column) => column.name === name) as StoredColumn,
  );
  const file = fileOf(table.name);
  const reader = new ArchiveRowReader(file);
  const decoder = new TextDecoder('utf-8', { fatal: true });
  let header: Row | null = null;
  let batch: Row[] = [];
  let characters = 0;
  let count = 0;
  const onRow = (row: Row): void => {
    if (!header) {
      header = row;
      if (row.join() !== names.join()) {
        throw new ArchiveFault(
          `The archive is damaged: the first line of ${file} is not as described.`,
        );
      }
      return;
    }
    if (row.length !== names.length) {
      throw new ArchiveFault(
        `The archive is damaged: row ${count + batch.length + 1} of ${file} has ${row.length} cells, not ${names.length}.`,
      );
    }
    batch.push(row);
    for (const cell of row) characters += cell?.length ?? 0;
  };
  const write = async () => {
    if (batch.length > 0) await insertBatch(into, table, columns, batch, count);
    count += batch.length;
    batch = [];
    characters = 0;
  };
  for await (const piece of archive.table(table.name)) {
    reader.read(decodeText(decoder, file, piece), onRow);
    if (batch.length >= ROWS_AT_ONCE || characters >= CHARACTERS_AT_ONCE) await write();
    onPiece(piece.length);
  }
  reader.read(decodeText(decoder, file), onRow);
  reader.end(onRow);
  await write();
  if (!header) throw new ArchiveFault(`The archive is damaged: ${file} is empty.`);
  return count;
}

function decodeText(
  decoder: InstanceType<typeof TextDecoder>,
  file: string,
  piece?: Uint8Array,
): string {
  try {
    return piece ? decoder.decode(piece, { stream: true }) : decoder.decode();
  } catch {
    throw new ArchiveFault(`The archive is damaged: ${file} is not UTF-8 text.`);
  }
}

async function insertBatch(
  into: Into,
  table: StoredTable,
  columns: readonly StoredColumn[],
  rows: readonly Row[],
  before: number,
): Promise<void> {
  const own = table.name === 'program' ? 'id' : 'program_id';
  const names = columns.map(({ name }) => `"${name}"`).join(', ');
  const arrays = columns.map((column, i) =>
    rows.map((row) => (column.refersToAccount ? knownAccount(into, column, row[i]) : row[i])),
  );
  try {
    // In the order of the file, so that a column that numbers itself numbers them so.
    await into.client.query(
      `INSERT INTO "${table.name}" (${own}, ${names})
       SELECT $1::uuid, ${columns.map((column) => fromText(table.name, column)).join(', ')}
       FROM unnest(${columns.map((_, i) => `$${i + 2}::text[]`).join(', ')}) WITH ORDINALITY AS v(${names}, "row number")
       ORDER BY v."row number"`,
      [into.programId, ...arrays],
    );
  } catch (error) {
    // Class 22: a value is not of its type; class 23: it goes against a rule of the table.
    const code = error instanceof Error && 'code' in error ? String(error.code) : '';
    if (!/^2[23]/.test(code)) throw error;
    throw new ArchiveFault(
      `The archive is damaged: in ${fileOf(table.name)}, rows ${before + 1} to ${before + rows.length}, a value cannot be as it stands (${(error as Error).message}).`,
    );
  }
}

/** Accounts stay behind when a program moves: one that is not here is left out. */
function knownAccount(into: Into, column: StoredColumn, id: string | null): string | null {
  if (id !== null && into.accounts.has(id)) return id;
  return column.isRequired ? into.accountId : null;
}

/** What the tables allow may still be nonsense to the service: it is opened once before it counts. */
async function refuseUnreadable(client: ClientBase): Promise<void> {
  try {
    snapshotOfRows(await readRows(client), new KeptParts());
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? String(error.code) : '';
    if (code !== '' && !/^2[23]/.test(code)) throw error;
    throw new ArchiveFault(
      `The archive is damaged: its records cannot be read together (${error instanceof Error ? error.message : error}).`,
    );
  }
}
