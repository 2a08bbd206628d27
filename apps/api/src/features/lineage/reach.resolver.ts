import { Args, ID, Query, Resolver } from '@nestjs/graphql';
import { Access, Right } from '../../auth/access.js';
import { Database } from '../../db/database.js';
import { inProgram, type ProgramAccess } from '../../db/in-program.js';
import { notFound } from '../../graphql/errors.js';
import { Snapshots } from '../../snapshot/snapshots.js';
import { correctionReach } from './correction-reach.js';
import { CorrectionReach } from './reach.types.js';

@Resolver()
export class ReachResolver {
  constructor(
    private readonly database: Database,
    private readonly snapshots: Snapshots,
  ) {}

  @Access('KEEPER')
  @Query(() => CorrectionReach, {
    description: "Whom a correction of a clutch's parents reaches, before or after it is made",
  })
  async correctionReach(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Args('clutchId', { type: () => ID }) clutchId: string,
  ): Promise<CorrectionReach> {
    const snapshot = await this.snapshots.current(right);
    const position = snapshot.clutches.ids.indexOf(clutchId);
    if (position < 0)
      throw notFound('such clutch', 'clutchId', 'Look it up among the clutches again.');
    return inProgram(this.database, right, (tx) => correctionReach(tx, snapshot, position));
  }
}
