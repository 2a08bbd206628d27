import { Field, Float, ID, Int, ObjectType } from '@nestjs/graphql';
import { type SuppositionKind, suppositionKindSchema } from '@scutewright/commands';
import { enumType } from '../../graphql/input-from-zod.js';
import { Animal } from '../animals/animal.types.js';
import { Locus } from '../genes/genes.types.js';

const Kind = enumType(suppositionKindSchema);

@ObjectType({ description: 'What is known of one animal at one gene, now and as it would be' })
export class GeneShift {
  @Field(() => Locus) locus: Locus;
  @Field(() => String) labelNow: string;
  @Field(() => String) labelThen: string;
  @Field(() => Float, { description: 'Chance to carry, 0 to 1' }) carriesNow: number;
  @Field(() => Float) carriesThen: number;
}

@ObjectType({ description: 'One possible father, now and as it would be' })
export class FatherShift {
  @Field(() => Animal, { nullable: true, description: 'Null: a male nobody recorded' })
  animal: Animal | null;
  @Field(() => Float, { description: 'By all records, 0 to 1' }) now: number;
  @Field(() => Float) supposed: number;
}

@ObjectType({ description: 'What would change for one animal' })
export class AnimalShift {
  @Field(() => Animal) animal: Animal;
  @Field(() => Float) inbreedingNow: number;
  @Field(() => Float) inbreedingThen: number;
  @Field(() => [FatherShift], { description: 'Empty where the father is certain both times' })
  fathers: FatherShift[];
  @Field(() => [GeneShift], { description: 'The genes that would change' }) genes: GeneShift[];
}

@ObjectType({ description: 'What would follow if something were so; nothing is written' })
export class WhatIf {
  @Field(() => String, { description: 'What is supposed, as a sentence' }) supposed: string;
  @Field(() => String, { description: 'What follows, in one sentence' }) sentence: string;
  @Field(() => [AnimalShift], {
    description: 'The animal asked about first, then those that change most; at most 20',
  })
  animals: AnimalShift[];
  @Field(() => Int, { description: 'How many animals would change' }) changed: number;
  @Field(() => Int, { description: 'Sets of records that cannot all be true' })
  contradictionsNow: number;
  @Field(() => Int) contradictionsThen: number;
  @Field(() => Boolean, { description: 'Whether it can be written as it stands' })
  mayBeWritten: boolean;
  @Field(() => Int) revision: number;
}

@ObjectType({ description: 'One act that would settle a contradiction' })
export class Repair {
  @Field(() => Kind, { description: 'Give it back, with the ids, as a supposition' })
  kind: SuppositionKind;
  @Field(() => ID, { nullable: true }) animalId: string | null;
  @Field(() => ID, { nullable: true }) recordId: string | null;
  @Field(() => String, { description: 'The act in words' }) sentence: string;
  @Field(() => Float, {
    description: 'Share among the usual explanations, by assumed rates of slips, 0 to 1',
  })
  probability: number;
}
