import { readdirSync, readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import type pg from 'pg';
import { addAnimal, asAdmin, newProgram, startService, type TestService } from './service.js';

/** Tables that belong to no program; everything else is walled off by program. */
const OF_NO_PROGRAM = ['_prisma_migrations', 'account', 'invitation', 'job', 'session'];
/** Walled off as well, but of a person alone until a program comes of them: their keys hold no program. */
const OF_PROGRAM_OR_ACCOUNT = ['upload', 'upload_part'];
/** The walls' own bookkeeping: written by the service for each act, not a record of anybody's. */
const WITHOUT_HISTORY = [
  'change',
  'command',
  'contact',
  'kept_reading',
  'photo_file',
  'undecided_entry',
  'upload',
  'upload_part',
];

let service: TestService;
let here: string;
let elsewhere: string;
beforeAll(async () => {
  service = await startService();
  const owner = await service.owner();
  here = await newProgram(owner, 'Here');
  elsewhere = await newProgram(owner, 'Elsewhere');
  for (const programId of [here, elsewhere]) {
    const animalId = await addAnimal(owner, programId, { code: 'A', sex: 'MALE' });
    await addAnimal(owner, programId, { code: 'B', sires: [{ animalId }] });
    await owner.upload(programId, 'code\nC\n');
  }
});
afterAll(() => service.stop());

const look = <Row extends pg.QueryResultRow>(sql: string, values: unknown[] = []) =>
  asAdmin(service.databaseName, async (client) => (await client.query<Row>(sql, values)).rows);

async function programTables(): Promise<string[]> {
  const rows = await look<{ name: string }>(
    "SELECT relname AS name FROM pg_class WHERE relkind = 'r' AND relnamespace = 'public'::regnamespace ORDER BY 1",
  );
  return rows.map(({ name }) => name).filter((name) => !OF_NO_PROGRAM.includes(name));
}

describe('the catalogue', () => {
  it('forces row-level security on every table of a program', async () => {
    const rows = await look<{ name: string; enabled: boolean; forced: boolean; policies: number }>(
      `SELECT relname AS name, relrowsecurity AS enabled, relforcerowsecurity AS forced,
        (SELECT count(*)::int FROM pg_policy WHERE polrelid = c.oid) AS policies
       FROM pg_class c WHERE relkind = 'r' AND relnamespace = 'public'::regnamespace`,
    );
    const tables = await programTables();
    expect(tables.length).toBeGreaterThan(10);
    for (const name of tables) {
      const row = rows.find((each) => each.name === name);
      expect(row).toMatchObject({ name, enabled: true, forced: true });
      expect(row?.policies).toBeGreaterThan(0);
    }
  });

  it('carries the program in every key of a program table', async () => {
    const keys = await look<{
      table: string;
      name: string;
      columns: string[];
      target: string | null;
    }>(
      `SELECT conrelid::regclass::text AS table, conname AS name, nullif(confrelid, 0)::regclass::text AS target,
        (SELECT array_agg(attname::text) FROM pg_attribute WHERE attrelid = conrelid AND attnum = ANY(conkey)) AS columns
       FROM pg_constraint WHERE contype IN ('p', 'f', 'u')
       UNION ALL
       SELECT indrelid::regclass::text, indexrelid::regclass::text, NULL,
        (SELECT array_agg(attname::text) FROM pg_attribute WHERE attrelid = indrelid AND attnum = ANY(indkey))
       FROM pg_index WHERE indisunique AND indrelid::regclass::text NOT LIKE 'pg_%'`,
    );
    const tables = (await programTables()).filter(
      (name) => name !== 'program' && !OF_PROGRAM_OR_ACCOUNT.includes(name),
    );
    const without = keys.filter(
      ({ table, columns, target }) =>
        tables.includes(table) && target !== 'account' && !columns.includes('program_id'),
    );
    expect(without).toEqual([]);
    expect(keys.filter(({ table }) => tables.includes(table)).length).toBeGreaterThan(20);
  });

  it('keeps a history of every table of a program', async () => {
    const triggers = await look<{ table: string; name: string }>(
      "SELECT tgrelid::regclass::text AS table, tgname AS name FROM pg_trigger WHERE tgname LIKE 'history_of_%'",
    );
    for (const table of await programTables()) {
      const names = triggers
        .filter((each) => each.table === table)
        .map(({ name }) => name)
        .sort();
      const expected = WITHOUT_HISTORY.includes(table)
        ? []
        : ['history_of_delete', 'history_of_insert', 'history_of_update'];
      expect({ table, names }).toEqual({ table, names: expected });
    }
  });

  it('lets the app role own nothing and rewrite no history', async () => {
    const [owned] = await look<{ count: number }>(
      "SELECT count(*)::int FROM pg_class WHERE relowner = 'scutewright_app'::regrole",
    );
    expect(owned.count).toBe(0);
    const [rights] = await look<{ update: boolean; remove: boolean }>(
      "SELECT has_table_privilege('scutewright_app', 'change', 'UPDATE') AS update, has_table_privilege('scutewright_app', 'change', 'DELETE') AS remove",
    );
    expect(rights).toEqual({ update: false, remove: false });
    const [accounts] = await look<{ may: boolean }>(
      "SELECT has_table_privilege('scutewright_app', 'account', 'SELECT') AS may",
    );
    expect(accounts.may).toBe(false);
  });

  it('is the one that the Prisma schema describes', async () => {
    const columns = await look<{ table: string; column: string; required: boolean }>(
      `SELECT relname AS table, attname AS column, attnotnull AS required FROM pg_attribute a JOIN pg_class c ON c.oid = attrelid
       WHERE relkind = 'r' AND relnamespace = 'public'::regnamespace AND attnum > 0 AND NOT attisdropped AND relname <> '_prisma_migrations'`,
    );
    const inDatabase = columns
      .map(({ table, column, required }) => `${table}.${column}${required ? '' : '?'}`)
      .sort();
    expect(prismaColumns().sort()).toEqual(inDatabase);
  });
});

/** `table.column` of every model, `?` behind those that may be empty. */
function prismaColumns(): string[] {
  const folder = new URL('../../../prisma/models/', import.meta.url);
  const text = readdirSync(folder)
    .map((name) => readFileSync(new URL(name, folder), 'utf8'))
    .join('\n');
  const models = [...text.matchAll(/^model (\w+) \{\n([\s\S]*?)^\}/gm)];
  const names = models.map(([, name]) => name);
  return models.flatMap(([, , body]) => {
    const table = /@@map\("(\w+)"\)/.exec(body)?.[1];
    return [...body.matchAll(/^ {2}(\w+)\s+(\w+)(\[\])?(\?)?(.*)$/gm)]
      .filter(([, , type]) => !names.includes(type))
      .map(
        ([, field, , , optional, rest]) =>
          `${table}.${/@map\("(\w+)"\)/.exec(rest)?.[1] ?? field}${optional ?? ''}`,
      );
  });
}

/** What is wrong with the walls: tables whose rows of another program can be seen, changed or not seen at home. */
async function gaps(client: pg.Client, tables: readonly string[]): Promise<string[]> {
  const found: string[] = [];
  for (const table of tables) {
    if (table === 'upload_part') continue; // seen through its upload, below
    const key = table === 'program' ? 'id' : 'program_id';
    await client.query('BEGIN');
    await client.query(
      "SELECT set_config('role', 'scutewright_app', true), set_config('app.program_id', $1, true)",
      [here],
    );
    const { rows } = await client.query(
      `SELECT count(*) FILTER (WHERE ${key} = $1)::int AS own, count(*) FILTER (WHERE ${key} <> $1)::int AS others FROM ${table}`,
      [here],
    );
    const filled = await look<{ count: number }>(
      `SELECT count(*)::int FROM ${table} WHERE ${key} = $1`,
      [here],
    );
    if (rows[0].others > 0) found.push(`${table} shows rows of another program`);
    if (rows[0].own < filled[0].count) found.push(`${table} hides its own rows`);
    await client.query('ROLLBACK');
  }
  // Pieces of files are seen where their file is.
  await client.query('BEGIN');
  await client.query(
    "SELECT set_config('role', 'scutewright_app', true), set_config('app.program_id', $1, true)",
    [here],
  );
  const pieces = await client.query<{ program: string | null }>(
    'SELECT u.program_id AS program FROM upload_part p LEFT JOIN upload u ON u.id = p.upload_id',
  );
  if (pieces.rows.some(({ program }) => program !== here))
    found.push('upload_part shows pieces of another program');
  if (pieces.rows.length !== 1) found.push('upload_part does not show the one piece of its own');
  await client.query('ROLLBACK');
  // A person's own memberships are seen from anywhere: the list of programs to choose from.
  await client.query('BEGIN');
  await client.query(
    "SELECT set_config('role', 'scutewright_app', true), set_config('app.account_id', (SELECT account_id::text FROM member LIMIT 1), true)",
  );
  for (const table of ['member', 'program']) {
    const { rows } = await client.query(`SELECT count(*)::int FROM ${table}`);
    if (rows[0].count < 2) found.push(`${table} hides a person's own memberships`);
  }
  await client.query('ROLLBACK');
  return found;
}

describe('the walls between programs', () => {
  it('have no gap', async () => {
    const tables = await programTables();
    expect(await asAdmin(service.databaseName, (client) => gaps(client, tables))).toEqual([]);
  });

  it('are seen to have one when any policy is dropped or opened', async () => {
    const policies = await look<{ name: string; table: string }>(
      'SELECT polname AS name, polrelid::regclass::text AS table FROM pg_policy ORDER BY 2, 1',
    );
    expect(policies.length).toBeGreaterThanOrEqual((await programTables()).length);
    await asAdmin(service.databaseName, async (client) => {
      for (const { name, table } of policies) {
        const [saved] = await look<{ using: string; cmd: string }>(
          "SELECT pg_get_expr(polqual, polrelid) AS using, CASE polcmd WHEN 'r' THEN 'SELECT' ELSE 'ALL' END AS cmd FROM pg_policy WHERE polname = $1 AND polrelid = $2::regclass",
          [name, table],
        );
        await client.query(`DROP POLICY ${name} ON ${table}`);
        const dropped = await gaps(client, [table]);
        await client.query(`CREATE POLICY ${name} ON ${table} FOR ${saved.cmd} USING (true)`);
        const opened = await gaps(client, [table]);
        await client.query(`DROP POLICY ${name} ON ${table}`);
        await client.query(
          `CREATE POLICY ${name} ON ${table} FOR ${saved.cmd} USING (${saved.using})`,
        );
        const filled = await look<{ count: number }>(`SELECT count(*)::int FROM ${table}`);
        // A table without a row yet cannot show its gap by rows; the catalogue test above covers it.
        if (filled[0].count === 0) continue;
        expect({
          policy: `${table}.${name}`,
          dropped: dropped.length > 0,
          opened: opened.length > 0,
        }).toEqual({ policy: `${table}.${name}`, dropped: true, opened: true });
      }
    });
    const tables = await programTables();
    expect(await asAdmin(service.databaseName, (client) => gaps(client, tables))).toEqual([]);
  });

  it('refuse to write into another program', async () => {
    await asAdmin(service.databaseName, async (client) => {
      await client.query('BEGIN');
      await client.query(
        "SELECT set_config('role', 'scutewright_app', true), set_config('app.program_id', $1, true), set_config('app.command_id', gen_random_uuid()::text, true)",
        [here],
      );
      await expect(
        client.query("INSERT INTO pen (program_id, id, name) VALUES ($1, gen_random_uuid(), 'x')", [
          elsewhere,
        ]),
      ).rejects.toMatchObject({ code: '42501' });
      await client.query('ROLLBACK');
    });
  });

  it('refuse a change outside a command', async () => {
    await asAdmin(service.databaseName, async (client) => {
      await client.query('BEGIN');
      await client.query(
        "SELECT set_config('role', 'scutewright_app', true), set_config('app.program_id', $1, true)",
        [here],
      );
      await expect(
        client.query("INSERT INTO pen (program_id, id, name) VALUES ($1, gen_random_uuid(), 'x')", [
          here,
        ]),
      ).rejects.toMatchObject({ code: 'SW001' });
      await client.query('ROLLBACK');
    });
  });
});
