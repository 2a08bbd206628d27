import { Injectable, type OnApplicationShutdown } from '@nestjs/common';
import { PrismaPg } from '@prisma/adapter-pg';
import pg from 'pg';
import { type Prisma, PrismaClient } from '../generated/prisma/client.js';

export type Tx = Prisma.TransactionClient;

// Dates and big integers as text: a calendar day has no time zone to be lost in.
const DATE_OID = 1082;
pg.types.setTypeParser(DATE_OID, (text) => text);

/**
 * The connection pool and Prisma over it, as the owner of the tables. Rows of a program are
 * not read through it but through `inProgram`; the owner itself sees none of them.
 */
@Injectable()
export class Database implements OnApplicationShutdown {
  readonly pool: pg.Pool;
  readonly prisma: PrismaClient;

  /** `name` is what the server shows of these connections. */
  constructor(url: string, name = 'scutewright', most = 12) {
    this.pool = new pg.Pool({ connectionString: url, max: most, application_name: name });
    // A connection lost while idle (server restarted) is replaced at the next use.
    this.pool.on('error', () => {});
    this.prisma = new PrismaClient({ adapter: new PrismaPg(this.pool) });
  }

  /** After the last request was answered, not before. */
  onApplicationShutdown(): Promise<void> {
    return this.close();
  }

  async close(): Promise<void> {
    await this.prisma.$disconnect();
    await this.pool.end();
  }
}
