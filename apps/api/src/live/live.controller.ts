import { Controller, Get, type OnModuleDestroy, Param, Req, Res } from '@nestjs/common';
import type { Request, Response } from 'express';
import { Access } from '../auth/access.js';
import { rightOverHttp } from '../auth/right-over-http.js';
import { Sessions } from '../auth/sessions.js';
import { Database } from '../db/database.js';
import { accessTo, inProgram, type ProgramAccess } from '../db/in-program.js';
import { LiveRevisions } from './live-revisions.js';

/** Keeps proxies from closing a stream in which nothing happens. */
const BEAT_MS = 25_000;

/** An open page hears of new records: server-sent events that carry nothing but the revision. */
@Controller('live')
export class LiveController implements OnModuleDestroy {
  private readonly open = new Set<Response>();

  constructor(
    private readonly database: Database,
    private readonly sessions: Sessions,
    private readonly revisions: LiveRevisions,
  ) {}

  /** GET /live/:programId: `data: 42` now and whenever the program's revision grows. Ends when the membership does. */
  @Access('anyone')
  @Get(':programId')
  async stream(
    @Param('programId') programId: string,
    @Req() req: Request,
    @Res() res: Response,
  ): Promise<void> {
    const right = await rightOverHttp(this.database, this.sessions, programId, 'READER', req, res);
    let told = -1;
    const tell = async (heard: number | null): Promise<void> => {
      // Asked each time: who was put out of the program hears no more.
      if (!(await accessTo(this.database, right.accountId, programId))) return void res.end();
      const revision = heard ?? (await this.revision(right));
      if (revision <= told || res.writableEnded) return;
      told = revision;
      res.write(`data: ${revision}\n\n`);
    };
    const orEnd = (heard: number | null) => {
      tell(heard).catch(() => res.end()); // the browser comes again by itself
    };
    const stop = await this.revisions.listen(programId, orEnd);
    if (res.closed) return stop();
    const beat = setInterval(() => res.write(':\n\n'), BEAT_MS);
    this.open.add(res);
    res.once('close', () => {
      stop();
      clearInterval(beat);
      this.open.delete(res);
    });
    res.writeHead(200, {
      'content-type': 'text/event-stream; charset=utf-8',
      'cache-control': 'no-store',
      // So that nothing is left open once the stream has ended.
      connection: 'close',
      'x-accel-buffering': 'no',
    });
    res.flushHeaders();
    await tell(null);
  }

  /** Streams never end by themselves, and the service waits for every request. */
  onModuleDestroy(): void {
    for (const res of this.open) res.end();
  }

  private async revision(right: ProgramAccess): Promise<number> {
    const { revision } = await inProgram(this.database, right, (tx) =>
      tx.program.findUniqueOrThrow({ where: { id: right.programId }, select: { revision: true } }),
    );
    return revision;
  }
}
