import { Field, Float, ID, Int, ObjectType } from '@nestjs/graphql';
import {
  founderRuleSchema,
  type InheritanceName,
  inheritanceSchema,
  locusPairKindSchema,
} from '@scutewright/commands';
import { enumType } from '../../graphql/input-from-zod.js';
import { Animal } from '../animals/animal.types.js';
import { CommandPayload } from '../history/command.types.js';

const Inheritance = enumType(inheritanceSchema);
const FounderRule = enumType(founderRuleSchema);
const LocusPairKind = enumType(locusPairKindSchema);

@ObjectType({ description: 'One form of a gene' })
export class Allele {
  @Field(() => String) name: string;
  @Field(() => String, {
    nullable: true,
    description: 'Share of the copies among founders, as text; null where nobody said',
  })
  frequency: string | null;
}

@ObjectType({
  description:
    'What animals of one genotype look like that are of the common form at every other gene',
})
export class GenotypeLook {
  @Field(() => String) locus: string;
  @Field(() => String, { description: 'As N/a' }) genotype: string;
  @Field(() => Int, { description: 'Copies of any form but the common one' }) rareCopies: number;
  @Field(() => String, { description: 'In words: pale, or plain' }) looks: string;
  @Field(() => String, {
    nullable: true,
    description: 'Why to look at it again: two traits claim it, or none speaks of it',
  })
  gap: string | null;
}

@ObjectType({ description: 'A gene as it is defined' })
export class DefinedLocus {
  @Field(() => ID) id: string;
  @Field(() => String) code: string;
  @Field(() => String) name: string;
  @Field(() => Inheritance) inheritance: InheritanceName;
  @Field(() => [Allele], { description: 'The common one first' }) alleles: Allele[];
  @Field(() => FounderRule) founderRule: string;
  @Field(() => [Animal], { description: 'The founders that the rule names' }) founders: Animal[];
  @Field(() => [GenotypeLook]) looks: GenotypeLook[];
  @Field(() => Int, { description: 'Declarations that tell of it' }) declarations: number;
}

@ObjectType({ description: 'A rule that plain choices can say' })
export class PlainRule {
  @Field(() => ID) locusId: string;
  @Field(() => [String], { description: 'Genotypes that show it' }) genotypes: string[];
  @Field(() => Float, { nullable: true, description: 'Age in days from which it shows' })
  fromDays: number | null;
  @Field(() => String, { nullable: true, description: 'm or f, where one sex only shows it' })
  sex: string | null;
}

@ObjectType({ description: 'A trait as it is defined' })
export class DefinedTrait {
  @Field(() => ID) id: string;
  @Field(() => String) name: string;
  @Field(() => String, { description: 'Its rule as text: pl = p/p and age >= 730' }) shows: string;
  @Field(() => PlainRule, {
    nullable: true,
    description: 'The same as plain choices; null where the rule says more',
  })
  plain: PlainRule | null;
  @Field(() => String, { description: 'The rule as a sentence' }) said: string;
  @Field(() => [String], { description: 'Codes of the genes it speaks of' }) loci: string[];
  @Field(() => String, { nullable: true }) description: string | null;
  @Field(() => Float, { description: 'How often a look under two years is wrong, 0 to 0.5' })
  misreadYoung: number;
  @Field(() => Float, { description: 'How often a look at a grown animal is wrong, 0 to 0.5' })
  misreadAdult: number;
  @Field(() => String, { nullable: true, description: 'What is known of its welfare' })
  welfareNote: string | null;
  @Field(() => String, { nullable: true }) welfareSource: string | null;
  @Field(() => Int, { description: 'Colour checks in which it was seen' }) seenIn: number;
}

@ObjectType({ description: 'How two genes lie to each other' })
export class LocusPair {
  @Field(() => ID) id: string;
  @Field(() => ID) firstId: string;
  @Field(() => ID) secondId: string;
  @Field(() => LocusPairKind) kind: string;
  @Field(() => String, {
    description: 'LINKED: recombination fraction. ONE_GENE: probability before the records',
  })
  chance: string;
  @Field(() => String, { nullable: true }) reason: string | null;
  @Field(() => Float, {
    nullable: true,
    description: 'ONE_GENE: probability with all records; null where they cannot all be true',
  })
  now: number | null;
}

@ObjectType({ description: 'The genes and traits of a program, as they are defined' })
export class Definitions {
  @Field(() => [DefinedLocus]) loci: DefinedLocus[];
  @Field(() => [DefinedTrait]) traits: DefinedTrait[];
  @Field(() => [LocusPair]) pairs: LocusPair[];
  @Field(() => [Animal], { description: 'Animals without recorded parents' }) founders: Animal[];
  @Field(() => Float, { description: 'Assumed of all rarer forms together where nobody said' })
  assumedFrequency: number;
  @Field(() => Int) revision: number;
}

@ObjectType({ description: 'One thing that must be mended' })
export class DefinitionFault {
  @Field(() => String) message: string;
  @Field(() => String) remedy: string;
}

@ObjectType({ description: 'What a trait would mean, looked at before it is kept' })
export class TraitCheck {
  @Field(() => [DefinitionFault], { description: 'Empty where it can be kept' })
  faults: DefinitionFault[];
  @Field(() => String, { description: 'The rule as a sentence; empty where it cannot be read' })
  said: string;
  @Field(() => [GenotypeLook], { description: 'Of the genes it speaks of, with this trait' })
  looks: GenotypeLook[];
}

@ObjectType({ description: 'The definitions after an act on them' })
export class DefinitionsPayload extends CommandPayload {
  @Field(() => Definitions) definitions: Definitions;
}
