import { Field, Float, ID, Int, ObjectType } from '@nestjs/graphql';
import { Animal } from '../animals/animal.types.js';
import { GenotypeShare } from './genes.types.js';

@ObjectType({ description: 'A record and what would be thought without it' })
export class RecordWeight {
  @Field(() => ID, { description: 'For a supposition that strikes it' }) id: string;
  @Field(() => String) sentence: string;
  @Field(() => Animal, { nullable: true, description: 'Whose record; null for one of a clutch' })
  animal: Animal | null;
  @Field(() => Float, { description: 'Largest change of a probability without it, 0 to 1' })
  weight: number;
  @Field(() => Float, {
    nullable: true,
    description: 'Chance to carry without it; null where it would be impossible',
  })
  carriesWithout: number | null;
}

@ObjectType({ description: 'What would tell more' })
export class NextStep {
  @Field(() => String, { description: 'test mating, colour check, dna test or parentage test' })
  kind: string;
  @Field(() => Animal, { description: 'The mate of a test mating, else the animal itself' })
  animal: Animal;
  @Field(() => String) sentence: string;
  @Field(() => Float, { description: 'Expected information on whether it carries, in bits' })
  bits: number;
}

@ObjectType({
  description: 'Why an animal is thought to carry a gene or not, and what would settle it',
})
export class GeneWhy {
  @Field(() => String) sentence: string;
  @Field(() => Float, { description: 'Chance to carry, 0 to 1, with all records' }) carries: number;
  @Field(() => [GenotypeShare]) genotypes: GenotypeShare[];
  @Field(() => [RecordWeight], {
    description: 'Most influential first; those that change nothing are left out',
  })
  records: RecordWeight[];
  @Field(() => String, { nullable: true, description: 'Null where the weights are exact' })
  approximation: string | null;
  @Field(() => [NextStep], { description: 'At most six, most telling first' }) steps: NextStep[];
  @Field(() => [String], { description: 'What must be known beside' }) notes: string[];
  @Field(() => Int) revision: number;
}

@ObjectType({ description: 'One possible father as he would be without a record' })
export class FatherShare {
  @Field(() => Animal, { nullable: true, description: 'Null: a male nobody recorded' })
  animal: Animal | null;
  @Field(() => Float) probability: number;
}

@ObjectType({ description: 'A colour record and what would be thought of the fathers without it' })
export class FatherRecord {
  @Field(() => ID) id: string;
  @Field(() => String) sentence: string;
  @Field(() => Animal, { nullable: true }) animal: Animal | null;
  @Field(() => Float) weight: number;
  @Field(() => [FatherShare]) without: FatherShare[];
}

@ObjectType({ description: 'Which colours moved the possible fathers, and what would settle it' })
export class FatherWhy {
  @Field(() => String) sentence: string;
  @Field(() => [FatherRecord]) records: FatherRecord[];
  @Field(() => String, { nullable: true, description: 'Null where the weights are exact' })
  approximation: string | null;
  @Field(() => [String]) steps: string[];
  @Field(() => Int) revision: number;
}
