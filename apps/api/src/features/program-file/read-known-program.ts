import { parsePartialDate } from '@scutewright/basics';
import type { KnownProgram, NamedParent, ProgramRow } from '@scutewright/commands';
import type { ClientBase } from 'pg';

interface AnimalRow {
  code: string;
  name: string | null;
  species: string;
  hatched: string | null;
  notes: string | null;
  clutch_id: string | null;
  clutch: string | null;
  sex: string | null;
  seen: string[] | null;
  pen: string | null;
  scl_mm: number | null;
  mass_g: number | null;
}

// The latest record of each kind is what a program file can say of an animal.
const latest = (kind: string, what: string) =>
  `(SELECT ${what} FROM observation o WHERE o.animal_id = a.id AND o.kind = '${kind}'
    ORDER BY o.date_earliest DESC NULLS LAST, o.id DESC LIMIT 1)`;

/** The program as a program file would tell it: for comparing a file with it, and for writing one. */
export async function readKnownProgram(client: ClientBase): Promise<KnownProgram> {
  const rows = async <Row>(sql: string): Promise<Row[]> => (await client.query(sql)).rows as Row[];
  const animals = await rows<AnimalRow>(
    `SELECT a.code, a.name, a.species, a.hatched, a.notes, a.clutch_id, c.code AS clutch,
      ${latest('sex', "o.value->>'sex'")} AS sex,
      ${latest('colour-check', `(SELECT coalesce(array_agg(t.code ORDER BY t.code), '{}') FROM jsonb_array_elements_text(o.value->'seen') s JOIN trait t ON t.id = s::uuid)`)} AS seen,
      (SELECT p.name FROM stay s JOIN pen p ON p.id = s.pen_id WHERE s.animal_id = a.id AND s.to_latest IS NULL
        ORDER BY s.from_earliest DESC NULLS LAST LIMIT 1) AS pen,
      ${latest('scl', "(o.value->>'mm')::float8")} AS scl_mm,
      ${latest('mass', "(o.value->>'g')::float8")} AS mass_g
     FROM animal a LEFT JOIN clutch c ON c.id = a.clutch_id ORDER BY a.code`,
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
        sex: animal.sex === 'MALE' ? 'm' : animal.sex === 'FEMALE' ? 'f' : null,
        hatched: animal.hatched === null ? null : parsePartialDate(animal.hatched),
        sires: laid?.sires ?? [],
        dams: laid?.dams ?? [],
        clutch: animal.clutch,
        traits: animal.seen,
        genotype: genotypes.get(animal.code) ?? [],
        pen: animal.pen,
        sclMm: animal.scl_mm,
        massG: animal.mass_g,
        notes: animal.notes,
      };
    }),
    clutches: [...byClutch.values()].flatMap(({ code, sires, dams }) =>
      code === null ? [] : [{ code, sires, dams }],
    ),
    traits: (await rows<{ code: string }>('SELECT code FROM trait ORDER BY code')).map(
      (row) => row.code,
    ),
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
