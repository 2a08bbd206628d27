import { Injectable } from '@nestjs/common';
import { ComputePool } from '../../compute/compute-pool.js';
import type { GenesAnswer } from '../../compute/genes-task.js';
import { inferenceInput, inferenceParts } from '../../compute/inference-input.js';
import { soon } from '../../compute/soon.js';
import { PerSnapshot } from '../../snapshot/per-snapshot.js';
import type { Snapshot } from '../../snapshot/snapshot.js';
import { today } from '../../snapshot/today.js';
import { GeneRuns } from './gene-runs.js';

/** So long after its start a page waits for what is only a part of its answer. */
const LONG_MS = 300;

/**
 * The inference over a snapshot. Kept by what it is computed from, so that a weight, a move or a note that tells nothing of genes costs no
 * second run.
 */
@Injectable()
export class GenesOfProgram {
  private readonly answers = new PerSnapshot<Promise<GenesAnswer>>(inferenceParts);
  private readonly runs: GeneRuns;
  private readonly begun = new WeakMap<Promise<GenesAnswer>, number>();

  constructor(pool: ComputePool) {
    this.runs = new GeneRuns(pool);
  }

  /** The answer, or null where it takes long: pages tell the rest meanwhile, and ask again. Only the first of them waits. */
  soonFor(snapshot: Snapshot): Promise<GenesAnswer | null> {
    const answer = this.answerFor(snapshot);
    const begun = this.begun.get(answer) ?? performance.now();
    this.begun.set(answer, begun);
    return soon(answer, Math.max(0, begun + LONG_MS - performance.now()));
  }

  answerFor(snapshot: Snapshot): Promise<GenesAnswer> {
    const day = today();
    const { programId, revision } = snapshot;
    const work = () => this.runs.answer(programId, inferenceInput(snapshot, day));
    const answer = this.answers.of(snapshot, work, day);
    this.runs.holdsAt(answer, programId, revision);
    return answer;
  }
}

/** Records that contradict each other, by id: they are left out of what is worked out from the rest. */
export const doubtfulOf = ({ clashes }: GenesAnswer): string[] => [...new Set(clashes.flat())];
