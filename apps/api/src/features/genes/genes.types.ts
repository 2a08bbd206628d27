import { Field, Float, ID, Int, ObjectType } from '@nestjs/graphql';
import type { ShareFigure } from '../../compute/share-figure.js';
import type { Snapshot } from '../../snapshot/snapshot.js';
import { Animal } from '../animals/animal.types.js';

@ObjectType({ description: 'A chance, as a number and as people count' })
export class Share implements ShareFigure {
  @Field(() => Float, { description: '0 to 1' }) value: number;
  @Field(() => String, {
    nullable: true,
    description: 'Exact fraction such as 2/3; null where it is not exact',
  })
  exact: string | null;
  @Field(() => String, { description: 'In words: 2 in 3, about 2 in 5, none, all' }) said: string;
  @Field(() => Int, { description: 'Of 20 eggs; never rounded to none or all' }) ofTwenty: number;
  @Field(() => Boolean, { description: 'Whether ofTwenty is rounded' }) about: boolean;
}

@ObjectType({ description: 'A gene of the program' })
export class Locus {
  @Field(() => ID) id: string;
  @Field(() => String) code: string;
  @Field(() => String) name: string;
  @Field(() => [String], { description: 'The common one first' }) alleles: string[];
  @Field(() => String, { description: 'autosomal, x-linked or z-linked' }) inheritance: string;
}

@ObjectType({ description: 'A named look' })
export class Trait {
  @Field(() => ID) id: string;
  @Field(() => String) name: string;
  @Field(() => String, { nullable: true }) description: string | null;
  @Field(() => String, { nullable: true, description: 'What is known of its welfare' })
  welfareNote: string | null;
  @Field(() => String, { nullable: true, description: 'Where that stands' })
  welfareSource: string | null;
  @Field(() => [String], { description: 'Codes of the genes that make it' }) loci: string[];
}

@ObjectType({ description: 'One genotype an animal may have' })
export class GenotypeShare {
  @Field(() => String, { description: 'As N/a' }) genotype: string;
  @Field(() => Float, { description: '0 to 1' }) probability: number;
}

@ObjectType({ description: 'What is known of one animal at one gene' })
export class GeneFinding {
  @Field(() => Animal) animal: Animal;
  @Field(() => Locus) locus: Locus;
  @Field(() => String, {
    description:
      'visual, proven het, 100 % het, 66 % het, 50 % het, possible het, carries it (one copy or two), not carrying or not known',
  })
  label: string;
  @Field(() => Int, {
    nullable: true,
    description: 'Copies of the rarer allele, where that is certain',
  })
  certainCopies: number | null;
  @Field(() => Share, { description: 'Chance to carry at least one copy of a rarer allele' })
  carries: Share;
  @Field(() => [GenotypeShare], { description: 'Likeliest first' }) genotypes: GenotypeShare[];
  @Field(() => [String], { description: 'The records it rests on, a sentence each' }) why: string[];
}

@ObjectType({ description: 'One animal at every gene' })
export class GeneRow {
  @Field(() => Animal) animal: Animal;
  @Field(() => [GeneFinding]) findings: GeneFinding[];
}

@ObjectType({ description: 'Records that cannot all be true' })
export class Contradiction {
  snapshot: Snapshot;
  @Field(() => [ID], { description: 'For a supposition that strikes one of them' })
  recordIds: string[];
  @Field(() => [String], { description: 'The smallest set, in words' }) records: string[];
  @Field(() => [Animal]) animals: Animal[];
  @Field(() => [String], { description: 'What is usually behind it' }) explanations: string[];
}

@ObjectType({ description: 'Who carries what' })
export class GenotypeOdds {
  @Field(() => [Locus]) loci: Locus[];
  @Field(() => [Trait]) traits: Trait[];
  @Field(() => [GeneRow]) rows: GeneRow[];
  @Field(() => [Contradiction], {
    description: 'Set aside for the answer; the rest is answered without them',
  })
  contradictions: Contradiction[];
  @Field(() => Boolean, { description: 'False where records contradict each other' })
  isPossible: boolean;
  @Field(() => String, { description: 'Exact, or how far it may be off' }) precision: string;
  @Field(() => [String], { description: 'What it takes for granted' }) assumptions: string[];
  @Field(() => Int) revision: number;
}
