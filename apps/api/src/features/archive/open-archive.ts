import {
  ArchiveFault,
  DESCRIPTION_FILE,
  fileOf,
  type ReadDescription,
  readDescription,
} from '@scutewright/commands';
import { configure, ERR_UNSAFE_FILENAME, type FileEntry, Reader, ZipReader } from '@zip.js/zip.js';

configure({ useWebWorkers: false });

/** Where the bytes of an archive are: any part of them can be asked for. */
export interface ArchiveBytes {
  readonly size: number;
  read(offset: number, length: number): Promise<Uint8Array>;
}

/** A larger archive is refused. */
export const MOST_ARCHIVE_BYTES = 2 * 2 ** 30;
const MOST_DESCRIPTION_BYTES = 4 * 2 ** 20;
const MOST_ENTRIES = 500;
/** Our tables shrink ten- to thirtyfold; what claims to grow more than this is no archive of ours. */
const MOST_GROWTH = 100;
const SMALL_BYTES = 64 * 2 ** 20;

const CHOOSE = 'Choose an archive that was downloaded under "Keep a copy".';

/** An opened archive: what it says of itself, and its tables one after another. */
export interface OpenArchive {
  readonly description: ReadDescription;
  /** Bytes of all tables together, unpacked. */
  readonly size: number;
  /** The file of a table, unpacked piece by piece. Throws ArchiveFault where it is damaged. */
  table(name: string): AsyncGenerator<Uint8Array>;
}

/**
 * Opens a zip file as an archive and checks its names and claimed sizes before anything of it is
 * unpacked; nothing is ever written under a name that it gives. Throws ArchiveFault.
 */
export async function openArchive(bytes: ArchiveBytes): Promise<OpenArchive> {
  const source = new ByteReader(bytes);
  const entries = await inWords(source, async () => {
    const found: FileEntry[] = [];
    const zip = new ZipReader(source, { strictness: 'strict', checkOverlappingEntry: true });
    for await (const entry of zip.getEntriesGenerator()) {
      if (entry.directory || entry.encrypted || found.length === MOST_ENTRIES) {
        throw new ArchiveFault('This is a zip file, but not an archive of a program.', CHOOSE);
      }
      found.push(entry);
    }
    return found;
  });
  const byName = new Map(entries.map((entry) => [entry.filename, entry]));
  const head = byName.get(DESCRIPTION_FILE);
  if (!head || head.uncompressedSize > MOST_DESCRIPTION_BYTES) {
    throw new ArchiveFault(
      `This is a zip file, but not an archive of a program: it has no ${DESCRIPTION_FILE}.`,
      CHOOSE,
    );
  }
  const size = entries.reduce((sum, entry) => sum + entry.uncompressedSize, 0);
  if (size > SMALL_BYTES + MOST_GROWTH * bytes.size) {
    throw new ArchiveFault(
      'This zip file would unpack to more than any archive of its size can hold. It is not unpacked.',
      CHOOSE,
    );
  }
  const decoder = new TextDecoder();
  let text = '';
  for await (const piece of contentOf(source, head))
    text += decoder.decode(piece, { stream: true });
  const description = readDescription(text);
  const named = new Set([DESCRIPTION_FILE, ...[...description.tables.keys()].map(fileOf)]);
  const strange = entries.find(({ filename }) => !named.has(filename));
  if (strange) {
    throw new ArchiveFault(
      `The archive holds '${strange.filename.slice(0, 200)}', which its description does not name.`,
    );
  }
  return {
    description,
    size,
    table(name) {
      const entry = byName.get(fileOf(name));
      if (!entry) throw new ArchiveFault(`The archive is damaged: ${fileOf(name)} is missing.`);
      return contentOf(source, entry);
    },
  };
}

class ByteReader extends Reader<ArchiveBytes> {
  /** Why the bytes could not be had: no fault of the archive's. */
  failure: unknown = null;

  constructor(private readonly bytes: ArchiveBytes) {
    super(bytes);
    this.size = bytes.size;
  }

  override async readUint8Array(index: number, length: number): Promise<Uint8Array> {
    try {
      return await this.bytes.read(index, Math.max(0, Math.min(length, this.bytes.size - index)));
    } catch (error) {
      this.failure = error;
      throw error;
    }
  }
}

async function* contentOf(source: ByteReader, entry: FileEntry): AsyncGenerator<Uint8Array> {
  const { readable, writable } = new TransformStream<Uint8Array, Uint8Array>();
  // Checks the sum of the content and its length as well.
  const unpacked = entry.getData(writable, { checkSignature: true });
  // Where unpacking fails the pieces may never end by themselves.
  const failed = new Promise<never>((_, reject) => {
    unpacked.catch(reject);
  });
  failed.catch(() => {});
  let length = 0;
  const pieces = readable[Symbol.asyncIterator]();
  for (;;) {
    const { value, done } = await inWords(
      source,
      () => Promise.race([pieces.next(), failed]),
      entry.filename,
    );
    if (done) break;
    length += value.length;
    if (length > entry.uncompressedSize) {
      throw new ArchiveFault(`The archive is damaged: ${entry.filename} is longer than it says.`);
    }
    yield value;
  }
  await inWords(source, () => unpacked, entry.filename);
}

async function inWords<Result>(
  source: ByteReader,
  work: () => Promise<Result>,
  file?: string,
): Promise<Result> {
  try {
    return await work();
  } catch (error) {
    if (source.failure) throw source.failure;
    if (error instanceof ArchiveFault) throw error;
    if (error instanceof Error && error.message === ERR_UNSAFE_FILENAME) {
      throw new ArchiveFault('This zip file holds a name that leads out of its folder.', CHOOSE);
    }
    throw new ArchiveFault(
      file
        ? `The archive is damaged: ${file} cannot be unpacked. It may not have come over whole.`
        : 'This is not a zip file, or only a part of one. It may not have come over whole.',
      file ? undefined : CHOOSE,
    );
  }
}
