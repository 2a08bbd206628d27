import { Injectable, type OnApplicationShutdown } from '@nestjs/common';
import pg from 'pg';
import { Config } from '../config.js';
import { REVISION_CHANNEL } from '../db/command.js';

const AGAIN_AFTER_MS = 1000;

type Listener = (revision: number | null) => void;

/**
 * Hears of every new revision, whichever process wrote it: PostgreSQL's LISTEN on one connection
 * of its own, opened with the first listener. When the connection is lost it is opened again, and every
 * listener is told `null`: something may have been missed, look for yourself.
 */
@Injectable()
export class LiveRevisions implements OnApplicationShutdown {
  private readonly listeners = new Map<string, Set<Listener>>();
  private connection: Promise<pg.Client> | null = null;
  private isClosed = false;

  constructor(private readonly config: Config) {}

  /** Resolves when it hears; answers how to stop. */
  async listen(programId: string, listener: Listener): Promise<() => void> {
    const own = this.listeners.get(programId) ?? new Set();
    this.listeners.set(programId, own.add(listener));
    const stop = () => {
      own.delete(listener);
      if (own.size === 0 && this.listeners.get(programId) === own) this.listeners.delete(programId);
    };
    try {
      this.connection ??= this.connect();
      await this.connection;
    } catch (error) {
      stop();
      throw error;
    }
    return stop;
  }

  async onApplicationShutdown(): Promise<void> {
    this.isClosed = true;
    const client = await this.connection?.catch(() => null);
    await client?.end();
  }

  private async connect(): Promise<pg.Client> {
    const client = new pg.Client({
      connectionString: this.config.databaseUrl,
      application_name: 'scutewright live',
    });
    client.on('notification', ({ payload }) => {
      const [programId, revision] = (payload ?? '').split(' ');
      for (const tell of this.listeners.get(programId) ?? []) tell(Number(revision));
    });
    client.on('error', () => {}); // 'end' follows, and is answered below
    client.once('end', () => this.lost());
    try {
      await client.connect();
      await client.query(`LISTEN ${REVISION_CHANNEL}`);
    } catch (error) {
      this.connection = null;
      throw error;
    }
    return client;
  }

  private lost(): void {
    this.connection = null;
    if (this.isClosed || this.listeners.size === 0) return;
    const again = setTimeout(() => {
      this.connection ??= this.connect();
      this.connection.then(
        () => {
          for (const own of this.listeners.values()) for (const tell of own) tell(null);
        },
        () => this.lost(),
      );
    }, AGAIN_AFTER_MS);
    again.unref();
  }
}
