import { Args, ID, Query, Resolver } from '@nestjs/graphql';
import { Access, Right } from '../../auth/access.js';
import type { ProgramAccess } from '../../db/in-program.js';
import { Snapshots } from '../../snapshot/snapshots.js';
import { PenConflicts } from './pens.types.js';
import { PensOfProgram } from './pens-of-program.js';

@Resolver()
export class PensResolver {
  constructor(
    private readonly snapshots: Snapshots,
    private readonly pens: PensOfProgram,
  ) {}

  @Access('READER')
  @Query(() => PenConflicts, { description: 'Who is where, and who is or will be in whose way' })
  async penConflicts(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
  ): Promise<PenConflicts> {
    return this.pens.conflicts(await this.snapshots.current(right));
  }
}
