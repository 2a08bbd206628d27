import { Args, ID, Parent, Query, ResolveField, Resolver } from '@nestjs/graphql';
import { Access, Right } from '../../auth/access.js';
import type { ProgramAccess } from '../../db/in-program.js';
import { Snapshots } from '../../snapshot/snapshots.js';
import { Animal } from '../animals/animal.types.js';
import { AnimalListArgs, firstOf } from '../animals/first-animals.js';
import { positionOf } from '../animals/positions.js';
import { PenConflicts, PenIfMoved } from './pens.types.js';
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

  @Access('READER')
  @Query(() => [PenIfMoved], {
    description: 'The three pens with the least against an animal over ten years, best first',
  })
  async pensIfMoved(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Args('animalId', { type: () => ID }) animalId: string,
  ): Promise<PenIfMoved[]> {
    const snapshot = await this.snapshots.current(right);
    return this.pens.ifMoved(snapshot, positionOf(snapshot, animalId, 'animalId'));
  }
}

@Resolver(() => PenConflicts)
export class PenConflictsResolver {
  @ResolveField(() => [Animal], { description: 'Hatched here and in no pen, by code' })
  unplaced(@Parent() { unplaced }: PenConflicts, @Args() args: AnimalListArgs): Animal[] {
    return firstOf(unplaced, args);
  }
}
