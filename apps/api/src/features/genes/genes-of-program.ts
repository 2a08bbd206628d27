import { createHash } from 'node:crypto';
import { Injectable } from '@nestjs/common';
import type { ProgramInput } from '@scutewright/inference';
import { ComputePool } from '../../compute/compute-pool.js';
import type { GenesAnswer } from '../../compute/genes-task.js';
import { inferenceInput, inferenceParts } from '../../compute/inference-input.js';
import { soon } from '../../compute/soon.js';
import { PerSnapshot } from '../../snapshot/per-snapshot.js';
import type { Snapshot } from '../../snapshot/snapshot.js';
import { today } from '../../snapshot/today.js';

/** So long after its start a page waits for what is only a part of its answer. */
const LONG_MS = 300;
/** Answers that are kept, of all programs and suppositions together. */
const MOST_KEPT = 32;

/**
 * The inference over a snapshot. Kept by what it is computed from, so that a weight, a move or a note that tells nothing of genes costs no
 * second run.
 */
@Injectable()
export class GenesOfProgram {
  private readonly answers = new PerSnapshot<Promise<GenesAnswer>>(inferenceParts);
  private readonly byInput = new Map<string, Promise<GenesAnswer>>();
  private readonly begun = new WeakMap<Promise<GenesAnswer>, number>();

  constructor(private readonly pool: ComputePool) {}

  /** The answer, or null where it takes long: pages tell the rest meanwhile, and ask again. Only the first of them waits. */
  soonFor(snapshot: Snapshot): Promise<GenesAnswer | null> {
    const answer = this.answerFor(snapshot);
    const begun = this.begun.get(answer) ?? performance.now();
    this.begun.set(answer, begun);
    return soon(answer, Math.max(0, begun + LONG_MS - performance.now()));
  }

  answerFor(snapshot: Snapshot): Promise<GenesAnswer> {
    const day = today();
    return this.answers.of(snapshot, () => this.find(inferenceInput(snapshot, day)), day);
  }

  private find(input: ProgramInput): Promise<GenesAnswer> {
    const key = createHash('sha256').update(JSON.stringify(input)).digest('base64');
    const answer = this.byInput.get(key) ?? this.pool.run('genes', input);
    this.byInput.delete(key);
    this.byInput.set(key, answer);
    for (const oldest of this.byInput.keys()) {
      if (this.byInput.size <= MOST_KEPT) break;
      this.byInput.delete(oldest);
    }
    answer.catch(() => this.byInput.delete(key));
    return answer;
  }
}
