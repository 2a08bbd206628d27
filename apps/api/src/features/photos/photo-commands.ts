import { Injectable } from '@nestjs/common';
import {
  type AddPhotoInput,
  MOST_PHOTO_BYTES,
  PHOTO_ROOM_BYTES,
  type RemovePhotoInput,
} from '@scutewright/commands';
import { command } from '../../db/command.js';
import { Database, type Tx } from '../../db/database.js';
import { dateColumns } from '../../db/date-columns.js';
import { inProgram, type ProgramAccess } from '../../db/in-program.js';
import { notFound, UserError } from '../../graphql/errors.js';
import { dropUpload, findUpload, readUpload } from '../../uploads/uploads.js';
import { type StrippedPicture, stripPicture } from './strip-picture.js';

/** A picture taken away can be brought back for so long; then its bytes go too. */
const DAYS_KEPT = 30;
const MB = 2 ** 20;

/** Photographs of animals come and go. */
@Injectable()
export class PhotoCommands {
  constructor(private readonly database: Database) {}

  /** Keeps an uploaded picture without place and camera; what was sent, which may tell them, is thrown away. */
  async add(right: ProgramAccess, input: AddPhotoInput): Promise<{ photoId: string }> {
    const { programId } = right;
    const request = { id: input.commandId, kind: 'add-photo' };
    const earlier = await inProgram(this.database, right, (tx) =>
      tx.command.findUnique({ where: { programId_id: { programId, id: input.commandId } } }),
    );
    // Sent again after the upload is gone: `command` answers as it did the first time.
    const picture = earlier ? null : await this.pictureOf(right, input.uploadId);
    const result = await command(this.database, right, request, async (tx) => {
      const { animalId, commandId: id } = input;
      const animal = await tx.animal.findUnique({
        where: { programId_id: { programId, id: animalId } },
        select: { code: true },
      });
      if (!animal) throw notFound('such animal', 'input.animalId', 'Look for it again.');
      if (!picture) throw new Error('The earlier act is gone');
      await forgetRemoved(tx);
      await refuseFull(tx, picture.bytes.length);
      const { type, bytes } = picture;
      await tx.photoFile.create({ data: { programId, id, type, size: bytes.length, bytes } });
      await tx.photo.create({
        data: {
          ...{ programId, id, animalId, caption: input.caption || null },
          ...dateColumns('date', input.date || null),
        },
      });
      return { sentence: `Added a photo of ${animal.code}`, result: { photoId: id } };
    });
    await dropUpload(this.database, right, input.uploadId);
    return result;
  }

  remove(right: ProgramAccess, input: RemovePhotoInput): Promise<{ photoId: string }> {
    const { programId } = right;
    const { photoId: id } = input;
    const request = { id: input.commandId, kind: 'remove-photo' };
    return command(this.database, right, request, async (tx) => {
      const where = { programId_id: { programId, id } };
      const photo = await tx.photo.findUnique({
        where,
        select: { animal: { select: { code: true } } },
      });
      if (!photo) throw notFound('such photo', 'input.photoId', 'Look at the animal again.');
      await tx.photo.delete({ where });
      await tx.photoFile.update({ where, data: { removedAt: new Date() } });
      return { sentence: `Took a photo of ${photo.animal.code} away`, result: { photoId: id } };
    });
  }

  private async pictureOf(right: ProgramAccess, uploadId: string): Promise<StrippedPicture> {
    const place = 'input.uploadId';
    const upload = await findUpload(this.database, right, uploadId);
    if (!upload) {
      throw notFound('such upload', place, 'Send the picture again; uploads are kept for a day.');
    }
    if (upload.size > MOST_PHOTO_BYTES) {
      throw new UserError(
        'BAD_USER_INPUT',
        `The picture has ${(upload.size / MB).toFixed(1)} MB; at most ${MOST_PHOTO_BYTES / MB} MB are kept.`,
        { thing: upload.name, place, remedy: 'Make it smaller, or take it with fewer pixels.' },
      );
    }
    const bytes = await readUpload(this.database, right, upload.id, 0, upload.size);
    const picture = stripPicture(bytes);
    if (picture) return picture;
    throw new UserError('BAD_USER_INPUT', 'This is no whole JPEG, PNG or WebP picture.', {
      thing: upload.name,
      place,
      remedy: 'Send a photo in one of these formats; it may not have come over whole.',
    });
  }
}

/** Pictures that nothing speaks of any more, after the time in which they could come back. */
async function forgetRemoved(tx: Tx): Promise<void> {
  // Adding one may have been undone: then the time runs from now.
  await tx.$executeRaw`
    UPDATE photo_file f SET removed_at = now() WHERE removed_at IS NULL
      AND NOT EXISTS (SELECT FROM photo p WHERE p.id = f.id)`;
  await tx.$executeRaw`
    DELETE FROM photo_file f WHERE removed_at < now() - make_interval(days => ${DAYS_KEPT})
      AND NOT EXISTS (SELECT FROM photo p WHERE p.id = f.id)`;
}

async function refuseFull(tx: Tx, more: number): Promise<void> {
  const used = await usedBytes(tx);
  if (used + more <= PHOTO_ROOM_BYTES) return;
  throw new UserError(
    'CONFLICT',
    `The photos of this program take ${Math.round(used / MB)} MB already; there is room for ${PHOTO_ROOM_BYTES / MB} MB.`,
    {
      place: 'input.uploadId',
      remedy: `Take some away; their room is free again after ${DAYS_KEPT} days.`,
    },
  );
}

/** What all pictures of the program take, those taken away included. */
export async function usedBytes(tx: Tx): Promise<number> {
  const { _sum } = await tx.photoFile.aggregate({ _sum: { size: true } });
  return _sum.size ?? 0;
}
