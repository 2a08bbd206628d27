import type { Tx } from '../../db/database.js';
import type { RecordAct, RecordLine } from './records.types.js';

type Values = Record<string, unknown>;
interface Words {
  readonly trait: (id: string) => string;
  readonly locus: string;
  readonly other: string;
  readonly pen: string;
}

/** How each kind of observation is said. */
const SAID: Record<string, (value: Values, words: Words) => string> = {
  sex: ({ sex, confidence }) =>
    `${low(sex)}${confidence && confidence !== 'SURE' ? ` (${low(confidence)})` : ''}`,
  'colour-check': ({ seen, absent, parts }, { trait }) => {
    const [shown, missing] = [seen, absent].map((ids) => list(ids).map((id) => trait(String(id))));
    const looked = missing.length > 0 ? `no ${missing.join(', no ')}` : 'looked, saw no trait';
    return `Colour: ${[...shown, ...(shown.length > 0 && missing.length === 0 ? [] : [looked])].join(', ')}${parts ? ` (${parts})` : ''}`;
  },
  'colour-count': ({ looked, counts }, { trait }) =>
    `Colour: ${looked} looked at${(counts as { traitId: string; count: number }[]).map(({ traitId, count }) => `, ${count} ${trait(traitId)}`).join('')}`,
  scl: ({ mm }) => `Shell length ${mm} mm`,
  plastron: ({ mm }) => `Plastron ${mm} mm`,
  curved: ({ mm }) => `Length over the curve ${mm} mm`,
  mass: ({ g }) => `Weight ${g} g`,
  mark: ({ scheme, text, isLost }) =>
    `${low(scheme)} ${text}${isLost ? ': lost or not to be read' : ''}`,
  test: ({ alleles, laboratory }, { locus }) =>
    `DNA test: ${list(alleles).join('/')} at ${locus}${laboratory ? ` (${laboratory})` : ''}`,
  declaration: ({ alleles, by }, { locus }) =>
    `Seller said: ${list(alleles).join('/')} at ${locus}${by ? ` (${by})` : ''}`,
  health: ({ what, byVeterinarian }) => `${what}${byVeterinarian ? ' (veterinarian)' : ''}`,
  incident: ({ what }, { other }) => `${low(what)}${other ? ` with ${other}` : ''}`,
  mating: (_, { other }) => `Seen mating with ${other}`,
  seen: (_, { pen }) => `Seen${pen ? ` in ${pen}` : ''}`,
  headcount: ({ count }) => `${count} counted`,
  breach: () => 'Stood open to another pen',
  death: ({ cause }) => `Died${cause === 'UNKNOWN' ? '' : ` (${low(cause)})`}`,
  'lot-death': ({ count, cause }) =>
    `${count} died${cause === 'UNKNOWN' ? '' : ` (${low(cause)})`}`,
  escape: () => 'Escaped',
  return: ({ knownBy }) => `Came back${knownBy ? `, known by ${knownBy}` : ''}`,
  warmth: ({ label, celsius }) => `${label}: ${celsius} C`,
  eggs: ({ infertile, diedEarly, diedLate, lost }) =>
    [
      [infertile, 'infertile'],
      [diedEarly, 'died early'],
      [diedLate, 'died late'],
      [lost, 'lost'],
    ]
      .filter(([count]) => count)
      .map(([count, word]) => `${count} ${word}`)
      .join(', '),
  note: ({ text }) => String(text),
};

/**
 * Everything written about one thing, latest first. A fixed number of statements, one after the other: relations that Prisma includes
 * side by side would be asked for at once on the one connection of a transaction.
 */
export async function readRecords(tx: Tx, programId: string, id: string): Promise<RecordLine[]> {
  const observations = await tx.observation.findMany({
    where: {
      programId,
      OR: [{ animalId: id }, { otherAnimalId: id }, { clutchId: id }, { lotId: id }, { penId: id }],
    },
  });
  const stays = await tx.stay.findMany({
    where: { programId, OR: [{ animalId: id }, { lotId: id }] },
  });
  const transfers = await tx.transfer.findMany({
    where: { programId, OR: [{ animalId: id }, { lotId: id }] },
  });
  const changes = await tx.lotChange.findMany({ where: { programId, lotId: id } });
  const ofClutch = await clutchLines(tx, programId, id);
  const nameOf = await namesIn(
    tx,
    programId,
    observations.flatMap((row) => [row.animalId, row.otherAnimalId]),
  );
  const lines = [
    ...ofClutch,
    ...observations.map((row) => {
      const isOther = row.animalId !== null && row.animalId !== id;
      const words = {
        trait: (traitId: string) => nameOf(traitId) ?? 'a trait that is no longer defined',
        locus: nameOf(row.locusId) ?? '',
        other: nameOf(isOther ? row.animalId : row.otherAnimalId) ?? '',
        pen: nameOf(row.penId) ?? '',
      };
      const text = SAID[row.kind]?.(row.value as Values, words) ?? row.kind;
      return {
        id: row.id,
        kind: row.kind,
        date: row.date,
        text,
        note: row.note,
        method: row.method,
        at: row.dateEarliest,
      };
    }),
    ...stays.map((row) => ({
      id: row.id,
      kind: 'stay',
      date: row.from,
      text: `In ${nameOf(row.penId)}${row.from ? ` from ${row.from}` : ''}${row.to ? ` to ${row.to}` : ''}`,
      note: null,
      method: null,
      at: row.fromEarliest,
    })),
    ...transfers.map((row) => ({
      id: row.id,
      kind: 'transfer',
      date: row.date,
      text: `${row.count > 1 ? `${row.count} ` : ''}${low(row.way)}`,
      note: row.note,
      method: null,
      at: row.dateEarliest,
    })),
    ...changes.map((row) => ({
      id: row.id,
      kind: 'lot',
      date: row.date,
      text: `${row.count > 0 ? '+' : ''}${row.count} ${low(row.kind)}`,
      note: row.note,
      method: null,
      at: row.dateEarliest,
    })),
  ];
  const acts = await actsOf(
    tx,
    programId,
    lines.map((line) => line.id),
  );
  return lines
    .sort(
      (a, b) =>
        (b.at?.getTime() ?? Number.NEGATIVE_INFINITY) -
        (a.at?.getTime() ?? Number.NEGATIVE_INFINITY),
    )
    .map(({ at: _, ...line }) => ({ ...line, act: acts.get(line.id) ?? null }));
}

/** Codes of these animals, and names of all pens, traits and genes, by id. */
async function namesIn(tx: Tx, programId: string, animals: readonly (string | null)[]) {
  const ids = [...new Set(animals)].filter((id) => id !== null);
  const coded = { id: true, code: true } as const;
  const titled = { where: { programId }, select: { id: true, name: true } } as const;
  const rows = [
    ...(await tx.animal.findMany({ where: { programId, id: { in: ids } }, select: coded })),
    ...(await tx.locus.findMany({ where: { programId }, select: coded })),
    ...(await tx.pen.findMany(titled)),
    ...(await tx.trait.findMany(titled)),
  ];
  const names = new Map(rows.map((row) => [row.id, 'code' in row ? row.code : row.name]));
  return (id: string | null) => (id === null ? undefined : names.get(id));
}

/** The laying of a clutch, its boxes and its young; nothing where the id is of another thing. */
async function clutchLines(tx: Tx, programId: string, id: string) {
  const clutch = await tx.clutch.findUnique({
    where: { programId_id: { programId, id } },
  });
  if (!clutch) return [];
  const where = { programId, clutchId: id };
  const batches = await tx.eggBatch.findMany({ where });
  const animals = await tx.animal.findMany({
    where,
    select: { id: true, code: true, hatched: true, hatchedEarliest: true },
  });
  const lotChanges = await tx.lotChange.findMany({
    where: { ...where, kind: { in: ['HATCHED', 'FOUND'] } },
  });
  const line = (
    row: { id: string; note?: string | null },
    kind: string,
    text: string,
    date: string | null,
    at: Date | null,
  ) => ({ id: row.id, kind, date, text, note: row.note ?? null, method: null, at });
  return [
    ...(clutch.laid || clutch.eggs !== null
      ? [
          line(
            { id, note: clutch.notes },
            'laid',
            clutch.eggs === null ? 'Laid, not counted' : `${clutch.eggs} eggs laid`,
            clutch.laid,
            clutch.laidEarliest,
          ),
        ]
      : []),
    ...batches.map((batch) =>
      line(
        batch,
        'set',
        `${batch.eggs} eggs set in ${batch.label}`,
        batch.setOn,
        batch.setOnEarliest,
      ),
    ),
    ...animals.map((young) =>
      line(young, 'hatched', `${young.code} hatched`, young.hatched, young.hatchedEarliest),
    ),
    ...lotChanges.map((change) =>
      line(
        change,
        'hatched',
        `${change.count} hatched, counted as a lot`,
        change.date,
        change.dateEarliest,
      ),
    ),
  ];
}

/** The entry that wrote each row; what came with a file is not among them. */
async function actsOf(
  tx: Tx,
  programId: string,
  ids: readonly string[],
): Promise<Map<string, RecordAct>> {
  const rows = await tx.$queryRaw<{ row_id: string; id: string; sentence: string }[]>`
    SELECT DISTINCT ON (ch.row_id) ch.row_id, c.id, c.sentence FROM change ch
    JOIN command c ON c.program_id = ch.program_id AND c.id = ch.command_id
    WHERE ch.program_id = ${programId}::uuid AND ch.row_id = ANY(${[...ids]})
      AND ch.before IS NULL AND c.kind LIKE 'entry-%'
    ORDER BY ch.row_id, ch.id DESC`;
  return new Map(rows.map(({ row_id, id, sentence }) => [row_id, { id, sentence }]));
}

function low(word: unknown): string {
  const text = String(word).toLowerCase().replaceAll('_', ' ');
  return text[0].toUpperCase() + text.slice(1);
}

function list(value: unknown): unknown[] {
  return Array.isArray(value) ? value : [];
}
