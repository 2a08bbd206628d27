import type { UndoInput } from '@scutewright/commands';
import { command } from '../../db/command.js';
import type { Database, Tx } from '../../db/database.js';
import type { ProgramAccess } from '../../db/in-program.js';
import { notFound, UserError } from '../../graphql/errors.js';
import { refuseBrokenDefinitions } from '../../snapshot/refuse-broken-definitions.js';

/**
 * The tables whose changes can be taken back, parents before children: rows come back in
 * this order and go in the opposite one. Membership is not among them: it is changed anew.
 */
export const UNDOABLE_TABLES = [
  'locus',
  'locus_pair',
  'trait',
  'species_setting',
  'pen',
  'clutch',
  'egg_batch',
  'animal',
  'photo',
  'candidate',
  'possible_clutch',
  'lot',
  'lot_change',
  'transfer',
  'stay',
  'observation',
] as const;

interface Blocker {
  sentence: string;
}

/**
 * Takes one act back as a new act, if every row it changed still is as it left it. Else
 * throws CONFLICT naming the later act that stands in the way. Set-based: the number of
 * statements does not grow with the number of rows.
 */
export function undo(database: Database, right: ProgramAccess, input: UndoInput): Promise<object> {
  const { programId } = right;
  const request = { id: input.commandId, kind: 'undo', undoes: input.undoes };
  return command(database, right, request, async (tx) => {
    const target = await tx.command.findUnique({
      where: { programId_id: { programId, id: input.undoes } },
    });
    if (!target) throw notFound('such act', 'input.undoes', 'Look at the history again.');
    await prepareNetChanges(tx, programId, input.undoes);
    const touched = await tx.$queryRaw<{ table_name: string }[]>`
      SELECT DISTINCT table_name FROM net_change`;
    const names = touched.map((row) => row.table_name);
    const tables = UNDOABLE_TABLES.filter((table) => names.includes(table));
    if (tables.length === 0 || tables.length < names.length) {
      throw new UserError('CONFLICT', `'${target.sentence}' cannot be taken back.`, {
        thing: target.sentence,
        place: 'input.undoes',
        remedy: 'Change it back by hand.',
      });
    }
    for (const table of tables) await refuseChanged(tx, table, target);
    try {
      for (const table of tables) {
        await tx.$executeRawUnsafe(
          `INSERT INTO ${table} SELECT (jsonb_populate_record(NULL::${table}, before)).*
           FROM net_change WHERE table_name = '${table}' AND after IS NULL`,
        );
        await restoreUpdated(tx, table);
      }
      for (const table of [...tables].reverse()) {
        await tx.$executeRawUnsafe(
          `DELETE FROM ${table} t USING net_change n
           WHERE n.table_name = '${table}' AND n.before IS NULL
             AND t.program_id = $1::uuid AND t.id = n.row_id::uuid`,
          programId,
        );
      }
    } catch (error) {
      // A row recorded later refers to one that would go, or took a code that would come back.
      if (!/foreign key|unique constraint|P2003|P2002|23503|23505/i.test(String(error)))
        throw error;
      throw blocked(target.sentence, null);
    }
    if (tables.some((table) => ['locus', 'locus_pair', 'trait'].includes(table))) {
      await refuseBrokenDefinitions(tx, programId);
    }
    return { sentence: `Took back: ${target.sentence}`, result: { undone: input.undoes } };
  });
}

/** What the act did to each row in the end: the first `before`, the last `after`. */
async function prepareNetChanges(tx: Tx, programId: string, commandId: string): Promise<void> {
  await tx.$executeRaw`
    CREATE TEMPORARY TABLE net_change ON COMMIT DROP AS
    SELECT DISTINCT ON (table_name, row_id) table_name, row_id, min(id) OVER row AS first_id,
      first_value(before) OVER row AS before, last_value(after) OVER row AS after
    FROM change WHERE program_id = ${programId}::uuid AND command_id = ${commandId}::uuid
    WINDOW row AS (PARTITION BY table_name, row_id ORDER BY id
      ROWS BETWEEN UNBOUNDED PRECEDING AND UNBOUNDED FOLLOWING)`;
  await tx.$executeRaw`DELETE FROM net_change WHERE before IS NOT DISTINCT FROM after`;
}

async function refuseChanged(
  tx: Tx,
  table: string,
  target: { sentence: string; revision: number; programId: string },
): Promise<void> {
  const changed = await tx.$queryRawUnsafe<{ row_id: string }[]>(
    `SELECT n.row_id FROM net_change n
     LEFT JOIN ${table} t ON t.program_id = $1::uuid AND t.id = n.row_id::uuid
     WHERE n.table_name = '${table}' AND to_jsonb(t) IS DISTINCT FROM n.after LIMIT 1`,
    target.programId,
  );
  if (changed.length === 0) return;
  const [later] = await tx.$queryRaw<Blocker[]>`
    SELECT c.sentence FROM change ch
    JOIN command c ON c.program_id = ch.program_id AND c.id = ch.command_id
    WHERE ch.program_id = ${target.programId}::uuid AND ch.row_id = ${changed[0].row_id}
      AND c.revision > ${target.revision}
    ORDER BY c.revision DESC LIMIT 1`;
  throw blocked(target.sentence, later?.sentence ?? null);
}

async function restoreUpdated(tx: Tx, table: string): Promise<void> {
  const columns = await tx.$queryRaw<{ name: string }[]>`
    SELECT quote_ident(attname) AS name FROM pg_attribute
    WHERE attrelid = ${table}::regclass AND attnum > 0 AND NOT attisdropped
      AND attname NOT IN ('program_id', 'id')`;
  const list = columns.map(({ name }) => name).join(', ');
  const values = columns.map(({ name }) => `old.${name}`).join(', ');
  await tx.$executeRawUnsafe(
    `UPDATE ${table} t SET (${list}) = ROW(${values})
     FROM (SELECT (jsonb_populate_record(NULL::${table}, before)).* FROM net_change
           WHERE table_name = '${table}' AND before IS NOT NULL AND after IS NOT NULL) AS old
     WHERE t.program_id = old.program_id AND t.id = old.id`,
  );
}

function blocked(sentence: string, later: string | null): UserError {
  const why = later
    ? `'${later}' came later and stands in the way`
    : 'something recorded later stands on it';
  return new UserError('CONFLICT', `'${sentence}' cannot be taken back: ${why}.`, {
    thing: sentence,
    place: 'input.undoes',
    remedy: later ? `Take back '${later}' first.` : 'Take back what was recorded later first.',
  });
}
