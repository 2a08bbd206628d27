import { randomUUID } from 'node:crypto';
import type { Database } from '../db/database.js';
import { acrossPrograms, inProgram, type ProgramAccess } from '../db/in-program.js';

const DAY_MS = 86_400_000;
/** Files are kept in pieces of this size: what is held in memory of one is a piece. */
export const PART_BYTES = 1024 * 1024;

/** Whose file it is: a program's (by its door), or a person's, where it is to become a program. */
export type Holder = ProgramAccess | { readonly accountId: string };

export interface UploadRow {
  readonly id: string;
  readonly name: string;
  readonly size: number;
}

/** Thrown while a file comes in that is larger than it may be. */
export class UploadTooLarge extends Error {}

function open<Result>(
  database: Database,
  holder: Holder,
  work: Parameters<typeof inProgram<Result>>[2],
): Promise<Result> {
  return 'programId' in holder
    ? inProgram(database, holder, work)
    : acrossPrograms(database, holder.accountId, work);
}

/** Keeps a file for the time between looking and writing, piece by piece; answers its id. */
export async function keepUpload(
  database: Database,
  holder: Holder,
  name: string,
  body: AsyncIterable<Uint8Array>,
  mostBytes: number,
): Promise<string> {
  const id = randomUUID();
  const programId = 'programId' in holder ? holder.programId : null;
  await open(database, holder, async (tx) => {
    await tx.upload.deleteMany({
      where: { accountId: holder.accountId, at: { lt: new Date(Date.now() - DAY_MS) } },
    });
    await tx.upload.create({
      data: { id, programId, accountId: holder.accountId, name: name.slice(0, 200) },
    });
  });
  let size = 0;
  let part = 0;
  for await (const bytes of inParts(body)) {
    size += bytes.length;
    if (size > mostBytes) {
      await dropUpload(database, holder, id);
      throw new UploadTooLarge();
    }
    await open(database, holder, (tx) =>
      tx.uploadPart.create({ data: { uploadId: id, part: part++, bytes } }),
    );
  }
  await open(database, holder, (tx) =>
    tx.upload.update({ where: { id }, data: { size: BigInt(size) } }),
  );
  return id;
}

/** A file that came in whole; null where there is none of this id in these hands. */
export async function findUpload(
  database: Database,
  holder: Holder,
  id: string,
): Promise<UploadRow | null> {
  const programId = 'programId' in holder ? holder.programId : null;
  const row = await open(database, holder, (tx) =>
    tx.upload.findFirst({ where: { id, programId, size: { not: null } } }),
  );
  return row && { id, name: row.name, size: Number(row.size) };
}

/** Part of a file; several pieces are joined. */
export async function readUpload(
  database: Database,
  holder: Holder,
  id: string,
  offset: number,
  length: number,
): Promise<Uint8Array> {
  if (length === 0) return new Uint8Array();
  const first = Math.floor(offset / PART_BYTES);
  const last = Math.floor((offset + length - 1) / PART_BYTES);
  const whole = new Uint8Array(length);
  for (let part = first; part <= last; part++) {
    const row = await open(database, holder, (tx) =>
      tx.uploadPart.findUniqueOrThrow({ where: { uploadId_part: { uploadId: id, part } } }),
    );
    const from = Math.max(0, offset - part * PART_BYTES);
    const to = Math.min(row.bytes.length, offset + length - part * PART_BYTES);
    whole.set(row.bytes.subarray(from, to), part * PART_BYTES + from - offset);
  }
  return whole;
}

/** A file from its beginning, a piece at a time. */
export async function* uploadPieces(
  database: Database,
  holder: Holder,
  { id, size }: UploadRow,
): AsyncGenerator<Uint8Array> {
  for (let at = 0; at < size; at += PART_BYTES) {
    yield await readUpload(database, holder, id, at, Math.min(PART_BYTES, size - at));
  }
}

export async function dropUpload(database: Database, holder: Holder, id: string): Promise<void> {
  await open(database, holder, (tx) => tx.upload.deleteMany({ where: { id } }));
}

/** The same bytes in pieces of PART_BYTES; the last may be shorter. */
async function* inParts(body: AsyncIterable<Uint8Array>): AsyncGenerator<Uint8Array<ArrayBuffer>> {
  let part = new Uint8Array(PART_BYTES);
  let filled = 0;
  for await (const chunk of body) {
    let taken = 0;
    while (taken < chunk.length) {
      const next = chunk.subarray(taken, taken + PART_BYTES - filled);
      part.set(next, filled);
      filled += next.length;
      taken += next.length;
      if (filled < PART_BYTES) continue;
      yield part;
      part = new Uint8Array(PART_BYTES);
      filled = 0;
    }
  }
  if (filled > 0) yield part.slice(0, filled);
}
