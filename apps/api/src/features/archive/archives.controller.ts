import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Controller, Get, HttpException, Param, Post, Query, Req, Res } from '@nestjs/common';
import type { Request, Response } from 'express';
import { Access } from '../../auth/access.js';
import { rightOverHttp } from '../../auth/right-over-http.js';
import { Sessions } from '../../auth/sessions.js';
import { Database } from '../../db/database.js';
import { keepUpload, UploadTooLarge } from '../../uploads/uploads.js';
import { readProgramRow } from '../programs/programs.resolver.js';
import { archiveName } from './archive-name.js';
import { MOST_ARCHIVE_BYTES } from './open-archive.js';
import { writeArchive } from './write-archive.js';

/** Whole programs go out, and come in to be restored, by plain HTTP. */
@Controller()
export class ArchivesController {
  constructor(
    private readonly database: Database,
    private readonly sessions: Sessions,
  ) {}

  /** POST /archives?name=herd.zip with the archive as the body; answers `{ uploadId }` for `startRestore`. */
  @Access('anyone')
  @Post('archives')
  async upload(
    @Query('name') name: string | undefined,
    @Req() req: Request,
    @Res() res: Response,
  ): Promise<void> {
    const signedIn = await this.sessions.signedIn({ req, res, rights: new Map() });
    if (!signedIn) throw new HttpException('Sign in first.', 401);
    // A form of another site can send text/plain but not this type.
    if (!req.is('application/octet-stream')) {
      throw new HttpException('Send the file as application/octet-stream.', 415);
    }
    try {
      const { accountId } = signedIn;
      const uploadId = await keepUpload(
        this.database,
        { accountId },
        name || 'an archive',
        req,
        MOST_ARCHIVE_BYTES,
      );
      res.status(201).json({ uploadId });
    } catch (error) {
      if (!(error instanceof UploadTooLarge)) throw error;
      throw new HttpException(
        `The archive has more than ${MOST_ARCHIVE_BYTES / 2 ** 30} GB and is refused.`,
        413,
      );
    }
  }

  /** GET /files/:programId/archive.zip: all records of the program; for owners. */
  @Access('anyone')
  @Get('files/:programId/archive.zip')
  async download(
    @Param('programId') programId: string,
    @Req() req: Request,
    @Res() res: Response,
  ): Promise<void> {
    const right = await rightOverHttp(this.database, this.sessions, programId, 'OWNER', req, res);
    // Written whole before a byte is sent: whatever goes wrong is an answer in words, not half a
    // file, and a slow line holds no transaction open.
    const folder = await mkdtemp(join(tmpdir(), 'scutewright-archive-'));
    try {
      const file = join(folder, 'archive.zip');
      await writeArchive(this.database, right, file);
      const { name } = await readProgramRow(this.database, right);
      await new Promise<void>((resolve, reject) => {
        res.download(file, archiveName(name, new Date()), (error) =>
          // Somebody who closes the page in the middle is no fault.
          error && !res.headersSent ? reject(error) : resolve(),
        );
      });
    } finally {
      await rm(folder, { recursive: true, force: true });
    }
  }
}
