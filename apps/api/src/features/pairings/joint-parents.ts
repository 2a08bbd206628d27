import { Injectable } from '@nestjs/common';
import { ComputePool } from '../../compute/compute-pool.js';
import type { GenesAnswer } from '../../compute/genes-task.js';
import { inferenceInput, inferenceParts } from '../../compute/inference-input.js';
import type { JointAnswer } from '../../compute/joint-parents-task.js';
import { PerSnapshot } from '../../snapshot/per-snapshot.js';
import type { Snapshot } from '../../snapshot/snapshot.js';
import { today } from '../../snapshot/today.js';
import { doubtfulOf } from '../genes/genes-of-program.js';
import { breeders } from './possible-mates.js';
import type { Weighing } from './weigh-pairs.js';

/** With more, one run for all of them would be slower than one for each pair. */
const MOST_BREEDERS = 300;

let made = 0;

/** The joint odds of two parents, once for each state of what they follow from: another clutch size or a weight asks nothing anew. */
@Injectable()
export class JointParents {
  private readonly answers = new PerSnapshot<Promise<JointAnswer>>(inferenceParts);
  private readonly keys = new PerSnapshot<string>(inferenceParts);
  private readonly begun = new PerSnapshot<Promise<void>>(inferenceParts);

  constructor(private readonly pool: ComputePool) {}

  joint(snapshot: Snapshot, sire: number, dam: number, genes: GenesAnswer): Promise<JointAnswer> {
    const day = today();
    const doubtful = doubtfulOf(genes);
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

  /**
   * Begins with the pair that a list puts first, once for each state: one is likely to be asked for next, and what it takes serves
   * all of them.
   */
  expect(
    { snapshot, males, females }: Weighing,
    top: { readonly male: number; readonly female: number } | undefined,
    genes: GenesAnswer,
  ): void {
    if (!top) return;
    const begin = async () => {
      await this.joint(snapshot, males[top.male], females[top.female], genes);
    };
    // A fault is told to whoever asks for the pair itself: what failed is not kept.
    this.begun.of(snapshot, begin, today()).catch(() => undefined);
  }
}
