import { Field, ID, Int, ObjectType } from '@nestjs/graphql';
import { Animal } from '../animals/animal.types.js';

@ObjectType({ description: 'An animal or some of a lot that left, and to whom' })
export class LeftUs {
  @Field(() => ID, { description: 'Of the transfer' }) id: string;
  @Field(() => Animal, { nullable: true, description: 'Null: some of a lot' })
  animal: Animal | null;
  @Field(() => String, { nullable: true, description: 'Code of the lot' }) lot: string | null;
  @Field(() => Int) count: number;
  @Field(() => String, { description: 'sold, given away, lent out, sent back' }) how: string;
  @Field(() => String, { nullable: true, description: 'As written' }) date: string | null;
  @Field(() => String, { nullable: true, description: 'Null: not written, or forgotten since' })
  contact: string | null;
}

@ObjectType({ description: "Whom a correction of a clutch's parents reaches" })
export class CorrectionReach {
  @Field(() => String) sentence: string;
  @Field(() => [Animal], { description: 'Of the clutch, or possibly of it' }) young: Animal[];
  @Field(() => [Animal], { description: 'That descend, or may descend, from the young' })
  descendants: Animal[];
  @Field(() => [LeftUs], {
    description: 'Those of both that left; who has them was told otherwise',
  })
  left: LeftUs[];
}
