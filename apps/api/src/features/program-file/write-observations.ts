import { absentTraits } from '@scutewright/commands';
import type { Tx } from '../../db/database.js';
import { insertRows } from '../../db/insert-rows.js';
import type { RowIds } from '../../db/row-ids.js';
import { brings, type Entry, type Ids } from './import-entry.js';

interface Made {
  readonly kind: string;
  readonly animal_id: string;
  readonly locus_id?: string;
  readonly value: string;
}

/** What a row says was seen, measured or declared, where it brings it. */
function* observationsOf(entry: Entry, ids: Ids, trust: number): Generator<Made> {
  const { row, id } = entry;
  const made = (kind: string, value: object, locus?: string): Made => ({
    kind,
    animal_id: id,
    locus_id: locus,
    value: JSON.stringify(value),
  });
  if (row.sex && brings(entry, 'sex')) {
    yield made('sex', { sex: row.sex === 'm' ? 'MALE' : 'FEMALE' });
  }
  if (row.traits && brings(entry, 'traits')) {
    const idsOf = (names: readonly string[]) => names.map((name) => ids.traits.get(name));
    // 'none' speaks of the traits there are now, not of one that is defined later.
    const absent = idsOf(absentTraits(row, ids.traits.keys()));
    yield made('colour-check', { seen: idsOf(row.traits), absent });
  }
  if (row.sclMm !== null && brings(entry, 'scl_mm')) yield made('scl', { mm: row.sclMm });
  if (row.massG !== null && brings(entry, 'mass_g')) yield made('mass', { g: row.massG });
  if (!brings(entry, 'genotype')) return;
  for (const { locus, alleles } of row.genotype) {
    yield made('declaration', { alleles, trust }, ids.loci.get(locus));
  }
}

/** The observations of the rows, in place of those that an earlier file gave. `onChunk` hears how many are written. */
export async function writeObservations(
  tx: Tx,
  programId: string,
  rows: readonly Entry[],
  ids: Ids,
  rowIds: RowIds,
  trust: number,
  onChunk: (written: number) => void,
): Promise<void> {
  // What an earlier file said of the same thing is replaced; what was observed otherwise stays.
  const again = rows
    .filter(({ isNew }) => !isNew)
    .flatMap((entry) => [...observationsOf(entry, ids, trust)]);
  await tx.$executeRawUnsafe(
    `DELETE FROM observation o USING jsonb_to_recordset($2::jsonb) AS v(kind text, animal_id uuid, locus_id uuid)
     WHERE o.program_id = $1::uuid AND o.animal_id = v.animal_id AND o.kind = v.kind
       AND o.locus_id IS NOT DISTINCT FROM v.locus_id AND o.method = 'program file'`,
    programId,
    JSON.stringify(again),
  );
  function* all(): Generator<object> {
    for (const entry of rows) {
      for (const made of observationsOf(entry, ids, trust)) {
        yield { id: rowIds.next(), method: 'program file', ...made };
      }
    }
  }
  await insertRows(
    tx,
    programId,
    'observation',
    {
      id: 'uuid',
      kind: 'text',
      animal_id: 'uuid',
      locus_id: 'uuid',
      value: 'jsonb',
      method: 'text',
    },
    all(),
    onChunk,
  );
}
