import { Field, Float, ObjectType } from '@nestjs/graphql';
import { Animal } from '../animals/animal.types.js';
import { FounderShare } from '../lineage/lineage.types.js';
import { Severity } from '../pens/pens.types.js';

@ObjectType({ description: 'How related an animal is to the whole living group' })
export class KinToAll {
  @Field(() => Animal) animal: Animal;
  @Field(() => Float, { description: 'Mean kinship with the group, itself included (Lacy 1995)' })
  meanKinship: number;
}

@ObjectType({ description: 'The state of the whole group' })
export class ProgramHealth {
  @Field(() => String) sentence: string;
  @Field(() => [FounderShare], { description: 'Largest first' }) founders: FounderShare[];
  @Field(() => Float, {
    description: 'Share of genes that came in through animals nobody recorded',
  })
  unrecorded: number;
  @Field(() => Float, { description: '1 / sum of squared founder shares (Lacy 1989)' })
  effectiveFounders: number;
  @Field(() => Float, { description: 'Boichard, Maignel & Verrier 1997' })
  effectiveAncestors: number;
  @Field(() => Float, { description: '1 / sum of p^2 / r (Lacy 1989)' }) genomeEquivalents: number;
  @Field(() => Float, { description: '1 - mean kinship, 0 to 1 (Lacy 1995)' })
  geneDiversity: number;
  @Field(() => Float, { description: 'Mean kinship of the group, self included' })
  meanKinship: number;
  @Field(() => Float, { description: 'Mean F of the group' }) meanInbreeding: number;
  @Field(() => Float, {
    nullable: true,
    description:
      'Effective size from the individual increase in inbreeding (Gutierrez and others 2008); null where nobody is inbred',
  })
  breedingSize: number | null;
  @Field(() => [KinToAll], {
    description: 'Most related to the rest: their lines are well kept already; at most five',
  })
  wellKept: KinToAll[];
  @Field(() => [KinToAll], {
    description: 'Least related to the rest: their lines would be missed; at most five',
  })
  wouldBeMissed: KinToAll[];
  @Field(() => [String]) assumptions: string[];
}

@ObjectType({ description: 'Something that wants a decision' })
export class TodayItem {
  @Field(() => String, { description: 'pens, genes, kin or records' }) kind: string;
  @Field(() => String) title: string;
  @Field(() => String) sentence: string;
  @Field(() => String, { description: 'Path in the console' }) link: string;
  @Field(() => Severity) severity: Severity;
}

@ObjectType({ description: 'The few things that want a decision, and what is unknown' })
export class Today {
  @Field(() => String) sentence: string;
  @Field(() => [TodayItem], { description: 'Most pressing first, at most seven' })
  decisions: TodayItem[];
  @Field(() => [String]) unknown: string[];
  @Field(() => Boolean, {
    description: 'What the colour records say is still being worked out: ask again in a while',
  })
  areGenesPending: boolean;
}
