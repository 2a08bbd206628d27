import { Controller, Get, HttpException, Param, ParseUUIDPipe, Req, Res } from '@nestjs/common';
import type { Request, Response } from 'express';
import { Access } from '../../auth/access.js';
import { rightOverHttp } from '../../auth/right-over-http.js';
import { Sessions } from '../../auth/sessions.js';
import { Database } from '../../db/database.js';
import { inProgram } from '../../db/in-program.js';

/** The pictures themselves. */
@Controller('files')
export class PhotosController {
  constructor(
    private readonly database: Database,
    private readonly sessions: Sessions,
  ) {}

  /** GET /files/:programId/photos/:photoId: the picture. */
  @Access('anyone')
  @Get(':programId/photos/:photoId')
  async picture(
    @Param('programId') programId: string,
    @Param('photoId', ParseUUIDPipe) photoId: string,
    @Req() req: Request,
    @Res() res: Response,
  ): Promise<void> {
    const right = await rightOverHttp(this.database, this.sessions, programId, 'READER', req, res);
    // One taken away is not shown, though its bytes are still there.
    const file = await inProgram(this.database, right, (tx) =>
      tx.photoFile.findFirst({
        where: { programId: right.programId, id: photoId, photo: { isNot: null } },
      }),
    );
    if (!file) throw new HttpException('There is no such photo.', 404);
    // A picture never changes, so the browser keeps it; but whoever may no longer see it gets no 304.
    res.set({
      ETag: `"${photoId}"`,
      'Cache-Control': 'private, no-cache',
      'Content-Security-Policy': "default-src 'none'; sandbox",
      'X-Content-Type-Options': 'nosniff',
    });
    if (req.fresh) {
      res.status(304).end();
      return;
    }
    res.type(file.type).send(Buffer.from(file.bytes));
  }
}
