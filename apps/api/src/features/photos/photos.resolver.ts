import { Args, Field, ID, Int, Mutation, ObjectType, Query, Resolver } from '@nestjs/graphql';
import {
  type AddPhotoInput,
  addPhotoSchema,
  PHOTO_ROOM_BYTES,
  type RemovePhotoInput,
  removePhotoSchema,
} from '@scutewright/commands';
import { Access, Right } from '../../auth/access.js';
import { Accounts } from '../../auth/accounts.js';
import { Database } from '../../db/database.js';
import { inProgram, type ProgramAccess } from '../../db/in-program.js';
import { Input } from '../../graphql/input-from-zod.js';
import { CommandPayload, readCommand } from '../history/command.types.js';
import { readProgramRow } from '../programs/programs.resolver.js';
import { PhotoCommands, usedBytes } from './photo-commands.js';

@ObjectType({ description: 'A photograph; the picture is at /files/PROGRAM/photos/ID' })
export class Photo {
  @Field(() => ID) id: string;
  @Field(() => String, { nullable: true, description: 'When it was taken' }) date: string | null;
  @Field(() => String, { nullable: true }) caption: string | null;
}

@ObjectType({ description: 'The photographs of an animal, and the room for more' })
export class AnimalPhotos {
  @Field(() => [Photo], { description: 'Latest first' }) photos: Photo[];
  @Field(() => Int, { description: 'Bytes that all photographs of the program take' })
  usedBytes: number;
  @Field(() => Int, { description: 'Bytes that they may take' }) roomBytes: number;
}

/** Photographs of animals. */
@Resolver()
export class PhotosResolver {
  constructor(
    private readonly database: Database,
    private readonly accounts: Accounts,
    private readonly commands: PhotoCommands,
  ) {}

  @Access('READER')
  @Query(() => AnimalPhotos, { description: 'Photographs of one animal' })
  photos(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) programId: string,
    @Args('animalId', { type: () => ID }) animalId: string,
  ): Promise<AnimalPhotos> {
    return inProgram(this.database, right, async (tx) => ({
      photos: await tx.photo.findMany({
        where: { programId, animalId },
        select: { id: true, date: true, caption: true },
        orderBy: [{ dateEarliest: { sort: 'desc', nulls: 'last' } }, { id: 'desc' }],
      }),
      usedBytes: await usedBytes(tx),
      roomBytes: PHOTO_ROOM_BYTES,
    }));
  }

  @Access('KEEPER')
  @Mutation(() => CommandPayload, {
    description: 'Keeps an uploaded picture of an animal, without the place and camera in it',
  })
  async addPhoto(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Input(addPhotoSchema) input: AddPhotoInput,
  ): Promise<CommandPayload> {
    await this.commands.add(right, input);
    return this.done(right, input.commandId);
  }

  @Access('KEEPER')
  @Mutation(() => CommandPayload, {
    description: 'Takes a photograph away; for 30 days this can be undone',
  })
  async removePhoto(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Input(removePhotoSchema) input: RemovePhotoInput,
  ): Promise<CommandPayload> {
    await this.commands.remove(right, input);
    return this.done(right, input.commandId);
  }

  private async done(right: ProgramAccess, commandId: string): Promise<CommandPayload> {
    return {
      command: await readCommand(this.database, this.accounts, right, commandId),
      program: await readProgramRow(this.database, right),
    };
  }
}
