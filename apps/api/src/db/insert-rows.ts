import type { Tx } from './database.js';

/** A statement takes at most so many rows: between two of them progress is told and a stop is heard. */
const ROWS_AT_ONCE = 10_000;

/**
 * Inserts rows set-based: a column is one array, and the server zips them. Rows may be made while
 * they are asked for: only one statement's worth is held. `onChunk` hears how many are written.
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
  const zipped = names.map((_, i) => `$${i + 2}::text[]`).join(', ');
  const typed = names.map((name) => `v.${name}::${columns[name]}`).join(', ');
  let written = 0;
  for (const chunk of chunks(rows)) {
    await tx.$executeRawUnsafe(
      `INSERT INTO ${table} (program_id, ${names.join(', ')})
       SELECT $1::uuid, ${typed} FROM unnest(${zipped}) AS v(${names.join(', ')})`,
      programId,
      ...names.map((name) =>
        chunk.map((row) => {
          const value = (row as Record<string, unknown>)[name] ?? null;
          return value === null ? null : String(value);
        }),
      ),
    );
    written += chunk.length;
    onChunk(written);
  }
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
