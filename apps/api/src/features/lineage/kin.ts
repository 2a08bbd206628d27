import { Injectable } from '@nestjs/common';
import { type DeclaredKin, declareFounderKin } from '@scutewright/pedigree';
import { ComputePool } from '../../compute/compute-pool.js';
import type { InbreedingAnswer } from '../../compute/inbreeding-task.js';
import type { healthTask, PairFigure } from '../../compute/kin-task.js';
import { pedigreeOf, pedigreeParts, worstPedigreeOf } from '../../compute/pedigree-of.js';
import { PerSnapshot } from '../../snapshot/per-snapshot.js';
import type { Snapshot } from '../../snapshot/snapshot.js';

type HealthAnswer = ReturnType<typeof healthTask>;

/** Relatedness over a snapshot, computed by the workers. */
@Injectable()
export class Kin {
  private readonly inbreedings = new PerSnapshot<Promise<InbreedingAnswer>>(pedigreeParts);
  private readonly healths = new PerSnapshot<Promise<HealthAnswer>>();

  constructor(private readonly pool: ComputePool) {}

  /** F and completeness of everybody, once for each state of the pedigree. */
  inbreeding(snapshot: Snapshot): Promise<InbreedingAnswer> {
    return this.inbreedings.of(snapshot, () => this.pool.run('inbreeding', pedigreeOf(snapshot)));
  }

  pairs(snapshot: Snapshot, positions: readonly number[]): Promise<PairFigure[]> {
    return this.pool.run('pairs', {
      ...pedigreeOf(snapshot),
      worst: worstPedigreeOf(snapshot),
      animals: Int32Array.from(positions),
    });
  }

  /** Two animals as they would be related if two founders were kin. */
  async pairIf(snapshot: Snapshot, a: number, b: number, kin: DeclaredKin): Promise<PairFigure> {
    const { key, pedigree } = pedigreeOf(snapshot);
    const [figure] = await this.pool.run('pairs', {
      key: `${key} ${kin.a} ${kin.b} ${kin.relatedness}`,
      pedigree: declareFounderKin(pedigree, [kin]),
      worst: null,
      animals: Int32Array.of(a, b),
    });
    return figure;
  }

  paths(snapshot: Snapshot, a: number, b: number, most: number) {
    return this.pool.run('paths', { ...pedigreeOf(snapshot), a, b, most });
  }

  lineage(snapshot: Snapshot, animal: number, shown: readonly number[]) {
    return this.pool.run('lineage', {
      ...pedigreeOf(snapshot),
      animal,
      shown: Int32Array.from(shown),
    });
  }

  /** The state of the living group, once per snapshot. */
  health(snapshot: Snapshot, positions: readonly number[]): Promise<HealthAnswer> {
    return this.healths.of(snapshot, () =>
      this.pool.run('health', { ...pedigreeOf(snapshot), animals: Int32Array.from(positions) }),
    );
  }
}
