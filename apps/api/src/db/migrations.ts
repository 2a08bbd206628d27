import { createHash, randomUUID } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { ClientBase } from 'pg';

/** A migration file of this version of the software. */
interface Migration {
  readonly name: string;
  readonly sql: string;
  readonly checksum: string;
}

const folder = fileURLToPath(new URL('../../../../prisma/migrations/', import.meta.url));

/** Thrown where the database and this version of the software do not go together; one sentence. */
export class MigrationRefused extends Error {}

function readMigrations(): Migration[] {
  return readdirSync(folder, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map((entry) => entry.name)
    .sort()
    .map((name) => {
      const sql = readFileSync(`${folder}${name}/migration.sql`, 'utf8');
      return { name, sql, checksum: createHash('sha256').update(sql).digest('hex') };
    });
}

// Prisma's own bookkeeping, column by column, so that its tools could take over.
const BOOKKEEPING = `
  CREATE TABLE IF NOT EXISTS _prisma_migrations (
    id varchar(36) PRIMARY KEY,
    checksum varchar(64) NOT NULL,
    finished_at timestamptz,
    migration_name varchar(255) NOT NULL,
    logs text,
    rolled_back_at timestamptz,
    started_at timestamptz NOT NULL DEFAULT now(),
    applied_steps_count integer NOT NULL DEFAULT 0
  )`;

/**
 * Brings the database to this version, each step in a transaction of its own: a kill in
 * the middle leaves it at the step before. Answers the names of the steps taken.
 * Throws MigrationRefused on a step that was edited after it ran, and on steps of a newer version.
 */
export async function migrate(client: ClientBase): Promise<string[]> {
  await client.query('SELECT pg_advisory_lock(726511)');
  try {
    await client.query(BOOKKEEPING);
    const pending = await pendingMigrations(client);
    for (const migration of pending) {
      await client.query('BEGIN');
      try {
        await client.query(migration.sql);
        await client.query(
          `INSERT INTO _prisma_migrations (id, checksum, finished_at, migration_name, applied_steps_count)
           VALUES ($1, $2, now(), $3, 1)`,
          [randomUUID(), migration.checksum, migration.name],
        );
        await client.query('COMMIT');
      } catch (error) {
        await client.query('ROLLBACK');
        throw error;
      }
    }
    return pending.map((migration) => migration.name);
  } finally {
    await client.query('SELECT pg_advisory_unlock(726511)');
  }
}

/** The steps this database still lacks. Throws MigrationRefused as `migrate` does. */
export async function pendingMigrations(client: ClientBase): Promise<Migration[]> {
  const known = readMigrations();
  const { rows: applied } = await client.query<{ migration_name: string; checksum: string }>(
    'SELECT migration_name, checksum FROM _prisma_migrations WHERE finished_at IS NOT NULL ORDER BY migration_name',
  );
  const byName = new Map(known.map((migration) => [migration.name, migration]));
  for (const { migration_name: name, checksum } of applied) {
    const migration = byName.get(name);
    if (!migration) {
      throw new MigrationRefused(
        `The data was last used by a newer version of Scutewright (it has the step ${name}, which this version does not know). Nothing was touched: start that newer version again.`,
      );
    }
    if (migration.checksum !== checksum) {
      throw new MigrationRefused(
        `The file prisma/migrations/${name}/migration.sql was changed after it had been applied to this data. Nothing was touched: put the original file back and write the change as a new step.`,
      );
    }
  }
  const done = new Set(applied.map((row) => row.migration_name));
  return known.filter((migration) => !done.has(migration.name));
}
