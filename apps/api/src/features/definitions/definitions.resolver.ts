import { Args, ID, Mutation, Query, Resolver } from '@nestjs/graphql';
import {
  type AddLocusInput,
  type AddTraitInput,
  addLocusSchema,
  addTraitSchema,
  type CheckTraitInput,
  checkTraitSchema,
  type EditLocusInput,
  type EditTraitInput,
  editLocusSchema,
  editTraitSchema,
  type RemoveLocusInput,
  type RemoveLocusPairInput,
  type RemoveTraitInput,
  removeLocusPairSchema,
  removeLocusSchema,
  removeTraitSchema,
  type SetLocusPairInput,
  setLocusPairSchema,
} from '@scutewright/commands';
import { Access, Right } from '../../auth/access.js';
import { Accounts } from '../../auth/accounts.js';
import { Database } from '../../db/database.js';
import type { ProgramAccess } from '../../db/in-program.js';
import { Input } from '../../graphql/input-from-zod.js';
import type { Snapshot } from '../../snapshot/snapshot.js';
import { Snapshots } from '../../snapshot/snapshots.js';
import { GenesOfProgram } from '../genes/genes-of-program.js';
import { readCommand } from '../history/command.types.js';
import { readProgramRow } from '../programs/programs.resolver.js';
import { Definitions, DefinitionsPayload, TraitCheck } from './definition.types.js';
import { checkTrait, definitionsOf } from './definitions-of.js';
import { LocusCommands } from './locus-commands.js';
import { TraitCommands } from './trait-commands.js';

const PROGRAM = () => ID;

/** Genes and traits as they are defined, and the acts on them. */
@Resolver()
export class DefinitionsResolver {
  constructor(
    private readonly database: Database,
    private readonly accounts: Accounts,
    private readonly snapshots: Snapshots,
    private readonly genes: GenesOfProgram,
    private readonly loci: LocusCommands,
    private readonly traits: TraitCommands,
  ) {}

  @Access('READER')
  @Query(() => Definitions, { description: 'The genes and traits of the program' })
  async definitions(
    @Right() right: ProgramAccess,
    @Args('programId', { type: PROGRAM }) _programId: string,
  ): Promise<Definitions> {
    const snapshot = await this.snapshots.current(right);
    return this.read(snapshot);
  }

  @Access('READER')
  @Query(() => TraitCheck, { description: 'What a trait would mean; nothing is written' })
  async checkTrait(
    @Right() right: ProgramAccess,
    @Args('programId', { type: PROGRAM }) _programId: string,
    @Input(checkTraitSchema) input: CheckTraitInput,
  ): Promise<TraitCheck> {
    return checkTrait(await this.snapshots.current(right), input);
  }

  @Access('KEEPER')
  @Mutation(() => DefinitionsPayload, { description: 'Adds a gene' })
  async addLocus(
    @Right() right: ProgramAccess,
    @Args('programId', { type: PROGRAM }) _programId: string,
    @Input(addLocusSchema) input: AddLocusInput,
  ): Promise<DefinitionsPayload> {
    await this.loci.add(right, input);
    return this.payload(right, input.commandId);
  }

  @Access('KEEPER')
  @Mutation(() => DefinitionsPayload, {
    description: 'Corrects a gene; rules and declarations follow its new names',
  })
  async editLocus(
    @Right() right: ProgramAccess,
    @Args('programId', { type: PROGRAM }) _programId: string,
    @Input(editLocusSchema) input: EditLocusInput,
  ): Promise<DefinitionsPayload> {
    await this.loci.edit(right, input);
    return this.payload(right, input.commandId);
  }

  @Access('KEEPER')
  @Mutation(() => DefinitionsPayload, {
    description: 'Removes a gene that no record, trait or other gene names',
  })
  async removeLocus(
    @Right() right: ProgramAccess,
    @Args('programId', { type: PROGRAM }) _programId: string,
    @Input(removeLocusSchema) input: RemoveLocusInput,
  ): Promise<DefinitionsPayload> {
    await this.loci.remove(right, input);
    return this.payload(right, input.commandId);
  }

  @Access('KEEPER')
  @Mutation(() => DefinitionsPayload, {
    description: 'Says that two genes are linked, or that two lines may be one gene',
  })
  async setLocusPair(
    @Right() right: ProgramAccess,
    @Args('programId', { type: PROGRAM }) _programId: string,
    @Input(setLocusPairSchema) input: SetLocusPairInput,
  ): Promise<DefinitionsPayload> {
    await this.loci.setPair(right, input);
    return this.payload(right, input.commandId);
  }

  @Access('KEEPER')
  @Mutation(() => DefinitionsPayload, { description: 'Takes out what was said of two genes' })
  async removeLocusPair(
    @Right() right: ProgramAccess,
    @Args('programId', { type: PROGRAM }) _programId: string,
    @Input(removeLocusPairSchema) input: RemoveLocusPairInput,
  ): Promise<DefinitionsPayload> {
    await this.loci.removePair(right, input);
    return this.payload(right, input.commandId);
  }

  @Access('KEEPER')
  @Mutation(() => DefinitionsPayload, { description: 'Adds a trait' })
  async addTrait(
    @Right() right: ProgramAccess,
    @Args('programId', { type: PROGRAM }) _programId: string,
    @Input(addTraitSchema) input: AddTraitInput,
  ): Promise<DefinitionsPayload> {
    await this.traits.add(right, input);
    return this.payload(right, input.commandId);
  }

  @Access('KEEPER')
  @Mutation(() => DefinitionsPayload, { description: 'Corrects a trait' })
  async editTrait(
    @Right() right: ProgramAccess,
    @Args('programId', { type: PROGRAM }) _programId: string,
    @Input(editTraitSchema) input: EditTraitInput,
  ): Promise<DefinitionsPayload> {
    await this.traits.edit(right, input);
    return this.payload(right, input.commandId);
  }

  @Access('KEEPER')
  @Mutation(() => DefinitionsPayload, { description: 'Removes a trait that was never seen' })
  async removeTrait(
    @Right() right: ProgramAccess,
    @Args('programId', { type: PROGRAM }) _programId: string,
    @Input(removeTraitSchema) input: RemoveTraitInput,
  ): Promise<DefinitionsPayload> {
    await this.traits.remove(right, input);
    return this.payload(right, input.commandId);
  }

  private async read(snapshot: Snapshot): Promise<Definitions> {
    // The inference is waited for only where something on the page follows from it.
    const isOpen = snapshot.locusPairs.some(({ kind }) => kind === 'ONE_GENE');
    return definitionsOf(snapshot, isOpen ? await this.genes.answerFor(snapshot) : null);
  }

  private async payload(right: ProgramAccess, commandId: string): Promise<DefinitionsPayload> {
    const snapshot = await this.snapshots.current(right);
    return {
      definitions: await this.read(snapshot),
      command: await readCommand(this.database, this.accounts, right, commandId),
      program: await readProgramRow(this.database, right),
    };
  }
}
