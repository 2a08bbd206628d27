import { Injectable } from '@nestjs/common';
import { ComputePool } from '../../compute/compute-pool.js';
import type { GenesAnswer } from '../../compute/genes-task.js';
import { inferenceInput } from '../../compute/inference-input.js';
import type { Snapshot } from '../../snapshot/snapshot.js';
import { today } from '../../snapshot/today.js';

/** The inference over a snapshot, once per snapshot. */
@Injectable()
export class GenesOfProgram {
  private readonly answers = new WeakMap<Snapshot, Promise<GenesAnswer>>();

  constructor(private readonly pool: ComputePool) {}

  answerFor(snapshot: Snapshot): Promise<GenesAnswer> {
    let answer = this.answers.get(snapshot);
    if (!answer) {
      answer = this.pool.run('genes', inferenceInput(snapshot, today()));
      this.answers.set(snapshot, answer);
      answer.catch(() => this.answers.delete(snapshot));
    }
    return answer;
  }
}
