import { Field, Float, ID, Int, ObjectType, registerEnumType } from '@nestjs/graphql';
import type { LookKind } from '../../compute/egg-looks.js';
import type { GenesAnswer } from '../../compute/genes-task.js';
import type { PairFigure } from '../../compute/kin-task.js';
import type { TraitRow } from '../../snapshot/snapshot.js';
import { Animal } from '../animals/animal.types.js';
import { Share, Trait } from '../genes/genes.types.js';

@ObjectType({ description: 'What to mind, where the decision is made' })
export class Caution {
  @Field(() => String) lead: string;
  @Field(() => String) text: string;
  @Field(() => String) source: string;
  @Field(() => Boolean, { description: 'Harm to an animal or a person, or against a law' })
  isHarm: boolean;
  @Field(() => String, {
    nullable: true,
    description: 'Where the rule holds; null or absent: everywhere',
  })
  jurisdiction?: string | null;
}

export const LookKindEnum = { SHOWS: 'SHOWS', OTHER: 'OTHER', CARRIES: 'CARRIES', CLEAR: 'CLEAR' };
registerEnumType(LookKindEnum, {
  name: 'LookKind',
  description:
    'SHOWS the trait; OTHER: shows another of the same genes; CARRIES it unseen; CLEAR of it',
});

@ObjectType({ description: 'The young of one look' })
export class EggLook {
  @Field(() => LookKindEnum) kind: LookKind;
  @Field(() => String) name: string;
  @Field(() => Share) share: Share;
  @Field(() => Int, { description: 'Of 20 eggs, by largest remainder: the looks add to 20' })
  eggs: number;
}

@ObjectType({ description: 'What it comes to in one case of the parents' })
export class ParentCase {
  @Field(() => String) sentence: string;
  @Field(() => Share, { description: 'How likely the case is' }) probability: Share;
  @Field(() => Share, { description: 'Share of the young that show the trait in that case' })
  perEgg: Share;
  @Field(() => [EggLook], { description: 'They add to 1' }) looks: EggLook[];
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
  @Field(() => [EggLook], { description: 'They add to 1' }) looks: EggLook[];
  @Field(() => String, {
    nullable: true,
    description: 'How many of the plain-looking young carry it; null where none looks plain',
  })
  plainSentence: string | null;
  @Field(() => [CountChance], { description: 'From none to all eggs' }) clutch: CountChance[];
  @Field(() => Share) atLeastOne: Share;
  @Field(() => [EggsNeeded]) eggsNeeded: EggsNeeded[];
  @Field(() => Share, { description: "What 'at least one' can reach with any number of eggs" })
  limit: Share;
  @Field(() => [ParentCase], {
    description:
      'Likeliest first; one entry where the parents are certain, none where there are over 400 combinations',
  })
  cases: ParentCase[];
}

/** What the odds of a pair are and rest on. */
export interface Odds {
  readonly targets: readonly TargetOdds[];
  /** Traits that young of theirs may well show. */
  readonly visible: readonly TraitRow[];
  readonly assumptions: readonly string[];
}

@ObjectType({ description: 'What the eggs of two animals can be' })
export class CrossAnswer {
  constructor(
    sire: Animal,
    dam: Animal,
    eggs: number,
    /** Worked out once, by whichever field is asked for first. */
    readonly parts: {
      readonly pair: () => Promise<PairFigure>;
      readonly genes: () => Promise<GenesAnswer>;
      readonly odds: () => Promise<Odds>;
    },
  ) {
    this.sire = sire;
    this.dam = dam;
    this.eggs = eggs;
  }

  @Field(() => Animal) readonly sire: Animal;
  @Field(() => Animal) readonly dam: Animal;
  @Field(() => Int, { description: 'Eggs of the clutch that the counts are for' })
  readonly eggs: number;
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

@ObjectType({ description: 'Two animals and what a season of theirs is worth' })
export class WeighedPair {
  @Field(() => Animal) sire: Animal;
  @Field(() => Animal) dam: Animal;
  @Field(() => Float, { description: 'Expected healthy young of the trait in a season' })
  value: number;
  @Field(() => Float, { description: 'F of the young, 0 to 1' }) F: number;
  @Field(() => [Animal], { description: 'Those of the two of which no parent is recorded' })
  unknownBehind: Animal[];
  @Field(() => PairingParts) parts: PairingParts;
  @Field(() => String) sentence: string;
  @Field(() => String, { description: 'Why it stands where it stands' }) reason: string;
  @Field(() => [Caution]) cautions: Caution[];
}

@ObjectType({ description: 'A published figure of what inbreeding costs' })
export class InbreedingCostChoice {
  @Field(() => Float, { description: 'Lethal equivalents per diploid' }) lethalEquivalents: number;
  @Field(() => String) source: string;
  @Field(() => String) measuredOn: string;
}

@ObjectType({ description: 'A pen to choose mates from' })
export class PenChoice {
  @Field(() => ID) id: string;
  @Field(() => String) name: string;
}

@ObjectType({ description: 'What a season is reckoned with, set or shipped' })
export class PairingFigures {
  @Field(() => Float) clutches: number;
  @Field(() => Float) eggsPerClutch: number;
  @Field(() => Float, { description: '0 to 1' }) fertility: number;
  @Field(() => Float, { description: '0 to 1, of fertile eggs' }) hatch: number;
  @Field(() => Float, { description: 'Per diploid' }) lethalEquivalents: number;
  @Field(() => [String], { description: 'Where each comes from' }) sources: string[];
  @Field(() => [InbreedingCostChoice]) costs: InbreedingCostChoice[];
  @Field(() => [PenChoice]) pens: PenChoice[];
}

@ObjectType({ description: 'Possible mates of one animal, best first' })
export class PairingSuggestions {
  @Field(() => Animal) animal: Animal;
  @Field(() => Trait) trait: Trait;
  @Field(() => [WeighedPair]) suggestions: WeighedPair[];
  @Field(() => [WeighedPair], { description: 'Over the limit of F that was set; at most five' })
  over: WeighedPair[];
  @Field(() => Int, { description: 'How many pairs were weighed' }) weighed: number;
  @Field(() => PairingFigures) settings: PairingFigures;
  @Field(() => [String], { description: 'Who was left out and why' }) leftOut: string[];
  @Field(() => [String]) assumptions: string[];
}

@ObjectType({ description: 'The best male for a female' })
export class SeasonPair {
  @Field(() => WeighedPair) pair: WeighedPair;
  @Field(() => WeighedPair, { nullable: true, description: 'The next best male for her' })
  next: WeighedPair | null;
}

@ObjectType({ description: 'Who goes with whom: the best male of each female, best first' })
export class SeasonPairings {
  @Field(() => Trait) trait: Trait;
  @Field(() => String) sentence: string;
  @Field(() => [SeasonPair]) pairs: SeasonPair[];
  @Field(() => Int, { description: 'Females with a possible male' }) females: number;
  @Field(() => [WeighedPair], { description: 'Over the limit of F that was set; at most five' })
  over: WeighedPair[];
  @Field(() => Int, { description: 'How many pairs were weighed' }) weighed: number;
  @Field(() => PairingFigures) settings: PairingFigures;
  @Field(() => [String], { description: 'Who was left out and why' }) leftOut: string[];
  @Field(() => [String]) assumptions: string[];
}
