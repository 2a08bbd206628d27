import { parsePartialDate } from '@scutewright/basics';
import type { KnownProgram, NamedParent, ProgramRow } from '@scutewright/commands';
import type { ClientBase } from 'pg';

interface AnimalRow {
  id: string;
  code: string;
  name: string | null;
  species: string;
  hatched: string | null;
  notes: string | null;
  clutch_id: string | null;
  clutch: string | null;
}

/**
 * The program as a program file would tell it: for comparing a file with it, and for writing one. Each statement
 * goes through a table once: right after a large import the server knows nothing yet of how many rows there are,
 * and looking something up for each animal once took it minutes.
 */
export async function readKnownProgram(client: ClientBase): Promise<KnownProgram> {
  const rows = async <Row>(sql: string): Promise<Row[]> => (await client.query(sql)).rows as Row[];
  const animals = await rows<AnimalRow>(
    `SELECT a.id, a.code, a.name, a.species, a.hatched, a.notes, a.clutch_id, c.code AS clutch
     FROM animal a LEFT JOIN clutch c ON c.id = a.clutch_id ORDER BY a.code`,
  );
  const traits = await rows<{ id: string; code: string }>(
    'SELECT id, code FROM trait ORDER BY code',
  );
  const traitCodes = new Map(traits.map(({ id, code }) => [id, code]));
  const sexes = await latest<'MALE' | 'FEMALE'>(client, 'sex', "value->>'sex'");
  const checks = await latest<{ seen: string[]; absent?: string[] }>(
    client,
    'colour-check',
    'value',
  );
  const lengths = await latest<number>(client, 'scl', "(value->>'mm')::float8");
  const masses = await latest<number>(client, 'mass', "(value->>'g')::float8");
  const pens = new Map(
    (
      await rows<{ animal_id: string; name: string }>(
        `SELECT DISTINCT ON (s.animal_id) s.animal_id, p.name FROM stay s JOIN pen p ON p.id = s.pen_id
         WHERE s.animal_id IS NOT NULL AND s.to_latest IS NULL
         ORDER BY s.animal_id, s.from_earliest DESC NULLS LAST`,
      )
    ).map(({ animal_id, name }) => [animal_id, name]),
  );
  const parents = await rows<{
    clutch_id: string;
    clutch: string | null;
    parent: string;
    code: string;
    probability: number;
  }>(
    `SELECT c.id AS clutch_id, c.code AS clutch, d.parent, a.code, d.probability
     FROM candidate d JOIN clutch c ON c.id = d.clutch_id JOIN animal a ON a.id = d.animal_id
     ORDER BY d.probability DESC, a.code`,
  );
  const declared = await rows<{ code: string; locus: string; alleles: string[] }>(
    `SELECT a.code, l.code AS locus, o.value->'alleles' AS alleles
     FROM observation o JOIN animal a ON a.id = o.animal_id JOIN locus l ON l.id = o.locus_id
     WHERE o.kind = 'declaration' ORDER BY l.code`,
  );
  const byClutch = new Map<
    string,
    { code: string | null; sires: NamedParent[]; dams: NamedParent[] }
  >();
  for (const { clutch_id, clutch, parent, code, probability } of parents) {
    let entry = byClutch.get(clutch_id);
    if (!entry) {
      entry = { code: clutch, sires: [], dams: [] };
      byClutch.set(clutch_id, entry);
    }
    entry[parent === 'SIRE' ? 'sires' : 'dams'].push({
      code,
      // Certain: as people write it, without a number.
      probability: probability === 1 ? null : probability,
    });
  }
  const genotypes = new Map<string, ProgramRow['genotype'][number][]>();
  for (const { code, locus, alleles } of declared) {
    const list = genotypes.get(code) ?? [];
    if (list.length === 0) genotypes.set(code, list);
    list.push({ locus, alleles });
  }
  return {
    animals: animals.map((animal) => {
      const laid = animal.clutch_id ? byClutch.get(animal.clutch_id) : undefined;
      return {
        code: animal.code,
        name: animal.name,
        species: animal.species,
        sex: SEX[sexes.get(animal.id) ?? ''] ?? null,
        hatched: animal.hatched === null ? null : parsePartialDate(animal.hatched),
        sires: laid?.sires ?? [],
        dams: laid?.dams ?? [],
        clutch: animal.clutch,
        ...look(checks.get(animal.id), traitCodes),
        genotype: genotypes.get(animal.code) ?? [],
        pen: pens.get(animal.id) ?? null,
        sclMm: lengths.get(animal.id) ?? null,
        massG: masses.get(animal.id) ?? null,
        notes: animal.notes,
      };
    }),
    clutches: [...byClutch.values()].flatMap(({ code, sires, dams }) =>
      code === null ? [] : [{ code, sires, dams }],
    ),
    traits: traits.map(({ code }) => code),
    loci: (
      await rows<{ code: string; definition: object }>(
        'SELECT code, definition FROM locus ORDER BY code',
      )
    ).map(({ code, definition }) => ({ id: code, alleles: [], ...definition })),
    pens: (await rows<{ name: string }>('SELECT name FROM pen ORDER BY name')).map(
      (row) => row.name,
    ),
    species: [...new Set(animals.map((animal) => animal.species))],
  };
}

const SEX: Readonly<Record<string, 'm' | 'f'>> = { MALE: 'm', FEMALE: 'f' };

/** A colour check in a file's words: 'none' only where each trait there is was looked for. */
function look(
  check: { readonly seen: readonly string[]; readonly absent?: readonly string[] } | undefined,
  codes: ReadonlyMap<string, string>,
): Pick<ProgramRow, 'traits' | 'absent'> {
  if (!check) return { traits: null, absent: [] };
  const named = (ids: readonly string[] = []) => ids.flatMap((id) => codes.get(id) ?? []).sort();
  const [traits, absent] = [named(check.seen), named(check.absent)];
  if (traits.length === 0 && (!check.absent || absent.length === codes.size)) {
    return { traits, absent: [] };
  }
  // What was looked for may be no trait of the program any more: then nothing is left to tell.
  return { traits: traits.length + absent.length === 0 ? null : traits, absent };
}

/** By animal, what its latest record of a kind says: of several, that is what a program file can tell. */
async function latest<Value>(
  client: ClientBase,
  kind: string,
  what: string,
): Promise<ReadonlyMap<string, Value>> {
  const { rows } = await client.query<[string, Value]>({
    text: `SELECT DISTINCT ON (animal_id) animal_id, ${what} FROM observation
      WHERE kind = $1 AND animal_id IS NOT NULL
      ORDER BY animal_id, date_earliest DESC NULLS LAST, id DESC`,
    values: [kind],
    rowMode: 'array',
  });
  return new Map(rows);
}
