import { Controller, Get, Res } from '@nestjs/common';
import type { Response } from 'express';
import { Access } from '../auth/access.js';
import { Database } from '../db/database.js';
import { pendingMigrations } from '../db/migrations.js';

@Controller()
export class HealthController {
  constructor(private readonly database: Database) {}

  /** The process is up. */
  @Access('anyone')
  @Get('healthz')
  healthz(): { status: string } {
    return { status: 'up' };
  }

  /** The database answers and has the schema of this version. */
  @Access('anyone')
  @Get('readyz')
  async readyz(@Res() res: Response): Promise<void> {
    const reason = await this.whyNotReady();
    res
      .status(reason ? 503 : 200)
      .json(reason ? { status: 'not ready', reason } : { status: 'ready' });
  }

  private async whyNotReady(): Promise<string | null> {
    try {
      const client = await this.database.pool.connect();
      try {
        const pending = await pendingMigrations(client);
        return pending.length > 0 ? `${pending.length} migrations are to be applied` : null;
      } finally {
        client.release();
      }
    } catch (error) {
      return `The database does not answer as expected: ${error instanceof Error ? error.message : error}`;
    }
  }
}
