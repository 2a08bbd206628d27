import { availableParallelism } from 'node:os';
import { Injectable, type OnApplicationShutdown } from '@nestjs/common';
import { Piscina } from 'piscina';
import type { TaskName, Tasks } from './worker.js';

const THREADS = Math.max(1, Math.min(4, availableParallelism()));

/** Worker threads for everything that may take longer than the event loop should wait. */
@Injectable()
export class ComputePool implements OnApplicationShutdown {
  private readonly pool = threads(1, THREADS);
  /**
   * Those of a large, entangled program take minutes: in threads of their own they hold up no page that does without. The odds of pairs keep what
   * they worked out for the next pair, so that few threads serve them best.
   */
  private readonly apart: Partial<Record<TaskName, Piscina>> = {
    genes: threads(0, Math.max(1, THREADS - 1)),
    jointParents: threads(0, Math.max(1, THREADS - 1)),
  };

  /** An aborted `signal` ends the thread that works at it. */
  run<Name extends TaskName>(
    name: Name,
    input: Parameters<Tasks[Name]>[0],
    signal?: AbortSignal,
  ): Promise<Awaited<ReturnType<Tasks[Name]>>> {
    return (this.apart[name] ?? this.pool).run({ name, input }, { signal: signal ?? null });
  }

  /** After the last request was answered, not before. */
  onApplicationShutdown(): Promise<void> {
    return this.close();
  }

  async close(): Promise<void> {
    await Promise.all([this.pool, ...Object.values(this.apart)].map((pool) => pool.destroy()));
  }
}

function threads(minThreads: number, maxThreads: number): Piscina {
  const filename = new URL('./worker.js', import.meta.url).href;
  return new Piscina({ filename, minThreads, maxThreads, idleTimeout: 60_000 });
}
