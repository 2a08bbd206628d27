import { createHash, randomUUID } from 'node:crypto';
import type { ColumnMap } from '@scutewright/commands';
import type { ClientBase } from 'pg';
import type { KeptReading } from '../../compute/program-file-task.js';
import type { Tx } from '../../db/database.js';

/** Files of different headings whose reading is remembered. */
const KEPT = 20;

/** How files came in before, newest first. */
export async function readKeptReadings(client: ClientBase): Promise<KeptReading[]> {
  const { rows } = await client.query<{ map: ColumnMap; at: Date }>(
    'SELECT map, at FROM kept_reading ORDER BY at DESC LIMIT $1',
    [KEPT],
  );
  return rows.map(({ map, at }) => ({ map, at: at.toISOString() }));
}

/** Remembers how a file with these headings was read, in place of what was remembered of them. */
export async function keepReading(tx: Tx, programId: string, map: ColumnMap): Promise<void> {
  const names = map.columns.map(({ heading }) => heading).sort();
  const headings = createHash('sha256').update(JSON.stringify(names)).digest('hex');
  const data = { map: map as object, at: new Date() };
  await tx.keptReading.upsert({
    where: { programId_headings: { programId, headings } },
    create: { programId, id: randomUUID(), headings, ...data },
    update: data,
  });
}
