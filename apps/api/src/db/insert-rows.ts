import type { Tx } from './database.js';

/**
 * A statement takes at most so many rows: between two of them progress is told and a stop is heard. Prisma keeps the
 * texts of about the last hundred statements, so larger ones would stay in memory for long.
 */
const ROWS_AT_ONCE = 2_000;

/**
 * Inserts rows set-based: a column is one array, and the server zips them. Rows may be made while
 * they are asked for: only one statement's worth is held. `columns` are types by name; a value is
 * text, a number, a truth value or null. `onChunk` hears how many are written.
 */
export async function insertRows(
  tx: Tx,
  programId: string,
  table: string,
  columns: Readonly<Record<string, string>>,
  rows: Iterable<object>,
  onChunk: (written: number) => void = () => {},
): Promise<void> {
  const names = Object.keys(columns);
  const isText = names.map((name) => columns[name] === 'text' || columns[name] === 'jsonb');
  const arrays = names.map((name, i) => `$${i + 2}::${columns[name]}[]`).join(', ');
  const statement = `INSERT INTO ${table} (program_id, ${names.join(', ')})
    SELECT $1::uuid, v.* FROM unnest(${arrays}) AS v`;
  let written = 0;
  for (const chunk of chunks(rows)) {
    // A column goes as one text: handing thousands of values over one by one took most of the time here.
    const texts = names.map(
      (name, i) =>
        `{${chunk.map((row) => element((row as Record<string, unknown>)[name], isText[i])).join()}}`,
    );
    await tx.$executeRawUnsafe(statement, programId, ...texts);
    written += chunk.length;
    onChunk(written);
  }
}

/** A value as an element of an array's text (PostgreSQL manual, 8.15.6). Ids, numbers, days and words need no quotes. */
function element(value: unknown, isText: boolean): string {
  if (value === null || value === undefined) return 'NULL';
  const text = String(value);
  if (!isText) return text;
  return `"${/[\\"]/.test(text) ? text.replace(/[\\"]/g, '\\$&') : text}"`;
}

function* chunks(rows: Iterable<object>): Generator<object[]> {
  let chunk: object[] = [];
  for (const row of rows) {
    chunk.push(row);
    if (chunk.length < ROWS_AT_ONCE) continue;
    yield chunk;
    chunk = [];
  }
  if (chunk.length > 0) yield chunk;
}
