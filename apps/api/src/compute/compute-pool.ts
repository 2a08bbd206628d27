import { availableParallelism } from 'node:os';
import { Injectable, type OnModuleDestroy } from '@nestjs/common';
import { Piscina } from 'piscina';
import type { TaskName, Tasks } from './worker.js';

/** Worker threads for everything that may take longer than the event loop should wait. */
@Injectable()
export class ComputePool implements OnModuleDestroy {
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

  async onModuleDestroy(): Promise<void> {
    await this.pool.destroy();
  }
}
