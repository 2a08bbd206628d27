import { Field, Float, Int, ObjectType } from '@nestjs/graphql';
import { Animal } from '../animals/animal.types.js';
import { GeneRow, Share, Trait } from '../genes/genes.types.js';
import { KinFinding } from '../lineage/lineage.types.js';

@ObjectType({ description: 'What to mind, where the decision is made' })
export class Caution {
  @Field(() => String) lead: string;
  @Field(() => String) text: string;
  @Field(() => String) source: string;
  @Field(() => Boolean, { description: 'Harm to an animal or a person, or against a law' })
  isHarm: boolean;
}

@ObjectType({ description: 'One look among the young' })
export class OutcomeClass {
  @Field(() => String) name: string;
  @Field(() => Share) share: Share;
  @Field(() => Boolean, { description: 'Shows the trait' }) isTarget: boolean;
}

@ObjectType({ description: 'One trait among the young' })
export class TraitOutcome {
  @Field(() => Trait) trait: Trait;
  @Field(() => [OutcomeClass], { description: 'They add to 1' }) classes: OutcomeClass[];
}

@ObjectType({ description: 'What it comes to in one case of the parents' })
export class ParentCase {
  @Field(() => String) sentence: string;
  @Field(() => Share, { description: 'How likely the case is' }) probability: Share;
  @Field(() => Share, { description: 'Share of the young that show the trait in that case' })
  perEgg: Share;
}

@ObjectType({ description: 'Chance of a number of young in the clutch' })
export class CountChance {
  @Field(() => Int) count: number;
  @Field(() => Float) exactly: number;
  @Field(() => Float) atLeast: number;
}

@ObjectType({ description: 'Eggs for at least one, at a level' })
export class EggsNeeded {
  @Field(() => Float, { description: '0.9, 0.95, 0.99' }) level: number;
  @Field(() => Int, { nullable: true, description: 'Null: not attainable with any number of eggs' })
  eggs: number | null;
}

@ObjectType({ description: 'One trait in a clutch whose young share their parents' })
export class TargetOdds {
  @Field(() => Trait) trait: Trait;
  @Field(() => Share, { description: 'Of the young' }) share: Share;
  @Field(() => [CountChance], { description: 'From none to all eggs' }) clutch: CountChance[];
  @Field(() => Share) atLeastOne: Share;
  @Field(() => [EggsNeeded]) eggsNeeded: EggsNeeded[];
  @Field(() => Share, { description: "What 'at least one' can reach with any number of eggs" })
  limit: Share;
  @Field(() => [ParentCase], { description: 'One entry where the parents are certain' })
  cases: ParentCase[];
}

@ObjectType({ description: 'What the eggs of two animals can be' })
export class CrossAnswer {
  @Field(() => Animal) sire: Animal;
  @Field(() => Animal) dam: Animal;
  @Field(() => String) sentence: string;
  @Field(() => String, {
    nullable: true,
    description: 'All or nothing, where the parents are uncertain',
  })
  caveat: string | null;
  @Field(() => Int, { description: 'Eggs of the clutch that the counts are for' }) eggs: number;
  @Field(() => [TraitOutcome]) traits: TraitOutcome[];
  @Field(() => [TargetOdds]) targets: TargetOdds[];
  @Field(() => KinFinding) inbreeding: KinFinding;
  @Field(() => [GeneRow], { description: 'What is known of the two, and why' }) parents: GeneRow[];
  @Field(() => [Caution]) cautions: Caution[];
  @Field(() => [String]) assumptions: string[];
}

@ObjectType({ description: 'What a season of a pairing is reckoned from' })
export class PairingParts {
  @Field(() => Float, { description: 'Expected eggs in a season' }) eggs: number;
  @Field(() => Float, { description: '0 to 1' }) fertility: number;
  @Field(() => Float, { description: '0 to 1, of fertile eggs' }) hatch: number;
  @Field(() => Float, { description: 'Survival of inbred young relative to others, 0 to 1' })
  inbreedingSurvival: number;
  @Field(() => Float, { description: 'Share of the young that show the trait, 0 to 1' })
  target: number;
}

@ObjectType({ description: 'One possible mate' })
export class PairingSuggestion {
  @Field(() => Animal) mate: Animal;
  @Field(() => Float, { description: 'Expected healthy young of the trait in a season' })
  value: number;
  @Field(() => Float, { description: 'F of the young, 0 to 1' }) F: number;
  @Field(() => PairingParts) parts: PairingParts;
  @Field(() => String) sentence: string;
  @Field(() => [Caution]) cautions: Caution[];
}

@ObjectType({ description: 'Possible mates of one animal, best first' })
export class PairingSuggestions {
  @Field(() => Animal) animal: Animal;
  @Field(() => Trait) trait: Trait;
  @Field(() => [PairingSuggestion]) suggestions: PairingSuggestion[];
  @Field(() => [String], { description: 'Who was left out and why' }) leftOut: string[];
  @Field(() => [String]) assumptions: string[];
}
