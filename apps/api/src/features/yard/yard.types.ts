import { Field, Float, ID, Int, ObjectType } from '@nestjs/graphql';
import { Animal } from '../animals/animal.types.js';
import { Program } from '../programs/program.types.js';

@ObjectType({ description: 'A counted group of unnamed young' })
export class Lot {
  @Field(() => ID) id: string;
  @Field(() => String, { description: 'Unique in the program' }) code: string;
  @Field(() => String, { description: 'Scientific name' }) species: string;
  @Field(() => Int, { description: 'How many are there by the book' }) count: number;
  @Field(() => [String], { description: 'Codes of the clutches it is of' }) clutches: string[];
  @Field(() => String, { nullable: true, description: 'Name of the pen it is in now' }) pen:
    | string
    | null;
}

@ObjectType({ description: 'Somebody in a pen, since when' })
export class Occupant {
  @Field(() => ID, { description: 'Of the stay, to correct it' }) stayId: string;
  @Field(() => Animal) animal: Animal;
  @Field(() => String, { nullable: true, description: 'As it is known; null: nobody knows' }) since:
    | string
    | null;
  @Field(() => String, { nullable: true, description: 'Null: no end is written' }) until:
    | string
    | null;
}

@ObjectType({ description: 'A corner of a pen on the plan, in metres' })
export class Point {
  @Field(() => Float) x: number;
  @Field(() => Float) y: number;
}

@ObjectType({ description: 'A pen with who was, is or will be in it on a day' })
export class YardPen {
  @Field(() => ID) id: string;
  @Field(() => String) name: string;
  @Field(() => Float, { nullable: true, description: 'Square metres' }) areaM2: number | null;
  @Field(() => Boolean) isQuarantine: boolean;
  @Field(() => Int, { nullable: true, description: 'Animals it is meant for' }) capacity:
    | number
    | null;
  @Field(() => [String]) features: string[];
  @Field(() => [Point], { description: 'Its outline; empty where not drawn' }) corners: Point[];
  @Field(() => [ID], { description: 'Pens with a common fence' }) sharesFenceWith: string[];
  @Field(() => [Occupant]) occupants: Occupant[];
  @Field(() => [Lot]) lots: Lot[];
}

@ObjectType({ description: 'The yard on one day' })
export class YardDay {
  @Field(() => String, { description: 'YYYY-MM-DD' }) day: string;
  @Field(() => String) sentence: string;
  @Field(() => [YardPen]) pens: YardPen[];
  @Field(() => Int, { description: 'How many are alive and here, but in no pen that day' })
  unplacedCount: number;
  /** Those; `YardDayResolver` answers the first of them. */
  unplaced: Animal[];
  @Field(() => [Lot], { description: 'In no pen' }) unplacedLots: Lot[];
}

@ObjectType({ description: 'A pen after an act' })
export class PenPayload {
  @Field(() => YardPen) pen: YardPen;
  @Field(() => ID, { description: 'Give it to undo' }) commandId: string;
  @Field(() => Program) program: Program;
}
