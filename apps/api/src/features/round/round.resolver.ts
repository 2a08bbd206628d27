import { Args, ID, Query, Resolver } from '@nestjs/graphql';
import { Access, Right } from '../../auth/access.js';
import { Database } from '../../db/database.js';
import { inProgram, type ProgramAccess } from '../../db/in-program.js';
import { Snapshots } from '../../snapshot/snapshots.js';
import { today } from '../../snapshot/today.js';
import { RoundCopy } from './round.types.js';
import { roundCopy } from './round-copy.js';

@Resolver()
export class RoundResolver {
  constructor(
    private readonly database: Database,
    private readonly snapshots: Snapshots,
  ) {}

  @Access('READER')
  @Query(() => RoundCopy, { description: 'What a phone keeps, so that a round needs no signal' })
  async roundCopy(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
  ): Promise<RoundCopy> {
    const photos = await inProgram(this.database, right, (tx) =>
      tx.photo.findMany({
        where: { programId: right.programId },
        select: { id: true, animalId: true },
        orderBy: [{ dateEarliest: { sort: 'asc', nulls: 'first' } }, { id: 'asc' }],
      }),
    );
    const latest = new Map(photos.map(({ id, animalId }) => [animalId, id]));
    return roundCopy(await this.snapshots.current(right), today(), latest);
  }
}
