import { Field, Float, ID, ObjectType, registerEnumType } from '@nestjs/graphql';
import { Animal } from '../animals/animal.types.js';

export const Severity = { DANGER: 'DANGER', WARNING: 'WARNING', NOTE: 'NOTE' } as const;
export type Severity = keyof typeof Severity;
registerEnumType(Severity, { name: 'Severity', description: 'How much it presses' });

@ObjectType({ description: 'An animal in a pen' })
export class PenAnimal {
  @Field(() => Animal) animal: Animal;
  @Field(() => Float, { nullable: true, description: 'Latest straight carapace length, mm' }) sclMm:
    | number
    | null;
  @Field(() => String, { description: 'mature, growing up or not known, in words' })
  maturity: string;
  @Field(() => Boolean, { description: 'A male that may fight now' }) canConflict: boolean;
}

@ObjectType({ description: 'A place that houses animals' })
export class Pen {
  @Field(() => ID) id: string;
  @Field(() => String) name: string;
  @Field(() => Float, { nullable: true, description: 'Square metres' }) areaM2: number | null;
  @Field(() => Boolean) isQuarantine: boolean;
  @Field(() => [String]) features: string[];
  @Field(() => [PenAnimal]) animals: PenAnimal[];
}

@ObjectType({ description: 'Something a rule of pens found' })
export class PenFlag {
  @Field(() => String, { description: 'Stable word of the rule' }) rule: string;
  @Field(() => Severity) severity: Severity;
  @Field(() => Pen) pen: Pen;
  @Field(() => [Animal]) animals: Animal[];
  @Field(() => String, { description: 'First day it may be, YYYY-MM-DD' }) possibleFrom: string;
  @Field(() => String, {
    nullable: true,
    description: 'First day it surely is; null within ten years',
  })
  certainFrom: string | null;
  @Field(() => String, { nullable: true }) overOn: string | null;
  @Field(() => String) message: string;
  @Field(() => String, { description: 'What to do' }) remedy: string;
  @Field(() => String, { description: 'Published source, or common practice' }) source: string;
}

@ObjectType({ description: 'Who is where, and who is in whose way' })
export class PenConflicts {
  @Field(() => String, { description: 'YYYY-MM-DD' }) day: string;
  @Field(() => String) sentence: string;
  @Field(() => [Pen]) pens: Pen[];
  @Field(() => [Animal], { description: 'Hatched here and in no pen' }) unplaced: Animal[];
  @Field(() => [PenFlag], { description: 'Most pressing first' }) flags: PenFlag[];
  @Field(() => [String]) assumptions: string[];
}
