import { ArgsType, Field, Int } from '@nestjs/graphql';
import { UserError } from '../../graphql/errors.js';
import type { Animal } from './animal.types.js';

@ArgsType()
export class AnimalListArgs {
  @Field(() => Int, { nullable: true, description: 'At most so many; all if left out' })
  first?: number | null;
}

/** The first of a list that may be as long as the program. */
export function firstOf(animals: readonly Animal[], { first }: AnimalListArgs): Animal[] {
  if (typeof first !== 'number') return [...animals];
  if (first < 0) {
    throw new UserError('BAD_USER_INPUT', `There are no first ${first} animals.`, {
      place: 'first',
      remedy: 'Ask for 0 or more.',
    });
  }
  return animals.slice(0, first);
}
