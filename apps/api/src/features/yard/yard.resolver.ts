import { Args, ID, Mutation, Parent, Query, ResolveField, Resolver } from '@nestjs/graphql';
import { parsePartialDate } from '@scutewright/basics';
import {
  type AddPenInput,
  addPenSchema,
  type CorrectStayInput,
  correctStaySchema,
  type EditPenInput,
  editPenSchema,
  type RemovePenInput,
  removePenSchema,
} from '@scutewright/commands';
import { Access, Right } from '../../auth/access.js';
import { Accounts } from '../../auth/accounts.js';
import { Database } from '../../db/database.js';
import type { ProgramAccess } from '../../db/in-program.js';
import { notFound, UserError } from '../../graphql/errors.js';
import { Input } from '../../graphql/input-from-zod.js';
import { Snapshots } from '../../snapshot/snapshots.js';
import { mayHold } from '../../snapshot/stay-days.js';
import { today } from '../../snapshot/today.js';
import { Animal } from '../animals/animal.types.js';
import { AnimalListArgs, firstOf } from '../animals/first-animals.js';
import { CommandPayload, readCommand } from '../history/command.types.js';
import { readProgramRow } from '../programs/programs.resolver.js';
import { PenCommands } from './pen-commands.js';
import { Lot, PenPayload, YardDay } from './yard.types.js';
import { lotsOf, yardOnDay } from './yard-on-day.js';

@Resolver()
export class YardResolver {
  constructor(
    private readonly database: Database,
    private readonly snapshots: Snapshots,
    private readonly accounts: Accounts,
    private readonly commands: PenCommands,
  ) {}

  @Access('READER')
  @Query(() => YardDay, { description: 'Who was, is or will be where on a day' })
  async yard(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Args('on', {
      type: () => String,
      nullable: true,
      description: 'YYYY-MM-DD; today if left out',
    })
    on?: string,
  ): Promise<YardDay> {
    const date = on ? parsePartialDate(on) : null;
    if (on && date?.precision !== 'day') {
      throw new UserError('BAD_USER_INPUT', `'${on}' is not a day.`, {
        place: 'on',
        thing: on,
        remedy: 'Write a day as 2026-04-30.',
      });
    }
    return yardOnDay(await this.snapshots.current(right), date?.earliest ?? today());
  }

  @Access('READER')
  @Query(() => [Lot], { description: 'The lots that still hold young, with how many' })
  async lots(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
  ): Promise<Lot[]> {
    const snapshot = await this.snapshots.current(right);
    const pens = new Map(
      snapshot.season.lotStays
        .filter((stay) => mayHold(stay.days, today()))
        .map(({ lot, pen }) => [lot, pen]),
    );
    return lotsOf(snapshot, pens).filter(({ count }) => count > 0);
  }

  @Access('KEEPER')
  @Mutation(() => PenPayload, { description: 'Adds a pen' })
  async addPen(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Input(addPenSchema) input: AddPenInput,
  ): Promise<PenPayload> {
    const { penId } = await this.commands.add(right, input);
    return this.payload(right, penId, input.commandId);
  }

  @Access('KEEPER')
  @Mutation(() => PenPayload, { description: 'Corrects a pen' })
  async editPen(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Input(editPenSchema) input: EditPenInput,
  ): Promise<PenPayload> {
    const { penId } = await this.commands.edit(right, input);
    return this.payload(right, penId, input.commandId);
  }

  @Access('KEEPER')
  @Mutation(() => CommandPayload, { description: 'Removes a pen that was entered by mistake' })
  async removePen(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Input(removePenSchema) input: RemovePenInput,
  ): Promise<CommandPayload> {
    await this.commands.remove(right, input);
    return {
      command: await readCommand(this.database, this.accounts, right, input.commandId),
      program: await readProgramRow(this.database, right),
    };
  }

  @Access('KEEPER')
  @Mutation(() => PenPayload, {
    description: 'Corrects when somebody was in a pen, or that it was not',
  })
  async correctStay(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Input(correctStaySchema) input: CorrectStayInput,
  ): Promise<PenPayload> {
    const { penId } = await this.commands.correctStay(right, input);
    return this.payload(right, penId, input.commandId);
  }

  private async payload(
    right: ProgramAccess,
    penId: string,
    commandId: string,
  ): Promise<PenPayload> {
    const { pens } = yardOnDay(await this.snapshots.current(right), today());
    const pen = pens.find(({ id }) => id === penId);
    if (!pen)
      throw notFound(
        'such pen any more',
        'input',
        'It was removed meanwhile; look at the history.',
      );
    return { pen, commandId, program: await readProgramRow(this.database, right) };
  }
}

@Resolver(() => YardDay)
export class YardDayResolver {
  @ResolveField(() => [Animal], { description: 'Alive and here, but in no pen that day, by code' })
  unplaced(@Parent() { unplaced }: YardDay, @Args() args: AnimalListArgs): Animal[] {
    return firstOf(unplaced, args);
  }
}
