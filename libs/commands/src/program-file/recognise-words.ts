import type { Field } from './program-row.js';

/**
 * Headings and words that keepers write, by what they mean: common practice, no source. Compared without case,
 * accents and punctuation. A match is only ever a proposal that the owner of the file sees.
 */
const HEADINGS: Readonly<Record<Field, string>> = {
  code: 'code, animal code, id, animal id, animal, tortoise, tortoise id, tag, tag no, tag number, number, no, nr, label, ref, nummer, kennung, tier, schildkroete, schildkrote, numero, animale, dier, codigo, codice',
  name: 'name, nickname, pet name, called, nom, naam, nombre, nome, rufname, spitzname, surnom',
  species: 'species, kind, taxon, scientific name, latin name, art, espece, soort, especie, specie',
  sex: 'sex, gender, m f, f m, male female, geschlecht, sexe, geslacht, sexo, sesso',
  hatched:
    'hatched, hatch date, date hatched, hatch, hatch year, year hatched, born, birth, birth date, date of birth, dob, year, schlupf, schlupfdatum, geschluepft, geschlupft, geburtsdatum, geboren, date de naissance, naissance, eclosion, ne, geboortedatum, fecha de nacimiento, nacimiento, data di nascita, nascita',
  sire: 'sire, father, dad, sires, fathers, possible fathers, possible sires, vater, pere, vader, padre',
  dam: 'dam, mother, mum, mom, dams, mothers, possible mothers, mutter, mere, moeder, madre',
  clutch:
    'clutch, clutch no, clutch number, clutch code, clutch id, laying, nest, box, gelege, gelegenummer, ponte, legsel, puesta, deposizione, covata',
  traits:
    'traits, trait, colour, color, colour seen, color seen, colours, colors, morph, morphs, looks, phenotype, visual, farbe, farbschlag, couleur, kleur, colore, fase',
  genotype:
    'genotype, genotypes, genes, genetics, gene, genetik, genotyp, genotipo, genen, genetique, geni',
  pen: 'pen, enclosure, where kept, kept in, housed, housing, place, location, yard, gehege, anlage, enclos, verblijf, recinto',
  scl_mm:
    'scl, straight carapace length, carapace, carapace length, shell, shell length, length, size, panzerlaenge, panzerlange, carapax, stockmass, longueur, lengte, longitud, lunghezza',
  mass_g: 'mass, weight, gewicht, masse, poids, peso',
  notes:
    'notes, note, remarks, remark, comment, comments, bemerkung, bemerkungen, notiz, notizen, remarques, opmerkingen, notas, observaciones, osservazioni',
};

const FIELD_BY_HEADING = new Map<string, Field>();
for (const [field, headings] of Object.entries(HEADINGS)) {
  for (const heading of headings.split(', ')) FIELD_BY_HEADING.set(heading, field as Field);
}

/** A unit in which lengths or masses are written; `factor` brings them to millimetres or grams. */
export const UNITS = {
  mm: { field: 'scl_mm', factor: 1 },
  cm: { field: 'scl_mm', factor: 10 },
  // Exact by the international yard and pound agreement of 1959 (NIST Handbook 44, appendix C).
  in: { field: 'scl_mm', factor: 25.4 },
  g: { field: 'mass_g', factor: 1 },
  kg: { field: 'mass_g', factor: 1000 },
  oz: { field: 'mass_g', factor: 28.349523125 },
  lb: { field: 'mass_g', factor: 453.59237 },
} as const;
export type Unit = keyof typeof UNITS;

const UNIT_WORDS = new Map<string, Unit>([
  ['mm', 'mm'],
  ['cm', 'cm'],
  ['in', 'in'],
  ['inch', 'in'],
  ['inches', 'in'],
  ['g', 'g'],
  ['gr', 'g'],
  ['gram', 'g'],
  ['grams', 'g'],
  ['gramm', 'g'],
  ['kg', 'kg'],
  ['oz', 'oz'],
  ['ounces', 'oz'],
  ['lb', 'lb'],
  ['lbs', 'lb'],
  ['pounds', 'lb'],
]);

/** What a heading probably means, with the unit it names; null where nothing is recognised. */
export function recogniseHeading(heading: string): { field: Field; unit: Unit | null } | null {
  const plain = plainWords(heading);
  const whole = FIELD_BY_HEADING.get(plain);
  if (whole) return { field: whole, unit: defaultUnit(whole) };
  const words = plain.split(' ');
  const unit = words.map((word) => UNIT_WORDS.get(word)).find((found) => found !== undefined);
  if (!unit) return null;
  const rest = words.filter((word) => !UNIT_WORDS.has(word)).join(' ');
  const field = rest === '' ? UNITS[unit].field : FIELD_BY_HEADING.get(rest);
  return field === UNITS[unit].field ? { field, unit } : null;
}

/** The unit of a column that names none; null for a column that has no unit. */
export function defaultUnit(field: Field): Unit | null {
  return field === 'scl_mm' ? 'mm' : field === 'mass_g' ? 'g' : null;
}

/** What a word in a cell stands for. */
export type Meaning = 'female' | 'male' | 'unknown' | 'none';

const WORDS: Readonly<Record<Meaning, string>> = {
  female:
    'f|female|fem|girl|hen|w|weibchen|weiblich|femelle|femal|vrouw|vrouwelijk|hembra|femmina|femea|♀|0.1|0.1.0',
  male: 'm|male|boy|maennchen|männchen|maennlich|männlich|mâle|man|mannelijk|macho|maschio|♂|1.0|1.0.0',
  unknown:
    '?|u|unknown|unk|unsexed|not known|n/a|na|-|juvenile|juv|baby|unbekannt|nz|inconnu|onbekend|desconocido|sconosciuto|0.0.1',
  none: 'none|normal|nothing|wild type|wildtype|-|keine|wildfarben|aucun|geen|ninguno|nessuno',
};

const MEANINGS = {
  sex: meanings(['female', 'male', 'unknown']),
  traits: meanings(['none']),
} as const;

/** What a word in a column of sexes or of traits probably means; null where it is not recognised. */
export function recogniseWord(column: 'sex' | 'traits', word: string): Meaning | null {
  return MEANINGS[column].get(word.trim().toLowerCase()) ?? null;
}

function meanings(kinds: readonly Meaning[]): ReadonlyMap<string, Meaning> {
  return new Map(
    kinds.flatMap((kind) => WORDS[kind].split('|').map((word) => [word, kind] as const)),
  );
}

function plainWords(text: string): string {
  return text
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim();
}
