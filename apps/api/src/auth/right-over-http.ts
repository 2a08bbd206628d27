import { HttpException } from '@nestjs/common';
import type { Role } from '@scutewright/commands';
import type { Request, Response } from 'express';
import type { Database } from '../db/database.js';
import type { ProgramAccess } from '../db/in-program.js';
import { UserError } from '../graphql/errors.js';
import { rightTo } from './access.js';
import type { Sessions } from './sessions.js';

/** `rightTo` for a plain HTTP route: refusals become 401, 403 or 404 with the same words. */
export async function rightOverHttp(
  database: Database,
  sessions: Sessions,
  programId: string,
  role: Role,
  req: Request,
  res: Response,
): Promise<ProgramAccess> {
  try {
    return await rightTo(database, sessions, { req, res, rights: new Map() }, programId, role);
  } catch (error) {
    if (!(error instanceof UserError)) throw error;
    const status = { NOT_SIGNED_IN: 401, FORBIDDEN: 403 }[String(error.extensions.code)] ?? 404;
    throw new HttpException({ message: error.message, ...error.extensions }, status);
  }
}
