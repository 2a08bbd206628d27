import { Field, Float, ID, Int, ObjectType } from '@nestjs/graphql';
import { Animal } from '../animals/animal.types.js';

@ObjectType({ description: 'An ancestor on both sides' })
export class CommonAncestor {
  @Field(() => Animal) animal: Animal;
  @Field(() => Float, { description: 'Its part of F, 0 to 1' }) contribution: number;
}

@ObjectType({ description: 'How related two animals are, over their possible fathers' })
export class KinFinding {
  @Field(() => Float, { description: 'F of a young of the two, 0 to 1' }) value: number;
  @Field(() => Float, { description: 'Least F over the possible fathers' }) lowest: number;
  @Field(() => Float, { description: 'Greatest F over the possible fathers' }) highest: number;
  @Field(() => Float, {
    nullable: true,
    description:
      "If a male nobody recorded was one of the program's own; null where that makes them no nearer or the yard was open",
  })
  worst: number | null;
  @Field(() => Boolean, { description: 'Every combination of fathers was counted' })
  isRangeExact: boolean;
  @Field(() => String) sentence: string;
  @Field(() => [CommonAncestor], { description: 'At most five, largest first' })
  commonAncestors: CommonAncestor[];
}

@ObjectType({ description: 'Two animals and how related they are' })
export class RelatedPair {
  @Field(() => Animal) a: Animal;
  @Field(() => Animal) b: Animal;
  @Field(() => Float, { description: 'Relatedness a_ij, 0 to 2: 1/2 for full brother and sister' })
  relatedness: number;
  @Field(() => Float) lowest: number;
  @Field(() => Float) highest: number;
  @Field(() => Float, {
    nullable: true,
    description:
      "If a male nobody recorded was one of the program's own; null where that makes them no nearer or the yard was open",
  })
  worst: number | null;
  @Field(() => Float, { description: 'F that young of the two would have' }) youngF: number;
  @Field(() => String, { description: 'In words' }) words: string;
}

@ObjectType({ description: 'How related some animals are' })
export class RelatednessAnswer {
  @Field(() => [Animal]) animals: Animal[];
  @Field(() => [RelatedPair]) pairs: RelatedPair[];
  @Field(() => [Float], { description: 'Equivalent complete generations behind each animal' })
  generationsKnown: number[];
  @Field(() => String) sentence: string;
  @Field(() => [String]) assumptions: string[];
}

@ObjectType({ description: 'One line over which two animals may hold the same copy of a gene' })
export class KinPath {
  @Field(() => [Animal], {
    nullable: 'items',
    description:
      'From the one over the common ancestor to the other; null: an animal nobody recorded',
  })
  animals: (Animal | null)[];
  @Field(() => Animal, {
    nullable: true,
    description: 'The common ancestor; null: nobody recorded',
  })
  ancestor: Animal | null;
  @Field(() => Float, {
    description:
      'Its part of the F of a young of the two: (1/2)^animals on it x (1 + F of the ancestor)',
  })
  share: number;
}

@ObjectType({ description: 'How two animals are related, path by path' })
export class KinPaths {
  @Field(() => Animal) a: Animal;
  @Field(() => Animal) b: Animal;
  @Field(() => String, { description: 'In one sentence' }) sentence: string;
  @Field(() => Float, { description: 'F of a young of the two: the sum of all paths' })
  youngF: number;
  @Field(() => Float, { description: 'Least over the possible fathers' }) lowest: number;
  @Field(() => Float, { description: 'Greatest over the possible fathers' }) highest: number;
  @Field(() => [KinPath], { description: 'Those that add most first; at most 24' })
  paths: KinPath[];
  @Field(() => Float, { description: 'What the paths not listed add' }) remainder: number;
  @Field(() => [Animal], { description: 'Founders behind the one, the largest share first' })
  foundersOfA: Animal[];
  @Field(() => [Animal], { description: 'Founders behind the other' }) foundersOfB: Animal[];
}

@ObjectType({ description: 'How two animals would be related if two founders were kin' })
export class KinSupposed {
  @Field(() => String, { description: 'In one sentence' }) sentence: string;
  @Field(() => Float, { description: 'F of a young of the two as the books stand' })
  youngFNow: number;
  @Field(() => Float, { description: 'F of a young of the two, were it so' }) youngF: number;
  @Field(() => Float, { description: 'Least over the possible fathers' }) lowest: number;
  @Field(() => Float, { description: 'Greatest over the possible fathers' }) highest: number;
}

@ObjectType({ description: 'A young of an animal, certain or possible' })
export class PossibleYoung {
  @Field(() => Animal) animal: Animal;
  @Field(() => Float, {
    description: 'That it is a young of this animal, 0 to 1, by who was where',
  })
  probability: number;
}

@ObjectType({ description: 'A point of a line of the drawing' })
export class LinePoint {
  @Field(() => Float) x: number;
  @Field(() => Float, { description: '0 at the top' }) generation: number;
}

@ObjectType({ description: 'An animal and its place in the drawing' })
export class PlacedAnimal {
  @Field(() => Animal) animal: Animal;
  @Field(() => Float) x: number;
  @Field(() => Float) generation: number;
}

@ObjectType({ description: 'A line from a parent' })
export class PlacedParent {
  @Field(() => ID) animalId: string;
  @Field(() => Float, { description: 'That it is the parent, 0 to 1' }) probability: number;
  @Field(() => [LinePoint]) line: LinePoint[];
}

@ObjectType({ description: 'A line to a young' })
export class PlacedYoung {
  @Field(() => ID) animalId: string;
  @Field(() => [LinePoint]) line: LinePoint[];
}

@ObjectType({ description: 'Parents with their young' })
export class PlacedPair {
  @Field(() => Float) x: number;
  @Field(() => Float) generation: number;
  @Field(() => [PlacedParent]) parents: PlacedParent[];
  @Field(() => [PlacedYoung]) young: PlacedYoung[];
  @Field(() => Boolean, { description: 'The young are inbred: drawn with a double line' })
  isRelated: boolean;
}

@ObjectType({ description: 'A founder and its share of the genes' })
export class FounderShare {
  @Field(() => Animal) animal: Animal;
  @Field(() => Float, { description: '0 to 1' }) share: number;
}

@ObjectType({ description: 'One possible father, before and after the colours were weighed' })
export class FatherChance {
  @Field(() => Animal, { nullable: true, description: 'Null: a male nobody recorded' })
  animal: Animal | null;
  @Field(() => Float, { description: 'By who was where, 0 to 1' }) before: number;
  @Field(() => Float, { description: 'By all records together, 0 to 1' }) after: number;
  @Field(() => String, { description: 'What the first rests on' }) basis: string;
}

@ObjectType({ description: 'Where an animal comes from, and what came of it' })
export class Lineage {
  @Field(() => Animal) animal: Animal;
  @Field(() => String) sentence: string;
  @Field(() => Float) width: number;
  @Field(() => Int) generations: number;
  @Field(() => [PlacedAnimal]) animals: PlacedAnimal[];
  @Field(() => [PlacedPair]) pairs: PlacedPair[];
  @Field(() => [FounderShare], { description: 'Largest first' }) founders: FounderShare[];
  @Field(() => Float, { description: 'Share that came in through animals nobody recorded' })
  unrecorded: number;
  @Field(() => [Float], { description: 'Share of places recorded: parents first' })
  completeness: number[];
  @Field(() => [PossibleYoung], { description: 'Certain ones first, then by code; at most 200' })
  young: PossibleYoung[];
  @Field(() => [Int], {
    description:
      'How many descendants, certain or possible: young, grand-young and on; each counted once',
  })
  descendants: number[];
  @Field(() => [FatherChance], {
    description: 'Most probable first; empty where the father is certain',
  })
  fathers: FatherChance[];
  @Field(() => Boolean, {
    description:
      'What the colours say of the fathers is still being worked out: until then they stand as who was where has them',
  })
  areGenesPending: boolean;
  @Field(() => [String]) assumptions: string[];
}

@ObjectType({ description: 'How inbred an animal is, and how much the figure stands on' })
export class InbreedingFinding {
  @Field(() => Float, {
    description: 'Inbreeding coefficient F, 0 to 1, expected over the possible fathers',
  })
  value: number;
  @Field(() => [Float], {
    description: 'Share of ancestral places recorded, 0 to 1: parents first, then grandparents ...',
  })
  completeness: number[];
  @Field(() => Float, { description: 'Equivalent complete generations recorded' })
  equivalentGenerations: number;
  @Field(() => String, { description: 'The finding in one sentence' }) sentence: string;
  @Field(() => [String], { description: 'What the figure takes for granted' })
  assumptions: string[];
  @Field(() => [CommonAncestor], {
    description: 'Whom its parents share; at most five, largest first',
  })
  commonAncestors: CommonAncestor[];
  @Field(() => Int, { description: 'The revision it was computed at' }) revision: number;
}
