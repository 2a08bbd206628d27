import { Controller, Get, HttpException, Param, Post, Query, Req, Res } from '@nestjs/common';
import { MOST_BYTES } from '@scutewright/commands';
import type { Request, Response } from 'express';
import { Access } from '../../auth/access.js';
import { rightOverHttp } from '../../auth/right-over-http.js';
import { Sessions } from '../../auth/sessions.js';
import { Database } from '../../db/database.js';
import { keepUpload, UploadTooLarge } from '../../uploads/uploads.js';
import { exportText } from './export-program.js';

/** Files go in and out by plain HTTP; what is done with them goes through GraphQL. */
@Controller('files')
export class FilesController {
  constructor(
    private readonly database: Database,
    private readonly sessions: Sessions,
  ) {}

  /** POST /files/:programId?name=herd.csv with the file as the body; answers `{ uploadId }`. */
  @Access('anyone')
  @Post(':programId')
  async upload(
    @Param('programId') programId: string,
    @Query('name') name: string | undefined,
    @Req() req: Request,
    @Res() res: Response,
  ): Promise<void> {
    const right = await rightOverHttp(this.database, this.sessions, programId, 'KEEPER', req, res);
    // A form of another site can send text/plain but not this type.
    if (!req.is('application/octet-stream')) {
      throw new HttpException('Send the file as application/octet-stream.', 415);
    }
    try {
      const uploadId = await keepUpload(this.database, right, name || 'a file', req, MOST_BYTES);
      res.status(201).json({ uploadId });
    } catch (error) {
      if (!(error instanceof UploadTooLarge)) throw error;
      throw new HttpException(
        `The file has more than ${MOST_BYTES / 2 ** 20} MB. Split it into several.`,
        413,
      );
    }
  }

  /** GET /files/:programId/program.csv: the animals as a program file. */
  @Access('anyone')
  @Get(':programId/program.csv')
  async download(
    @Param('programId') programId: string,
    @Query('formulaSafe') formulaSafe: string | undefined,
    @Req() req: Request,
    @Res() res: Response,
  ): Promise<void> {
    const right = await rightOverHttp(this.database, this.sessions, programId, 'READER', req, res);
    const text = await exportText(this.database, right, formulaSafe === 'true');
    res.type('text/csv; charset=utf-8').attachment('program.csv').send(text);
  }
}
