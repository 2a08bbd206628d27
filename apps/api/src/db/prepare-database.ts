import pg from 'pg';
import { installDispatch } from '../jobs/dispatch.js';
import { MigrationRefused, migrate } from './migrations.js';

/** What a person must mend before the service can start; one sentence. */
export class DatabaseRefused extends Error {}

/** Checks that the server can be used as it is, and brings the tables to this version. Answers the steps taken. */
export async function prepareDatabase(url: string): Promise<string[]> {
  const client = new pg.Client({ connectionString: url, connectionTimeoutMillis: 10_000 });
  try {
    await client.connect();
  } catch (error) {
    throw new DatabaseRefused(
      `The database server of DATABASE_URL (${whereOf(url)}) does not answer: ${messageOf(error)}. Check the address and the password, and that the server runs.`,
    );
  }
  try {
    const { rows } = await client.query<{ name: string; super: boolean; bypass: boolean }>(
      'SELECT rolname AS name, rolsuper AS super, rolbypassrls AS bypass FROM pg_roles WHERE rolname = current_user',
    );
    if (rows[0].super || rows[0].bypass) {
      throw new DatabaseRefused(
        `The user '${rows[0].name}' of DATABASE_URL is a superuser (or may bypass row-level security), which would switch off the walls between programs. Make a plain user that owns the database (CREATE ROLE scutewright LOGIN CREATEROLE PASSWORD '...'; ALTER DATABASE ... OWNER TO scutewright) and use that.`,
      );
    }
    const steps = await migrate(client);
    await installDispatch(url);
    return steps;
  } catch (error) {
    if (error instanceof DatabaseRefused || error instanceof MigrationRefused) throw error;
    if (codeOf(error) === '53100') {
      throw new DatabaseRefused(
        'There is no space left on the disk of the database server. Free some and start again; nothing that was saved is lost.',
      );
    }
    if (codeOf(error) === '42501') {
      throw new DatabaseRefused(
        `The user of DATABASE_URL lacks a right that the tables need (${messageOf(error)}). Let it own the database and create roles: ALTER ROLE ... CREATEROLE.`,
      );
    }
    throw error;
  } finally {
    await client.end();
  }
}

function whereOf(url: string): string {
  try {
    const { hostname, port, pathname } = new URL(url);
    return `${hostname}:${port || 5432}${pathname}`;
  } catch {
    return 'not a postgresql:// address';
  }
}

function messageOf(error: unknown): string {
  // A refused connection to several addresses comes as one error without a message.
  if (error instanceof AggregateError) return error.errors.map(messageOf).join(', ');
  return error instanceof Error ? error.message : String(error);
}

function codeOf(error: unknown): unknown {
  return typeof error === 'object' && error !== null && 'code' in error ? error.code : undefined;
}
