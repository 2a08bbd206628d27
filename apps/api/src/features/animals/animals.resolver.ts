import { Args, ID, Int, Mutation, Parent, Query, ResolveField, Resolver } from '@nestjs/graphql';
import {
  type AddAnimalInput,
  addAnimalSchema,
  type EditAnimalInput,
  editAnimalSchema,
  type RemoveAnimalInput,
  removeAnimalSchema,
  type Sex,
  sexSchema,
} from '@scutewright/commands';
import { Access, Ctx, Right } from '../../auth/access.js';
import { Accounts } from '../../auth/accounts.js';
import { Database } from '../../db/database.js';
import { inProgram, type ProgramAccess } from '../../db/in-program.js';
import { type Connection, pageOf, pageStart } from '../../graphql/connection.js';
import type { RequestContext } from '../../graphql/context.js';
import { notFound } from '../../graphql/errors.js';
import { enumType, Input } from '../../graphql/input-from-zod.js';
import { Snapshots } from '../../snapshot/snapshots.js';
import { CommandPayload, readCommand } from '../history/command.types.js';
import { Program } from '../programs/program.types.js';
import { readProgramRow } from '../programs/programs.resolver.js';
import { Animal, AnimalConnection, AnimalOrder, AnimalPayload } from './animal.types.js';
import { AnimalCommands } from './animal-commands.js';
import { nextCode, searchAnimals } from './search-animals.js';

@Resolver(() => Animal)
export class AnimalsResolver {
  constructor(
    private readonly database: Database,
    private readonly snapshots: Snapshots,
    private readonly commands: AnimalCommands,
    private readonly accounts: Accounts,
  ) {}

  @Access('READER')
  @Query(() => AnimalConnection, {
    description: 'The register: animals by code, name, sex, species',
  })
  async animals(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Args('first', { type: () => Int, defaultValue: 50, description: '1 to 500' }) first: number,
    @Args('after', { type: () => String, nullable: true }) after?: string,
    @Args('search', { type: () => String, nullable: true, description: 'Part of a code or name' })
    search?: string,
    @Args('sex', { type: () => enumType(sexSchema), nullable: true }) sex?: Sex,
    @Args('species', { type: () => String, nullable: true }) species?: string,
    @Args('orderBy', { type: () => AnimalOrder, defaultValue: 'CODE' })
    orderBy: AnimalOrder = 'CODE',
  ): Promise<Connection<Animal>> {
    const start = pageStart(first, after);
    const snapshot = await this.snapshots.current(right);
    const found = searchAnimals(snapshot, { search, sex, species, orderBy });
    const page = found
      .slice(start, start + first)
      .map((position) => new Animal(snapshot, position));
    return pageOf(page, start, found.length);
  }

  @Access('READER')
  @Query(() => Animal, {
    nullable: true,
    description: 'One animal by id or by code; null where there is none',
  })
  async animal(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Args('id', { type: () => ID, nullable: true }) id?: string,
    @Args('code', { type: () => String, nullable: true }) code?: string,
  ): Promise<Animal | null> {
    const snapshot = await this.snapshots.current(right);
    const position = id
      ? snapshot.animals.positionById.get(id)
      : snapshot.animals.positionByCode.get(code ?? '');
    return position === undefined ? null : new Animal(snapshot, position);
  }

  @Access('KEEPER')
  @Query(() => String, { description: 'The next free code by the pattern of the latest ones' })
  async suggestCode(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
  ): Promise<string> {
    return nextCode(await this.snapshots.current(right));
  }

  @ResolveField(() => String, { nullable: true })
  async notes(@Parent() animal: Animal, @Ctx() context: RequestContext): Promise<string | null> {
    const { programId } = animal.snapshot;
    const right = context.rights.get(programId);
    if (!right) return null;
    const row = await inProgram(this.database, right, (tx) =>
      tx.animal.findUnique({
        where: { programId_id: { programId, id: animal.id } },
        select: { notes: true },
      }),
    );
    return row?.notes ?? null;
  }

  @Access('KEEPER')
  @Mutation(() => AnimalPayload, { description: 'Adds an animal' })
  async addAnimal(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Input(addAnimalSchema) input: AddAnimalInput,
  ): Promise<AnimalPayload> {
    const { animalId } = await this.commands.add(right, input);
    return this.payload(right, animalId, input.commandId);
  }

  @Access('KEEPER')
  @Mutation(() => AnimalPayload, {
    description: 'Corrects an animal; parents are those of its whole clutch',
  })
  async editAnimal(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Input(editAnimalSchema) input: EditAnimalInput,
  ): Promise<AnimalPayload> {
    const { animalId } = await this.commands.edit(right, input);
    return this.payload(right, animalId, input.commandId);
  }

  @Access('KEEPER')
  @Mutation(() => CommandPayload, { description: 'Removes an animal that was entered by mistake' })
  async removeAnimal(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Input(removeAnimalSchema) input: RemoveAnimalInput,
  ): Promise<CommandPayload> {
    await this.commands.remove(right, input);
    return {
      command: await readCommand(this.database, this.accounts, right, input.commandId),
      program: await readProgramRow(this.database, right),
    };
  }

  private async payload(
    right: ProgramAccess,
    id: string,
    commandId: string,
  ): Promise<AnimalPayload> {
    const snapshot = await this.snapshots.current(right);
    const position = snapshot.animals.positionById.get(id);
    if (position === undefined) {
      throw notFound(
        'such animal any more',
        'input',
        'It was removed meanwhile; look at the history.',
      );
    }
    const program = await readProgramRow(this.database, right);
    return { animal: new Animal(snapshot, position), commandId, program };
  }
}

/** Adds how many animals there are to the program's own fields. */
@Resolver(() => Program)
export class ProgramAnimalsResolver {
  constructor(private readonly snapshots: Snapshots) {}

  @ResolveField(() => Int)
  async animalCount(@Parent() program: Program, @Ctx() context: RequestContext): Promise<number> {
    const right = context.rights.get(program.id);
    return right ? (await this.snapshots.current(right)).animals.count : 0;
  }
}
