import { Field, Float, ID, Int, ObjectType, registerEnumType } from '@nestjs/graphql';
import { Animal } from '../animals/animal.types.js';

export const Severity = { DANGER: 'DANGER', WARNING: 'WARNING', NOTE: 'NOTE' } as const;
export type Severity = keyof typeof Severity;
registerEnumType(Severity, { name: 'Severity', description: 'How much it presses' });

@ObjectType({ description: 'Shell length to expect in some years' })
export class SizeToCome {
  @Field(() => Int, { description: 'Years from today' }) years: number;
  @Field(() => Float, { description: 'mm' }) middle: number;
  @Field(() => Float, { description: 'mm; 8 of 10 should lie between low and high' }) low: number;
  @Field(() => Float, { description: 'mm' }) high: number;
}

@ObjectType({ description: 'A corner of a pen on the plan' })
export class PlanPoint {
  @Field(() => Float, { description: 'Metres' }) x: number;
  @Field(() => Float, { description: 'Metres' }) y: number;
}

@ObjectType({ description: 'An animal in a pen' })
export class PenAnimal {
  @Field(() => Animal) animal: Animal;
  @Field(() => Float, { nullable: true, description: 'Latest straight carapace length, mm' }) sclMm:
    | number
    | null;
  @Field(() => String, { description: 'mature, growing up or not known, in words' })
  maturity: string;
  @Field(() => String, {
    nullable: true,
    description: 'First day it may be mature, YYYY-MM-DD; null: always, the hatching is not known',
  })
  maturePossibly: string | null;
  @Field(() => String, {
    nullable: true,
    description: 'Day from which it surely is mature; null: never, the hatching is not known',
  })
  matureSurely: string | null;
  @Field(() => [SizeToCome], {
    description: 'By its own growth, as far ahead as the measurements reach back; empty: too few',
  })
  sizes: SizeToCome[];
}

@ObjectType({ description: 'A place that houses animals' })
export class Pen {
  @Field(() => ID) id: string;
  @Field(() => String) name: string;
  @Field(() => Float, { nullable: true, description: 'Square metres' }) areaM2: number | null;
  @Field(() => Boolean) isQuarantine: boolean;
  @Field(() => [String]) features: string[];
  @Field(() => Int, { nullable: true, description: 'Animals it is meant for' }) capacity:
    | number
    | null;
  @Field(() => [PlanPoint], { description: 'Its outline; empty where not drawn' })
  corners: PlanPoint[];
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
  @Field(() => String, {
    nullable: true,
    description: 'Published source, where it is not that of the rule',
  })
  source: string | null;
  @Field(() => String, {
    nullable: true,
    description: 'What the young of two close relatives could show',
  })
  young: string | null;
}

@ObjectType({ description: 'A rule that the pens are held against' })
export class PenRuleState {
  @Field(() => String, { description: 'Stable word' }) rule: string;
  @Field(() => String) title: string;
  @Field(() => String, { description: 'What it goes by' }) setting: string;
  @Field(() => String) source: string;
}

@ObjectType({ description: 'A pen that an animal could go to' })
export class PenIfMoved {
  @Field(() => ID) penId: string;
  @Field(() => String) name: string;
  @Field(() => String, { description: 'What would stand against it there, or until when nothing' })
  sentence: string;
  @Field(() => Boolean, { description: 'No danger and no warning within ten years' })
  isFree: boolean;
}

@ObjectType({ description: 'Who is where, and who is in whose way' })
export class PenConflicts {
  @Field(() => String, { description: 'YYYY-MM-DD' }) day: string;
  @Field(() => String) sentence: string;
  @Field(() => Boolean, {
    description:
      'What young of relatives could show is still being worked out: ask again in a while',
  })
  areGenesPending: boolean;
  @Field(() => [Pen]) pens: Pen[];
  @Field(() => Int, { description: 'How many hatched here and are in no pen' })
  unplacedCount: number;
  /** Those; `PenConflictsResolver` answers the first of them. */
  unplaced: Animal[];
  @Field(() => [PenFlag], { description: 'Most pressing first' }) flags: PenFlag[];
  @Field(() => [PenRuleState], { description: 'Every rule, in the order of the flags' })
  rules: PenRuleState[];
  @Field(() => [String]) assumptions: string[];
}
