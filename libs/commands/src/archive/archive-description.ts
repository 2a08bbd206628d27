import { z } from 'zod';
import { ArchiveFault } from './archive-fault.js';

// An archive describes itself by the W3C Recommendation 'Metadata Vocabulary for Tabular Data'
// (17 December 2015, https://www.w3.org/TR/tabular-metadata/), so that any reader of CSV on the
// Web can check and load its tables without this program.

/** The name that the standard gives the description. */
export const DESCRIPTION_FILE = 'csv-metadata.json';

/** What a column holds, in the standard's own datatypes. */
export type ArchiveDatatype =
  | 'string'
  | 'integer'
  | 'double'
  | 'boolean'
  | 'date'
  | 'dateTime'
  | 'json'
  | 'base64Binary';

export interface ArchiveColumn {
  readonly name: string;
  readonly datatype: ArchiveDatatype;
  /** Words that alone may stand there; null for any. */
  readonly words: readonly string[] | null;
  readonly isRequired: boolean;
}

export interface ArchiveTable {
  readonly name: string;
  readonly columns: readonly ArchiveColumn[];
  /** Empty where the order of the rows is all that tells them apart. */
  readonly key: readonly string[];
  readonly references: readonly {
    readonly columns: readonly string[];
    readonly table: string;
    readonly targets: readonly string[];
  }[];
}

export interface ArchiveAbout {
  /** Name of the program. */
  readonly title: string;
  /** Of the software that wrote it. */
  readonly version: string;
  /** Number of the last step of the tables that the software knew. */
  readonly schema: number;
  /** ISO time of the program's last act. */
  readonly modified: string;
}

/** The description as text; the same program gives the same text. */
export function writeDescription(about: ArchiveAbout, tables: readonly ArchiveTable[]): string {
  const metadata = {
    '@context': ['http://www.w3.org/ns/csvw', { '@language': 'en' }],
    'dc:title': about.title,
    'dc:description':
      'All records of one breeding program. Ids are kept; who may see the program is not in it.',
    'dc:modified': about.modified,
    'schema:creator': 'Scutewright',
    'schema:softwareVersion': about.version,
    'schema:schemaVersion': String(about.schema),
    dialect: { header: true, delimiter: ',', lineTerminators: '\n', encoding: 'utf-8' },
    tables: tables.map((table) => ({
      url: fileOf(table.name),
      tableSchema: {
        columns: table.columns.map(describe),
        ...(table.key.length > 0 && { primaryKey: table.key }),
        ...(table.references.length > 0 && {
          foreignKeys: table.references.map((reference) => ({
            columnReference: reference.columns,
            reference: { resource: fileOf(reference.table), columnReference: reference.targets },
          })),
        }),
      },
    })),
  };
  return `${JSON.stringify(metadata, null, 2)}\n`;
}

export function fileOf(table: string): string {
  return `${table}.csv`;
}

function describe(column: ArchiveColumn): object {
  const { name, datatype, words, isRequired } = column;
  return {
    name,
    titles: name,
    datatype: words ? { base: datatype, format: words.join('|') } : datatype,
    ...(isRequired && { required: true }),
  };
}

const nameSchema = z.string().regex(/^[a-z][a-z0-9_]{0,62}$/);
const schemaSchema = z.object({
  'dc:title': z.string().min(1).max(120),
  'schema:softwareVersion': z.string().max(40),
  'schema:schemaVersion': z.string().regex(/^\d{1,6}$/),
  tables: z
    .array(
      z.object({
        url: z.string().regex(/^[a-z][a-z0-9_]{0,62}\.csv$/),
        tableSchema: z.object({
          columns: z
            .array(z.object({ name: nameSchema }))
            .min(1)
            .max(500),
        }),
      }),
    )
    .min(1)
    .max(500),
});

/** What an archive says of itself: its tables with the columns in the order of the files. */
export interface ReadDescription {
  readonly title: string;
  readonly version: string;
  readonly schema: number;
  readonly tables: ReadonlyMap<string, readonly string[]>;
}

/** Reads a description that `writeDescription` wrote. Throws ArchiveFault. */
export function readDescription(text: string): ReadDescription {
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch {
    throw new ArchiveFault(`The archive is damaged: ${DESCRIPTION_FILE} is not JSON.`);
  }
  const parsed = schemaSchema.safeParse(json);
  if (!parsed.success) {
    const { path, message } = parsed.error.issues[0];
    throw new ArchiveFault(
      `This is not an archive of a program: ${DESCRIPTION_FILE} at ${path.join('.') || 'its top'}: ${message}`,
      'Choose an archive that was downloaded under "Keep a copy".',
    );
  }
  const tables = new Map<string, readonly string[]>();
  for (const { url, tableSchema } of parsed.data.tables) {
    const name = url.slice(0, -'.csv'.length);
    const columns = tableSchema.columns.map((column) => column.name);
    if (tables.has(name) || new Set(columns).size < columns.length) {
      throw new ArchiveFault(
        `The archive is damaged: ${DESCRIPTION_FILE} names ${url} or one of its columns twice.`,
      );
    }
    tables.set(name, columns);
  }
  return {
    title: parsed.data['dc:title'],
    version: parsed.data['schema:softwareVersion'],
    schema: Number(parsed.data['schema:schemaVersion']),
    tables,
  };
}
