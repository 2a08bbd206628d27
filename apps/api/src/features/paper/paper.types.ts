import { Field, Int, ObjectType } from '@nestjs/graphql';

@ObjectType({ description: 'Heads by sex: 1.2.5' })
export class StockCount {
  @Field(() => Int) males: number;
  @Field(() => Int) females: number;
  @Field(() => Int) unsexed: number;
}

@ObjectType({ description: 'One species in the stock book of a year' })
export class SpeciesStock {
  @Field(() => String, { description: 'Scientific name' }) species: string;
  @Field(() => StockCount, { description: 'On the first of January' }) atStart: StockCount;
  @Field(() => StockCount) hatched: StockCount;
  @Field(() => StockCount, { description: 'Bought, received, borrowed or come back' })
  arrived: StockCount;
  @Field(() => StockCount, {
    description: 'Lots counted anew and young told apart; under 0 where fewer were there',
  })
  corrected: StockCount;
  @Field(() => StockCount) died: StockCount;
  @Field(() => StockCount, { description: 'Sold, given away, lent or sent back' }) left: StockCount;
  @Field(() => StockCount, { description: 'Escaped, or gone from a lot' }) lost: StockCount;
  @Field(() => StockCount, { description: 'At the end of the year, or today' }) atEnd: StockCount;
}

@ObjectType({ description: 'The stock book of a year' })
export class StockBook {
  @Field(() => Int) year: number;
  @Field(() => String, { description: 'The last day it covers, YYYY-MM-DD' }) until: string;
  @Field(() => [SpeciesStock]) species: SpeciesStock[];
  @Field(() => [String], { description: 'How it was counted' }) remarks: string[];
}

@ObjectType({ description: 'Where codes on labels lead' })
export class LabelAddress {
  @Field(() => String, { description: 'Without trailing slash' }) base: string;
  @Field(() => Boolean, { description: 'Whether somebody set it; else labels may go stale' })
  isSet: boolean;
}
