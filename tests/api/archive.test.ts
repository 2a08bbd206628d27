import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import {
  type FileEntry,
  Uint8ArrayReader,
  Uint8ArrayWriter,
  ZipReader,
  ZipWriter,
} from '@zip.js/zip.js';
import { parse } from 'csv-parse/sync';
import {
  addAnimal,
  asAdmin,
  Client,
  type Data,
  invited,
  startService,
  type TestService,
} from './service.js';

let service: TestService;
let owner: Client;
let programId: string;
/** Of the demo, with some acts more: changed, removed and taken back. */
let archive: Uint8Array;
beforeAll(async () => {
  service = await startService({}, { demo: true });
  owner = await service.owner();
  const { viewer } = await owner.data('{ viewer { memberships { program { id } } } }');
  programId = viewer.memberships[0].program.id;
  const awkward = await addAnimal(owner, programId, {
    code: 'Q"1',
    notes: 'A comma, a "quote",\r\na line,\nan end ␀ \\N =1+1',
    name: '',
  });
  const added = await addAnimal(owner, programId, { code: 'Gone' });
  await act('removeAnimal', 'RemoveAnimalInput', { animalId: added });
  await act('editAnimal', 'EditAnimalInput', { animalId: awkward, hatched: '2001-05~' });
  archive = await download(programId);
}, 60_000);
afterAll(() => service.stop());

const act = (field: string, type: string, input: object) =>
  owner.data(
    `mutation($programId: ID!, $input: ${type}!) { ${field}(programId: $programId, input: $input) { __typename } }`,
    { programId, input: { commandId: randomUUID(), ...input } },
  );

const get = (client: Client | null, id: string) =>
  fetch(`${service.url}/files/${id}/archive.zip`, {
    headers: client ? { cookie: client.cookies } : {},
  });

async function download(id: string): Promise<Uint8Array> {
  const response = await get(owner, id);
  if (response.status !== 200) throw new Error(await response.text());
  return new Uint8Array(await response.arrayBuffer());
}

const send = (client: Client, bytes: Uint8Array, type = 'application/octet-stream') =>
  fetch(`${service.url}/archives?name=test.zip`, {
    method: 'POST',
    headers: { 'content-type': type, cookie: client.cookies },
    body: Uint8Array.from(bytes),
  });

const START = 'mutation($input: StartRestoreInput!) { startRestore(input: $input) { id state } }';
const JOB = `query($jobId: ID!) { job(jobId: $jobId) {
  state progress error { code message remedy place } restored { id name animalCount viewerRole isDemo }
} }`;

async function restore(bytes: Uint8Array): Promise<Data> {
  const { uploadId } = (await (await send(owner, bytes)).json()) as Data;
  const { startRestore } = await owner.data(START, {
    input: { commandId: randomUUID(), uploadId },
  });
  for (;;) {
    const { job } = await owner.data(JOB, { jobId: startRestore.id });
    if (!['QUEUED', 'RUNNING'].includes(job.state)) return job;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
}

async function unpack(bytes: Uint8Array): Promise<Map<string, string>> {
  const files = new Map<string, string>();
  for (const entry of await new ZipReader(new Uint8ArrayReader(bytes)).getEntries()) {
    const content = await (entry as FileEntry).getData(new Uint8ArrayWriter());
    files.set(entry.filename, new TextDecoder().decode(content));
  }
  return files;
}

async function pack(files: Iterable<[string, string | Uint8Array]>): Promise<Uint8Array> {
  const zip = new ZipWriter(new Uint8ArrayWriter());
  for (const [name, content] of files) {
    const bytes = typeof content === 'string' ? new TextEncoder().encode(content) : content;
    await zip.add(name, new Uint8ArrayReader(bytes));
  }
  return zip.close();
}

/** The archive with one of its files changed. */
async function changed(name: string, change: (text: string) => string | null): Promise<Uint8Array> {
  const files = await unpack(archive);
  const text = change(files.get(name) ?? '');
  if (text === files.get(name)) throw new Error(`Nothing was changed in ${name}`);
  if (text === null) files.delete(name);
  else files.set(name, text);
  return pack(files);
}

const programs = async (): Promise<number> =>
  asAdmin(service.databaseName, async (client) => {
    const { rows } = await client.query('SELECT count(*)::int FROM program');
    return rows[0].count;
  });

describe('the archive of a program', () => {
  it('comes back as a new program whose archive is the same, byte by byte', async () => {
    expect(await download(programId)).toEqual(archive);
    const began = performance.now();
    const job = await restore(archive);
    expect(job).toMatchObject({ state: 'DONE', progress: 1, error: null });
    console.log(
      `demo: archive of ${Math.round(archive.length / 1024)} kB restored in ${Math.round(performance.now() - began)} ms`,
    );
    expect(job.restored).toMatchObject({ viewerRole: 'OWNER', isDemo: true });
    expect(job.restored.id).not.toBe(programId);
    const again = await download(job.restored.id);
    expect(await unpack(again)).toEqual(await unpack(archive));
    expect(again).toEqual(archive);
  });

  it('brings its history, which can be taken back as before', async () => {
    const { restored } = await restore(archive);
    const ask =
      'query($programId: ID!) { history(programId: $programId, first: 5) { edges { node { id kind sentence by revision } } } }';
    const { history } = await owner.data(ask, { programId: restored.id });
    expect(history).toEqual((await owner.data(ask, { programId })).history);
    expect(history.edges[0].node.kind).toBe('edit-animal');
    // Taking the import back needs all of its changes, and nothing that came later in the way.
    const acts = history.edges.map(({ node }: Data) => node);
    for (const each of acts.filter(({ kind }: Data) => kind === 'edit-animal')) {
      await owner.data(
        'mutation($programId: ID!, $input: UndoInput!) { undo(programId: $programId, input: $input) { command { id } } }',
        { programId: restored.id, input: { commandId: randomUUID(), undoes: each.id } },
      );
    }
    const { animals } = await owner.data(
      'query($programId: ID!) { animals(programId: $programId, first: 500) { edges { node { code hatched { text } } } } }',
      { programId: restored.id },
    );
    const node = animals.edges.map((edge: Data) => edge.node).find((a: Data) => a.code === 'Q"1');
    expect(node.hatched).toBeNull();
  });

  it('holds every record, as an independent reader of CSV sees it', async () => {
    const files = await unpack(archive);
    const { tables } = JSON.parse(files.get('csv-metadata.json') ?? '');
    await asAdmin(service.databaseName, async (client) => {
      // Whatever table has the walls of a program around it, also one of a later version.
      const { rows } = await client.query(
        "SELECT relname AS name FROM pg_class WHERE relkind = 'r' AND relnamespace = 'public'::regnamespace AND relforcerowsecurity",
      );
      const left = ['member', 'upload', 'upload_part'];
      const expected = rows.map(({ name }) => name).filter((name) => !left.includes(name));
      expect(tables.map(({ url }: Data) => url).sort()).toEqual(
        expected.map((name) => `${name}.csv`).sort(),
      );
      for (const { url } of tables) {
        const table = url.replace('.csv', '');
        const count = await client.query(
          `SELECT count(*)::int FROM ${table} WHERE ${table === 'program' ? 'id' : 'program_id'} = $1`,
          [programId],
        );
        const read = parse(files.get(url) ?? '', { columns: true });
        expect([table, read.length]).toEqual([table, count.rows[0].count]);
      }
      const { rows: stored } = await client.query(
        'SELECT notes FROM animal WHERE program_id = $1 AND code = $2',
        [programId, 'Q"1'],
      );
      const read = parse<Data>(files.get('animal.csv') ?? '', { columns: true });
      expect(read.find(({ code }: Data) => code === 'Q"1').notes).toBe(stored[0].notes);
    });
  });

  it('describes itself by the W3C standard, and its rows keep to that', async () => {
    const files = await unpack(archive);
    const metadata = JSON.parse(files.get('csv-metadata.json') ?? '');
    // W3C Recommendation 'Metadata Vocabulary for Tabular Data', https://www.w3.org/TR/tabular-metadata/:
    // '@context' marks CSV on the Web.
    expect(metadata['@context'][0]).toBe('http://www.w3.org/ns/csvw');
    const rowsOf = new Map<string, Data[]>();
    for (const { url } of metadata.tables) {
      rowsOf.set(url, parse(files.get(url) ?? '', { columns: true }));
    }
    let checked = 0;
    for (const { url, tableSchema } of metadata.tables) {
      const rows = rowsOf.get(url) ?? [];
      const [header] = parse(files.get(url) ?? '', { to: 1 });
      // 'columns': their names in the order of the file.
      expect(tableSchema.columns.map(({ name }: Data) => name)).toEqual(header);
      for (const { name, datatype, required } of tableSchema.columns) {
        const base = typeof datatype === 'string' ? datatype : datatype.base;
        expect(Object.keys(LEXICAL)).toContain(base);
        for (const row of rows) {
          // 'required': not null; 'null': an empty cell is null unless said otherwise.
          if (row[name] === '') {
            expect({ url, name, required: Boolean(required) }).toEqual({
              url,
              name,
              required: false,
            });
            continue;
          }
          if (!LEXICAL[base].test(row[name])) throw new Error(`${url} ${name}: ${row[name]}`);
          if (base === 'json') JSON.parse(row[name]);
          if (typeof datatype !== 'string') {
            expect(row[name]).toMatch(new RegExp(`^(?:${datatype.format})$`));
          }
          checked++;
        }
      }
      // 'primaryKey': unlike in every row; 'foreignKeys': what one names is there.
      if (tableSchema.primaryKey) {
        const keys = rows.map((row) =>
          tableSchema.primaryKey.map((name: string) => row[name]).join(),
        );
        expect(new Set(keys).size).toBe(rows.length);
      }
      for (const { columnReference, reference } of tableSchema.foreignKeys ?? []) {
        const targets = new Set(
          (rowsOf.get(reference.resource) ?? []).map((row) =>
            reference.columnReference.map((name: string) => row[name]).join(),
          ),
        );
        const named = rows
          .filter((row) => columnReference.every((name: string) => row[name] !== ''))
          .map((row) => columnReference.map((name: string) => row[name]).join());
        expect(named.filter((key) => !targets.has(key))).toEqual([]);
      }
    }
    expect(checked).toBeGreaterThan(5000);
  });

  it('goes to owners alone, and an upload stays with who sent it', async () => {
    const keeper = await invited(owner, programId, 'KEEPER');
    expect((await get(null, programId)).status).toBe(401);
    expect((await get(keeper, programId)).status).toBe(403);
    expect((await get(await service.owner(), randomUUID())).status).toBe(404);
    expect((await send(new Client(service.url), archive)).status).toBe(401);
    expect((await send(owner, archive, 'text/plain')).status).toBe(415);
    const { uploadId } = (await (await send(owner, archive)).json()) as Data;
    const input = { commandId: randomUUID(), uploadId };
    const refused = await keeper.refusal(START, { input });
    expect(refused.extensions).toMatchObject({ code: 'NOT_FOUND', place: 'input.uploadId' });
    // Nor is it a file of any program.
    const asFile = await owner.refusal(
      'mutation($programId: ID!, $input: ImportProgramFileInput!) { importProgramFile(programId: $programId, input: $input) { rows } }',
      { programId, input: { commandId: randomUUID(), uploadId, isDryRun: true } },
    );
    expect(asFile.extensions.code).toBe('NOT_FOUND');
    const { startRestore } = await owner.data(START, { input });
    expect((await keeper.refusal(JOB, { jobId: startRestore.id })).extensions.code).toBe(
      'NOT_FOUND',
    );
    expect(
      (
        await keeper.refusal(
          'mutation($input: CancelJobInput!) { cancelJob(input: $input) { id } }',
          { input: { jobId: startRestore.id } },
        )
      ).extensions.code,
    ).toBe('NOT_FOUND');
  });
});

/** How values of the standard's datatypes look (W3C XML Schema Part 2: Datatypes). */
const LEXICAL: Readonly<Record<string, RegExp>> = {
  string: /^[\s\S]*$/,
  integer: /^-?\d+$/,
  double: /^(-?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d+)?|-?INF|NaN)$/,
  boolean: /^(true|false)$/,
  date: /^\d{4}-\d\d-\d\d$/,
  dateTime: /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?Z$/,
  json: /^[\s\S]+$/,
  base64Binary: /^[A-Za-z0-9+/]*={0,2}$/,
};

describe('an archive of an older version', () => {
  it('comes in with defaults for what it does not have', async () => {
    const files = await unpack(archive);
    const metadata = JSON.parse(files.get('csv-metadata.json') ?? '');
    metadata['schema:schemaVersion'] = '2';
    metadata.tables = metadata.tables.filter(
      ({ url }: Data) => url !== 'lot.csv' && url !== 'lot_change.csv',
    );
    const pens = metadata.tables.find(({ url }: Data) => url === 'pen.csv');
    pens.tableSchema.columns = pens.tableSchema.columns.filter(
      ({ name }: Data) => name !== 'is_quarantine',
    );
    files.delete('lot.csv');
    files.delete('lot_change.csv');
    const rows = parse<Data>(files.get('pen.csv') ?? '', { columns: true });
    const names = pens.tableSchema.columns.map(({ name }: Data) => name);
    const quoted = (value: string) => `"${value.replaceAll('"', '""')}"`;
    files.set(
      'pen.csv',
      `${names.join(',')}\n${rows.map((row: Data) => names.map((name: string) => (row[name] === '' ? '' : quoted(row[name]))).join(',')).join('\n')}\n`,
    );
    files.set('csv-metadata.json', JSON.stringify(metadata));
    const job = await restore(await pack(files));
    expect(job).toMatchObject({ state: 'DONE', error: null });
    const { rows: stored } = await asAdmin(service.databaseName, (client) =>
      client.query('SELECT DISTINCT is_quarantine FROM pen WHERE program_id = $1', [
        job.restored.id,
      ]),
    );
    expect(stored).toEqual([{ is_quarantine: false }]);
  });
});

describe('what is no sound archive', () => {
  const replaced = (from: string | RegExp, to: string) => (text: string) => text.replace(from, to);
  const hostile: [string, () => Promise<Uint8Array> | Uint8Array, RegExp][] = [
    ['nothing at all', () => new Uint8Array(), /not a zip file/],
    ['some other file', () => new TextEncoder().encode('code\nA\n'), /not a zip file/],
    [
      'a truncated one',
      () => archive.slice(0, archive.length >> 1),
      /not a zip file, or only a part/,
    ],
    ['one without its last bytes', () => archive.slice(0, -3), /not a zip file, or only a part/],
    [
      'one with a byte turned over',
      () => archive.map((byte, i) => (i === archive.length >> 1 ? byte ^ 0xff : byte)),
      /damaged/,
    ],
    ['an empty zip', () => pack([]), /not an archive of a program/],
    ['a zip of other things', () => pack([['photo.txt', 'x']]), /not an archive of a program/],
    [
      'one that would climb out of its folder',
      async () => pack([...(await unpack(archive)), ['../../etc/cron.d/x', 'x']]),
      /a name that leads out of its folder/,
    ],
    [
      'one with a file more',
      async () => pack([...(await unpack(archive)), ['account.csv', 'id\n']]),
      /'account\.csv', which its description does not name/,
    ],
    [
      'a bomb',
      async () => pack([...(await unpack(archive)), ['bomb.csv', new Uint8Array(130 * 2 ** 20)]]),
      /would unpack to more/,
    ],
    [
      'a table longer than it says',
      async () => {
        const bytes = Buffer.from(await pack(await unpack(archive)));
        // The unpacked size in the local header and in the directory (APPNOTE.TXT 4.3.7 and 4.3.12).
        const local = bytes.indexOf('pen.csv') - 30;
        const listed = bytes.lastIndexOf('pen.csv') - 46;
        expect([bytes.readUInt32LE(local), bytes.readUInt32LE(listed)]).toEqual([
          0x04034b50, 0x02014b50,
        ]);
        bytes.writeUInt32LE(10, local + 22);
        bytes.writeUInt32LE(10, listed + 24);
        return bytes;
      },
      /pen\.csv/,
    ],
    [
      'one of a newer version',
      () =>
        changed(
          'csv-metadata.json',
          replaced(/"schema:schemaVersion": "\d+"/, '"schema:schemaVersion": "900"'),
        ),
      /newer version of Scutewright/,
    ],
    [
      'a table of the installation',
      () => changed('csv-metadata.json', replaced('"pen.csv"', '"session.csv"')),
      /session\.csv|pen\.csv/,
    ],
    [
      'a column that is none',
      () => changed('csv-metadata.json', replaced('"name": "eggs"', '"name": "password_hash"')),
      /'password_hash' in clutch\.csv/,
    ],
    ['a description that is no JSON', () => changed('csv-metadata.json', () => '{'), /not JSON/],
    ['a missing table', () => changed('animal.csv', () => null), /animal\.csv is missing/],
    ['an empty table', () => changed('animal.csv', () => ''), /animal\.csv is empty/],
    [
      'a wrong type',
      () => changed('clutch.csv', replaced(/\n[0-9a-f-]{36},/, '\nnot-an-id,')),
      /clutch\.csv, rows 1 to \d+, a value cannot be as it stands.*uuid/,
    ],
    [
      'a broken reference',
      () => changed('candidate.csv', replaced(/,(SIRE|DAM),[0-9a-f-]{36}/, `,$1,${randomUUID()}`)),
      /candidate\.csv.*foreign key/,
    ],
    [
      'rows cut short',
      () => changed('animal.csv', (text) => text.slice(0, text.length >> 1)),
      /animal\.csv/,
    ],
    [
      'line ends of another program',
      () => changed('pen.csv', (text) => text.replaceAll('\n', '\r\n')),
      /line ends were changed/,
    ],
    [
      'bytes that are no text',
      async () => {
        const files: [string, string | Uint8Array][] = [...(await unpack(archive))];
        return pack(
          files.map(([name, text]) => [
            name,
            name === 'pen.csv' ? new Uint8Array([0xff, 0xfe, 0x41]) : text,
          ]),
        );
      },
      /pen\.csv is not UTF-8/,
    ],
    [
      'two programs in one',
      () => changed('program.csv', (text) => `${text}${text.split('\n').slice(1).join('\n')}`),
      /program\.csv/,
    ],
    [
      'records that cannot be read',
      () => changed('locus.csv', replaced(/\{""alleles"": \[[^\]]*\]/, '{""alleles"": 7')),
      /damaged/,
    ],
  ];
  it.each(hostile)('is refused in words, and nothing is written: %s', async (_, make, words) => {
    const before = await programs();
    const job = await restore(await make());
    expect(job.state).toBe('FAILED');
    expect(job.error).toMatchObject({ code: 'BAD_USER_INPUT', place: 'input.uploadId' });
    expect(job.error.message).toMatch(words);
    expect(job.error.remedy.length).toBeGreaterThan(10);
    expect(job.restored).toBeNull();
    expect(await programs()).toBe(before);
  });
});
