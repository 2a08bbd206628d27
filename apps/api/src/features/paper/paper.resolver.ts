import { Args, ID, Int, Query, Resolver } from '@nestjs/graphql';
import { dayText } from '@scutewright/basics';
import { Access, Right } from '../../auth/access.js';
import { Config } from '../../config.js';
import { Database } from '../../db/database.js';
import { inProgram, type ProgramAccess } from '../../db/in-program.js';
import { UserError } from '../../graphql/errors.js';
import { PublicAddress } from '../../http/public-address.js';
import { Snapshots } from '../../snapshot/snapshots.js';
import { today } from '../../snapshot/today.js';
import { LabelAddress, StockBook } from './paper.types.js';
import { readStock } from './read-stock.js';
import { stockBook } from './stock-book.js';

const DAY_MS = 86_400_000;

@Resolver()
export class PaperResolver {
  constructor(
    private readonly database: Database,
    private readonly snapshots: Snapshots,
    private readonly config: Config,
    private readonly address: PublicAddress,
  ) {}

  @Access('READER')
  @Query(() => StockBook, {
    description: 'What came, went and stayed in a year, by species; it always adds up',
  })
  async stockBook(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Args('year', { type: () => Int }) year: number,
  ): Promise<StockBook> {
    const thisYear = new Date(today() * DAY_MS).getUTCFullYear();
    if (year < 1900 || year > thisYear) {
      throw new UserError('BAD_USER_INPUT', `There is no stock book of ${year}.`, {
        place: 'year',
        thing: String(year),
        remedy: `Ask for a year from 1900 to ${thisYear}.`,
      });
    }
    const snapshot = await this.snapshots.current(right);
    const { events, withoutArrival } = await inProgram(this.database, right, (tx) =>
      readStock(tx, snapshot),
    );
    const first = Date.UTC(year, 0, 1) / DAY_MS;
    const last = Math.min(Date.UTC(year, 11, 31) / DAY_MS, today());
    const remarks = [
      'Each animal stands under the sex it is known by today.',
      'Something known by its year alone counts at the end of that year; without any date, before all books.',
    ];
    if (withoutArrival > 0) {
      remarks.push(
        `${withoutArrival === 1 ? 'One animal from elsewhere has' : `${withoutArrival} animals from elsewhere have`} no arrival written down: counted from hatching, or from before all books.`,
      );
    }
    return {
      year,
      until: dayText(last),
      species: stockBook(events, first, last).map(({ lines, ...stock }) => ({
        ...stock,
        ...lines,
      })),
      remarks,
    };
  }

  @Access('READER')
  @Query(() => LabelAddress, { description: 'Where codes on printed labels lead' })
  labelAddress(
    @Right() _right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
  ): LabelAddress {
    return { base: this.address.base, isSet: this.config.publicUrl !== null };
  }
}
