import { Injectable } from '@nestjs/common';
import { ComputePool } from '../../compute/compute-pool.js';
import { inferenceInput, inferenceParts } from '../../compute/inference-input.js';
import type { JointAnswer } from '../../compute/joint-parents-task.js';
import { PerSnapshot } from '../../snapshot/per-snapshot.js';
import type { Snapshot } from '../../snapshot/snapshot.js';
import { today } from '../../snapshot/today.js';
import { breeders } from './possible-mates.js';

/** With more, one run for all of them would be slower than one for each pair. */
const MOST_BREEDERS = 300;

let made = 0;

/** The joint odds of two parents, once for each state of what they follow from: another clutch size or a weight asks nothing anew. */
@Injectable()
export class JointParents {
  private readonly answers = new PerSnapshot<Promise<JointAnswer>>(inferenceParts);
  private readonly keys = new PerSnapshot<string>(inferenceParts);

  constructor(private readonly pool: ComputePool) {}

  joint(
    snapshot: Snapshot,
    sire: number,
    dam: number,
    doubtful: readonly string[],
  ): Promise<JointAnswer> {
    const day = today();
    const work = () => {
      const key = this.keys.of(snapshot, () => `books ${++made}`, day);
      const program = inferenceInput(snapshot, day);
      const { males, females } = breeders(snapshot, day, {}, null);
      const all = [...males, ...females];
      const likely = all.length > MOST_BREEDERS ? [] : all;
      return this.pool.run('jointParents', { key, program, doubtful, breeders: likely, sire, dam });
    };
    return this.answers.of(snapshot, work, `${day} ${sire} ${dam}`);
  }
}
