import { randomUUID } from 'node:crypto';
import { crc32, deflateSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import { MOST_PHOTO_BYTES, PHOTO_ROOM_BYTES } from '@scutewright/commands';
import {
  addAnimal,
  asAdmin,
  type Client,
  type Data,
  invited,
  newProgram,
  startService,
  type TestService,
} from './service.js';

let service: TestService;
let owner: Client;
let programId: string;
let animalId: string;
beforeAll(async () => {
  service = await startService();
  owner = await service.owner();
  programId = await newProgram(owner);
  animalId = await addAnimal(owner, programId, { code: 'HB-1' });
});
afterAll(() => service.stop());

const ADD = `mutation($programId: ID!, $input: AddPhotoInput!) {
  addPhoto(programId: $programId, input: $input) { command { id sentence } program { revision } }
}`;
const REMOVE = `mutation($programId: ID!, $input: RemovePhotoInput!) {
  removePhoto(programId: $programId, input: $input) { command { id } }
}`;
const UNDO = `mutation($programId: ID!, $input: UndoInput!) {
  undo(programId: $programId, input: $input) { command { id } }
}`;
const LIST = `query($programId: ID!, $animalId: ID!) {
  photos(programId: $programId, animalId: $animalId) { photos { id date caption } usedBytes roomBytes }
}`;

async function inputOf(bytes: Uint8Array, fields: object = {}): Promise<object> {
  const { uploadId } = await owner.upload(programId, bytes);
  return { commandId: randomUUID(), uploadId, animalId, ...fields };
}

async function add(bytes: Uint8Array, fields: object = {}): Promise<string> {
  const { addPhoto } = await owner.data(ADD, { programId, input: await inputOf(bytes, fields) });
  return addPhoto.command.id;
}

const listed = async (): Promise<Data> =>
  (await owner.data(LIST, { programId, animalId })).photos.photos;

function get(client: Client, photoId: string, headers: object = {}): Promise<Response> {
  return fetch(`${service.url}/files/${programId}/photos/${photoId}`, {
    headers: { cookie: client.cookies, ...headers },
  });
}

async function kept(bytes: Uint8Array): Promise<Buffer> {
  const answer = await get(owner, await add(bytes));
  expect(answer.status).toBe(200);
  return Buffer.from(await answer.arrayBuffer());
}

// The form of these files: ITU-T T.81 annex B, CIPA DC-008 (Exif 2.32) 4.6, W3C PNG 5.3, RFC 9649 2.7.

const latin = (text: string): Buffer => Buffer.from(text, 'latin1');

function segment(marker: number, data: Buffer): Buffer {
  const head = Buffer.from([0xff, marker, 0, 0]);
  head.writeUInt16BE(data.length + 2, 2);
  return Buffer.concat([head, data]);
}

/** Exif that turns the picture (6: by a quarter) and tells 52 degrees 30 minutes north, with the camera's name. */
function exifWithPlace(orientation: number): Buffer {
  const short = (n: number) => Buffer.from([n & 255, n >> 8]);
  const long = (n: number) => Buffer.from([n & 255, (n >> 8) & 255, n >> 16, 0]);
  const entry = (tag: number, type: number, count: number, value: Buffer) =>
    Buffer.concat([short(tag), short(type), long(count), value]);
  const gpsAt = 8 + 2 + 3 * 12 + 4;
  const textAt = gpsAt + 2 + 2 * 12 + 4;
  return Buffer.concat([
    latin('II*\0'),
    long(8),
    short(3),
    entry(0x010f, 2, 12, long(textAt)),
    entry(0x0112, 3, 1, long(orientation)),
    entry(0x8825, 4, 1, long(gpsAt)),
    long(0),
    short(2),
    entry(1, 2, 2, latin('N\0\0\0')),
    entry(2, 5, 3, long(textAt + 12)),
    long(0),
    latin('SECRET-MAKE\0'),
    ...[52, 1, 30, 1, 0, 1].map(long),
  ]);
}

/** Exif of an orientation and nothing else, as CIPA DC-008 writes it. */
const turned = (orientation: number): Buffer =>
  Buffer.from(
    `4d4d002a00000008000101120003000000010${orientation.toString(16).padStart(3, '0')}000000000000`,
    'hex',
  );

// Eight by six pixels, progressive (several scans), made with a drawing program.
const PICTURE = Buffer.from(
  '/9j/4AAQSkZJRgABAQAAAQABAAD/2wBDABALDA4MChAODQ4SERATGCgaGBYWGDEjJR0oOjM9PDkzODdASFxOQERXRTc4UG1RV19iZ2hnPk1xeXBkeFxlZ2P/2wBDARESEhgVGC8aGi9jQjhCY2NjY2NjY2NjY2NjY2NjY2NjY2NjY2NjY2NjY2NjY2NjY2NjY2NjY2NjY2NjY2NjY2P/wgARCAAGAAgDASIAAhEBAxEB/8QAFQABAQAAAAAAAAAAAAAAAAAAAAL/xAAVAQEBAAAAAAAAAAAAAAAAAAACBP/aAAwDAQACEAMQAAABgTr/xAAXEAADAQAAAAAAAAAAAAAAAAAAAQID/9oACAEBAAEFAowR/8QAFxEBAAMAAAAAAAAAAAAAAAAAAgADEv/aAAgBAwEBPwGhrE//xAAXEQADAQAAAAAAAAAAAAAAAAAAAQIR/9oACAECAQE/Aat6f//EABQQAQAAAAAAAAAAAAAAAAAAAAD/2gAIAQEABj8Cf//EABQQAQAAAAAAAAAAAAAAAAAAAAD/2gAIAQEAAT8hT//aAAwDAQACAAMAAAAQC//EABYRAAMAAAAAAAAAAAAAAAAAAAARIf/aAAgBAwEBPxBJT//EABURAQEAAAAAAAAAAAAAAAAAAABB/9oACAECAQE/ELT/xAAWEAADAAAAAAAAAAAAAAAAAAAAITH/2gAIAQEAAT8QVh//2Q==',
  'base64',
);

describe('photographs', () => {
  it('keeps a JPEG without place, camera, comments, small pictures and what follows its end', async () => {
    const [start, rest] = [PICTURE.subarray(0, 2), PICTURE.subarray(2)];
    const sent = Buffer.concat([
      start,
      segment(0xe1, Buffer.concat([latin('Exif\0\0'), exifWithPlace(6)])),
      segment(0xe1, latin('http://ns.adobe.com/xap/1.0/\0<SECRET-XMP/>')),
      segment(0xe2, latin('MPF\0SECRET-MPF')),
      segment(0xe2, latin('ICC_PROFILE\0\x01\x01colours')),
      segment(0xed, latin('Photoshop 3.0\0SECRET-TOWN')),
      segment(0xfe, latin('SECRET-COMMENT')),
      rest,
      latin('SECRET-SECOND-PICTURE'),
    ]);
    const expected = Buffer.concat([
      start,
      segment(0xe1, Buffer.concat([latin('Exif\0\0'), turned(6)])),
      segment(0xe2, latin('ICC_PROFILE\0\x01\x01colours')),
      rest,
    ]);
    expect((await kept(sent)).toString('hex')).toBe(expected.toString('hex'));
    // Not turned: nothing of Exif is needed.
    const upright = Buffer.concat([
      start,
      segment(0xe1, Buffer.concat([latin('Exif\0\0'), exifWithPlace(1)])),
      rest,
    ]);
    expect((await kept(upright)).equals(PICTURE)).toBe(true);
    // What was sent is thrown away, and nothing of it is in the change log.
    const [left] = await asAdmin(service.databaseName, async (client) => {
      const { rows } = await client.query(
        "SELECT (SELECT count(*)::int FROM upload) AS uploads, (SELECT count(*)::int FROM change WHERE after::text ~ 'bytes|SECRET') AS told",
      );
      return rows;
    });
    expect(left).toEqual({ uploads: 0, told: 0 });
  });

  it('keeps a PNG and a WebP without the same', async () => {
    const chunk = (name: string, data: Buffer): Buffer => {
      const whole = Buffer.concat([Buffer.alloc(4), latin(name), data, Buffer.alloc(4)]);
      whole.writeUInt32BE(data.length, 0);
      whole.writeUInt32BE(crc32(whole.subarray(4, -4)), whole.length - 4);
      return whole;
    };
    const header = chunk('IHDR', Buffer.from([0, 0, 0, 1, 0, 0, 0, 1, 8, 0, 0, 0, 0]));
    const data = chunk('IDAT', deflateSync(Buffer.from([0, 128])));
    const signature = Buffer.from('89504e470d0a1a0a', 'hex');
    const png = (...between: Buffer[]): Buffer =>
      Buffer.concat([signature, header, ...between, data, chunk('IEND', Buffer.alloc(0))]);
    const place = chunk('tEXt', latin('Location\0SECRET'));
    const sent = Buffer.concat([png(place, chunk('eXIf', exifWithPlace(8))), latin('SECRET')]);
    expect((await kept(sent)).equals(png(chunk('eXIf', turned(8))))).toBe(true);

    const riff = (...chunks: Buffer[]): Buffer => {
      const whole = Buffer.concat([latin('RIFF\0\0\0\0WEBP'), ...chunks]);
      whole.writeUInt32LE(whole.length - 8, 4);
      return whole;
    };
    const part = (name: string, body: Buffer): Buffer => {
      const head = latin(`${name}\0\0\0\0`);
      head.writeUInt32LE(body.length, 4);
      return Buffer.concat([head, body, Buffer.alloc(body.length % 2)]);
    };
    const extended = (flags: number) =>
      part('VP8X', Buffer.from([flags, 0, 0, 0, 0, 0, 0, 0, 0, 0]));
    // One pixel, lossy.
    const pixel = part('VP8 ', Buffer.from('MAEAnQEqAQABAAMANCWkAANwAP77lAAA', 'base64'));
    const webp = riff(
      extended(0x0c),
      pixel,
      part('EXIF', exifWithPlace(3)),
      part('XMP ', latin('<SECRET/>')),
    );
    expect((await kept(webp)).toString('hex')).toBe(
      riff(extended(0x08), pixel, part('EXIF', turned(3))).toString('hex'),
    );
  });

  it('refuses what is no whole picture, too large, of no animal, or of another program', async () => {
    const refusal = async (bytes: Uint8Array, fields: object = {}) =>
      (await owner.refusal(ADD, { programId, input: await inputOf(bytes, fields) })).extensions;
    const place = 'input.uploadId';
    for (const bytes of [
      latin('<svg onload="alert(1)"></svg>'),
      latin('GIF89a'),
      Buffer.alloc(0),
      PICTURE.subarray(0, -2),
      PICTURE.subarray(0, 40),
      Buffer.from('ffd8ffd9', 'hex'),
      Buffer.from('89504e470d0a1a0affffffff49484452', 'hex'),
      latin('RIFF\xff\xff\xff\x7fWEBPVP8 '),
    ]) {
      expect(await refusal(bytes)).toMatchObject({ code: 'BAD_USER_INPUT', place });
    }
    expect(await refusal(Buffer.concat([PICTURE, Buffer.alloc(MOST_PHOTO_BYTES)]))).toMatchObject({
      code: 'BAD_USER_INPUT',
      place,
      remedy: expect.stringContaining('smaller'),
    });
    expect(await refusal(PICTURE, { animalId: randomUUID() })).toMatchObject({ code: 'NOT_FOUND' });
    const elsewhere = await newProgram(owner, 'Elsewhere');
    const input = await inputOf(PICTURE);
    const foreign = await owner.refusal(ADD, { programId: elsewhere, input });
    expect(foreign.extensions).toMatchObject({ code: 'NOT_FOUND' });
  });

  it('is shown to members alone, and only asked for again where it may have changed', async () => {
    const photoId = await add(PICTURE, { date: '2024-05', caption: 'Left side' });
    expect(await listed()).toContainEqual({ id: photoId, date: '2024-05', caption: 'Left side' });
    const reader = await invited(owner, programId, 'READER');
    const shown = await get(reader, photoId);
    expect(Object.fromEntries(shown.headers)).toMatchObject({
      'content-type': 'image/jpeg',
      'cache-control': 'private, no-cache',
      'x-content-type-options': 'nosniff',
    });
    // As a browser asks again; without the second line this client would ask for no cached answer at all.
    const tag = {
      'if-none-match': shown.headers.get('etag'),
      'cache-control': 'max-age=0',
    };
    expect((await get(reader, photoId, tag)).status).toBe(304);
    const stranger = await invited(owner, await newProgram(owner, 'Strangers'), 'OWNER');
    expect((await get(stranger, photoId, tag)).status).toBe(404);
    const nobody = await fetch(`${service.url}/files/${programId}/photos/${photoId}`);
    expect(nobody.status).toBe(401);
    expect((await get(owner, randomUUID())).status).toBe(404);
    expect((await get(owner, 'x')).status).toBe(400);
  });

  it('goes and comes back by one act; sent twice it is there once', async () => {
    const input = await inputOf(PICTURE);
    const before = (await listed()).length;
    await owner.data(ADD, { programId, input });
    const { addPhoto } = await owner.data(ADD, { programId, input });
    expect(addPhoto.command.sentence).toBe('Added a photo of HB-1');
    expect((await listed()).length).toBe(before + 1);
    const photoId = addPhoto.command.id;
    const commandId = randomUUID();
    await owner.data(REMOVE, { programId, input: { commandId, photoId } });
    expect((await listed()).length).toBe(before);
    expect((await get(owner, photoId)).status).toBe(404);
    const again = await owner.refusal(REMOVE, {
      programId,
      input: { commandId: randomUUID(), photoId },
    });
    expect(again.extensions.code).toBe('NOT_FOUND');
    const undoes = { commandId: randomUUID(), undoes: commandId };
    await owner.data(UNDO, { programId, input: undoes });
    expect((await get(owner, photoId)).status).toBe(200);
    // Long after it was taken away for good, its bytes go with the next that comes.
    await owner.data(REMOVE, { programId, input: { commandId: randomUUID(), photoId } });
    await asAdmin(service.databaseName, (client) =>
      client.query("UPDATE photo_file SET removed_at = now() - interval '31 days' WHERE id = $1", [
        photoId,
      ]),
    );
    await add(PICTURE);
    const left = await asAdmin(service.databaseName, (client) =>
      client.query('SELECT FROM photo_file WHERE id = $1', [photoId]),
    );
    expect(left.rowCount).toBe(0);
  });

  it('goes along in the archive and comes back from it, of the same animal', async () => {
    const photoId = await add(PICTURE, { caption: 'Plastron' });
    const archive = await fetch(`${service.url}/files/${programId}/archive.zip`, {
      headers: { cookie: owner.cookies },
    });
    expect(archive.status).toBe(200);
    const sent = await fetch(`${service.url}/archives?name=a.zip`, {
      method: 'POST',
      headers: { 'content-type': 'application/octet-stream', cookie: owner.cookies },
      body: await archive.arrayBuffer(),
    });
    const { uploadId } = (await sent.json()) as { uploadId: string };
    const { startRestore } = await owner.data(
      'mutation($input: StartRestoreInput!) { startRestore(input: $input) { id } }',
      { input: { commandId: randomUUID(), uploadId } },
    );
    let job: Data;
    do {
      const asked =
        'query($id: ID!) { job(jobId: $id) { state error { message } restored { id } } }';
      job = (await owner.data(asked, { id: startRestore.id })).job;
    } while (['QUEUED', 'RUNNING'].includes(job.state));
    expect(job).toMatchObject({ state: 'DONE', error: null });
    const restored = job.restored.id;
    const { photos } = await owner.data(LIST, { programId: restored, animalId });
    expect(photos.photos).toEqual(await listed());
    const picture = await fetch(`${service.url}/files/${restored}/photos/${photoId}`, {
      headers: { cookie: owner.cookies },
    });
    expect(Buffer.from(await picture.arrayBuffer()).equals(PICTURE)).toBe(true);
  });

  it('has a limit for the whole program', async () => {
    const { photos } = await owner.data(LIST, { programId, animalId });
    expect(photos.roomBytes).toBe(PHOTO_ROOM_BYTES);
    // One row that says it is all of them, in place of half a gigabyte.
    await asAdmin(service.databaseName, (client) =>
      client.query(
        `ALTER TABLE photo_file DROP CONSTRAINT photo_file_size_check, DROP CONSTRAINT photo_file_bytes_check;
         INSERT INTO photo_file (program_id, id, type, size, bytes)
         VALUES ('${programId}', gen_random_uuid(), 'image/jpeg', ${PHOTO_ROOM_BYTES}, 'x')`,
      ),
    );
    const full = await owner.refusal(ADD, { programId, input: await inputOf(PICTURE) });
    expect(full).toMatchObject({
      message: expect.stringMatching(/take 500 MB already; there is room for 500 MB/),
      extensions: { code: 'CONFLICT', remedy: expect.stringContaining('30 days') },
    });
  });
});
