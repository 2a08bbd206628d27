import { Field, Float, ID, Int, ObjectType } from '@nestjs/graphql';
import { Animal } from '../animals/animal.types.js';
import { GeneRow } from '../genes/genes.types.js';
import { CommonAncestor } from '../lineage/lineage.types.js';
import { Caution } from '../pairings/pairings.types.js';

@ObjectType({ description: "An animal of a sale: one of ours, or one of the buyer's" })
export class SaleAnimal {
  @Field(() => ID) id: string;
  @Field(() => String) code: string;
  @Field(() => String, { nullable: true }) name: string | null;
  @Field(() => String, { description: 'MALE, FEMALE or UNKNOWN' }) sex: string;
  @Field(() => Boolean, { description: "The buyer's, by what they said" }) isBuyers: boolean;
  @Field(() => Float, { description: 'Equivalent complete generations recorded behind it' })
  generationsKnown: number;
  @Field(() => [Float], {
    description: 'Share recorded of its parents, grandparents, great-grandparents',
  })
  known: number[];
}

@ObjectType({ description: 'Two animals of a sale' })
export class SalePair {
  @Field(() => ID) a: string;
  @Field(() => ID) b: string;
  @Field(() => Float, { description: 'a_ij, 0 to 2: 1/2 for full brother and sister' })
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
  @Field(() => Boolean, { description: 'False: nothing is recorded behind one, so nobody can say' })
  isKnown: boolean;
  @Field(() => Boolean, { description: 'Not known to be of one sex' }) canBreed: boolean;
  @Field(() => String) words: string;
  @Field(() => [CommonAncestor], {
    description: "Forebears of both in our books, with their part of the young's F; at most five",
  })
  through: CommonAncestor[];
}

@ObjectType({ description: 'One line of a sale sheet' })
export class SheetLine {
  @Field(() => String) what: string;
  @Field(() => String) finding: string;
  @Field(() => String, { nullable: true, description: 'What it rests on' }) basis: string | null;
}

@ObjectType({ description: 'What the records hold of one animal that goes' })
export class SaleSheet {
  @Field(() => Animal) animal: Animal;
  @Field(() => String) sentence: string;
  @Field(() => [SheetLine]) lines: SheetLine[];
  @Field(() => [String], { description: 'Not known, and so not claimed' }) notKnown: string[];
  @Field(() => [String], { description: 'Care and law, for the buyer' }) care: string[];
}

@ObjectType({ description: 'What can honestly be said of some animals before they go' })
export class SaleCheck {
  @Field(() => [SaleAnimal], { description: "Ours in the order asked, then the buyer's" })
  animals: SaleAnimal[];
  @Field(() => String) sentence: string;
  @Field(() => [SalePair]) pairs: SalePair[];
  @Field(() => [GeneRow], { description: 'Of ours' }) genes: GeneRow[];
  @Field(() => [Caution]) cautions: Caution[];
  @Field(() => [String], { description: 'What the buyer must be told, a sentence each' })
  mustTell: string[];
  @Field(() => [SaleSheet], { description: 'Of ours' }) sheets: SaleSheet[];
  @Field(() => String, {
    description: 'A text to copy to the buyer; claims nothing the records do not hold',
  })
  letter: string;
  @Field(() => [String]) assumptions: string[];
}

@ObjectType({ description: "A possible parent in a buyer's file" })
export class BuyerFileParent {
  @Field(() => String) code: string;
  @Field(() => Float, { nullable: true }) probability: number | null;
}

@ObjectType({ description: "One animal of a buyer's file" })
export class BuyerFileAnimal {
  @Field(() => String) code: string;
  @Field(() => String, { nullable: true }) name: string | null;
  @Field(() => String, { description: 'MALE, FEMALE or UNKNOWN' }) sex: string;
  @Field(() => String, { nullable: true, description: 'As written' }) hatched: string | null;
  @Field(() => String, { nullable: true }) clutch: string | null;
  @Field(() => [BuyerFileParent]) sires: BuyerFileParent[];
  @Field(() => [BuyerFileParent]) dams: BuyerFileParent[];
  @Field(() => Animal, {
    nullable: true,
    description: 'One of ours with the same code: only a person can say whether it is the same',
  })
  sameCode: Animal | null;
}

@ObjectType({ description: "A buyer's file, read and not kept" })
export class BuyerFile {
  @Field(() => [BuyerFileAnimal]) animals: BuyerFileAnimal[];
  @Field(() => Int, { description: 'Rows that could not be read' }) unread: number;
  @Field(() => [String], { description: 'What is wrong with it, a sentence each; at most ten' })
  faults: string[];
}
