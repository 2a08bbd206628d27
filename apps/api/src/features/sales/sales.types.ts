import { Field, ObjectType } from '@nestjs/graphql';
import { Animal } from '../animals/animal.types.js';
import { GeneRow } from '../genes/genes.types.js';
import { RelatednessAnswer } from '../lineage/lineage.types.js';
import { Caution } from '../pairings/pairings.types.js';

@ObjectType({ description: 'What can honestly be said of some animals before they go' })
export class SaleCheck {
  @Field(() => [Animal]) animals: Animal[];
  @Field(() => String) sentence: string;
  @Field(() => RelatednessAnswer) relatedness: RelatednessAnswer;
  @Field(() => [GeneRow]) genes: GeneRow[];
  @Field(() => [Caution]) cautions: Caution[];
  @Field(() => [String], { description: 'What the buyer must be told, a sentence each' })
  mustTell: string[];
  @Field(() => String, {
    description: 'A text to copy to the buyer; claims nothing the records do not hold',
  })
  letter: string;
}
