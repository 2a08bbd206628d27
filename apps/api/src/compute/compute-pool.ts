import { availableParallelism } from 'node:os';
import { Injectable, type OnApplicationShutdown } from '@nestjs/common';
import { Piscina } from 'piscina';
import type { TaskName, Tasks } from './worker.js';

/** Worker threads for everything that may take longer than the event loop should wait. */
@Injectable()
export class ComputePool implements OnApplicationShutdown {
  private readonly pool = new Piscina({
    filename: new URL('./worker.js', import.meta.url).href,
    minThreads: 1,
    maxThreads: Math.max(1, Math.min(4, availableParallelism())),
    idleTimeout: 60_000,
  });

  run<Name extends TaskName>(
    name: Name,
    input: Parameters<Tasks[Name]>[0],
  ): Promise<Awaited<ReturnType<Tasks[Name]>>> {
    return this.pool.run({ name, input });
  }

  /** After the last request was answered, not before. */
  onApplicationShutdown(): Promise<void> {
    return this.close();
  }

  async close(): Promise<void> {
    await this.pool.destroy();
  }
}
