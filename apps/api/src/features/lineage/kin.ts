import { Injectable } from '@nestjs/common';
import { ComputePool } from '../../compute/compute-pool.js';
import type { InbreedingAnswer } from '../../compute/inbreeding-task.js';
import type { healthTask, PairFigure } from '../../compute/kin-task.js';
import { pedigreeOf } from '../../compute/pedigree-of.js';
import type { Snapshot } from '../../snapshot/snapshot.js';

type HealthAnswer = ReturnType<typeof healthTask>;

/** Relatedness over a snapshot, computed by the workers. */
@Injectable()
export class Kin {
  private readonly answers = new WeakMap<Snapshot, Promise<InbreedingAnswer>>();
  private readonly healths = new WeakMap<Snapshot, Promise<HealthAnswer>>();

  constructor(private readonly pool: ComputePool) {}

  /** F and completeness of everybody, once per snapshot. */
  inbreeding(snapshot: Snapshot): Promise<InbreedingAnswer> {
    let answer = this.answers.get(snapshot);
    if (!answer) {
      answer = this.pool.run('inbreeding', this.input(snapshot));
      this.answers.set(snapshot, answer);
      answer.catch(() => this.answers.delete(snapshot));
    }
    return answer;
  }

  pairs(snapshot: Snapshot, positions: readonly number[]): Promise<PairFigure[]> {
    return this.pool.run('pairs', { ...this.input(snapshot), animals: Int32Array.from(positions) });
  }

  paths(snapshot: Snapshot, a: number, b: number, most: number) {
    return this.pool.run('paths', { ...this.input(snapshot), a, b, most });
  }

  lineage(snapshot: Snapshot, animal: number, shown: readonly number[]) {
    return this.pool.run('lineage', {
      ...this.input(snapshot),
      animal,
      shown: Int32Array.from(shown),
    });
  }

  /** The state of the living group, once per snapshot. */
  health(snapshot: Snapshot, positions: readonly number[]): Promise<HealthAnswer> {
    let answer = this.healths.get(snapshot);
    if (!answer) {
      const animals = Int32Array.from(positions);
      answer = this.pool.run('health', { ...this.input(snapshot), animals });
      this.healths.set(snapshot, answer);
      answer.catch(() => this.healths.delete(snapshot));
    }
    return answer;
  }

  private input(snapshot: Snapshot) {
    const { programId, revision, supposition = '' } = snapshot;
    return { key: `${programId} ${revision} ${supposition}`, pedigree: pedigreeOf(snapshot) };
  }
}
