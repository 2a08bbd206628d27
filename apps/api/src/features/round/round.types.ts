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
  @Field(() => ID, { nullable: true, description: 'Its latest photograph; null: none' })
  photoId: string | null;
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

@ObjectType({ description: 'A box of eggs, as a phone keeps it' })
export class RoundBox {
  @Field(() => String) label: string;
  @Field(() => Int) eggs: number;
  @Field(() => Float, { nullable: true, description: 'Last temperature written down' }) celsius:
    | number
    | null;
}

@ObjectType({ description: 'An animal that got out or is lent, and may come back' })
export class RoundAway {
  @Field(() => ID) id: string;
  @Field(() => String) code: string;
  @Field(() => String, { nullable: true }) name: string | null;
  @Field(() => String, { description: 'escaped, lent out' }) words: string;
  @Field(() => String, { nullable: true, description: 'Since when' }) since: string | null;
  @Field(() => Boolean, { description: 'It escaped; else it is lent' }) isEscaped: boolean;
}

@ObjectType({ description: 'A clutch of the last two years, as a phone keeps it' })
export class RoundClutch {
  @Field(() => ID) id: string;
  @Field(() => String) code: string;
  @Field(() => String, { nullable: true, description: 'When it was laid' }) laid: string | null;
  @Field(() => [String], { description: 'Codes of the possible mothers' }) mothers: string[];
  @Field(() => Int, { nullable: true, description: 'Laid; null: not counted' }) eggs: number | null;
  @Field(() => Int, { nullable: true, description: 'Eggs of which nobody wrote what became' })
  open: number | null;
  @Field(() => [RoundBox]) boxes: RoundBox[];
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
  @Field(() => [RoundAway]) away: RoundAway[];
  @Field(() => [String], { description: 'Names of the traits' }) traits: string[];
  @Field(() => [String], { description: 'Those that are here, the most frequent first' })
  species: string[];
  @Field(() => String, { description: 'The next free code by the pattern of the latest ones' })
  nextCode: string;
}
