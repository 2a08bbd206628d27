import { Field, Float, ID, Int, ObjectType } from '@nestjs/graphql';
import { type Sex, sexSchema } from '@scutewright/commands';
import { enumType } from '../../graphql/input-from-zod.js';

const SexEnum = enumType(sexSchema);

@ObjectType({ description: 'An animal as a phone keeps it for the round' })
export class RoundAnimal {
  @Field(() => ID) id: string;
  @Field(() => String) code: string;
  @Field(() => String, { nullable: true }) name: string | null;
  @Field(() => SexEnum) sex: Sex;
  @Field(() => ID, { nullable: true, description: 'Null: in no pen' }) penId: string | null;
  @Field(() => [String], { description: 'Chips, notches, tags that can still be read' })
  marks: string[];
  @Field(() => Float, { nullable: true, description: 'Last weight in grams' }) massG: number | null;
  @Field(() => String, { nullable: true, description: 'When it was weighed last' }) weighed:
    | string
    | null;
  @Field(() => Float, { nullable: true, description: 'Last shell length in mm' }) sclMm:
    | number
    | null;
  @Field(() => String, { nullable: true, description: 'YYYY-MM-DD; null: never written down' })
  lastSeen: string | null;
}

@ObjectType({ description: 'A pen as a phone keeps it' })
export class RoundPen {
  @Field(() => ID) id: string;
  @Field(() => String) name: string;
  @Field(() => Boolean) isQuarantine: boolean;
}

@ObjectType({ description: 'A lot as a phone keeps it' })
export class RoundLot {
  @Field(() => ID) id: string;
  @Field(() => String) code: string;
  @Field(() => Int) count: number;
  @Field(() => ID, { nullable: true }) penId: string | null;
}

@ObjectType({ description: 'A clutch of the last two years, as a phone keeps it' })
export class RoundClutch {
  @Field(() => ID) id: string;
  @Field(() => String) code: string;
  @Field(() => String, { nullable: true, description: 'When it was laid' }) laid: string | null;
  @Field(() => [String], { description: 'Codes of the possible mothers' }) mothers: string[];
}

@ObjectType({ description: 'What a phone keeps, so that a round needs no signal' })
export class RoundCopy {
  @Field(() => ID) programId: string;
  @Field(() => String) programName: string;
  @Field(() => Int, { description: 'Of the program when this was read' }) revision: number;
  @Field(() => String, { description: 'The day it holds for, YYYY-MM-DD' }) day: string;
  @Field(() => [RoundAnimal], { description: 'Those that are here, by code' })
  animals: RoundAnimal[];
  @Field(() => [RoundPen]) pens: RoundPen[];
  @Field(() => [RoundLot]) lots: RoundLot[];
  @Field(() => [RoundClutch]) clutches: RoundClutch[];
  @Field(() => [String], { description: 'Names of the traits' }) traits: string[];
}
