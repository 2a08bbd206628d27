/** Where a unit of stock is counted: males, females, unsexed. */
export type SexColumn = 'males' | 'females' | 'unsexed';
export type StockCount = Record<SexColumn, number>;

/** The lines of the book. `corrected` holds lots counted anew and young told apart: it may go below zero. */
export type StockLine = 'hatched' | 'arrived' | 'corrected' | 'died' | 'left' | 'lost';

/** Something that changed the stock. `day` counts from 1970-01-01; without one it happened before all books. */
export interface StockEvent {
  readonly species: string;
  readonly column: SexColumn;
  readonly line: StockLine;
  readonly day: number;
  /** Over 0: came in. Under 0: went out. */
  readonly count: number;
}

export interface SpeciesStock {
  readonly species: string;
  readonly atStart: StockCount;
  readonly lines: Record<StockLine, StockCount>;
  readonly atEnd: StockCount;
}

const none = (): StockCount => ({ males: 0, females: 0, unsexed: 0 });

/**
 * The book from the first day to the last, by species in alphabetical order. Losses stand as positive numbers, so that
 * at start + hatched + arrived + corrected - died - left - lost = at end in each column.
 */
export function stockBook(
  events: readonly StockEvent[],
  firstDay: number,
  lastDay: number,
): SpeciesStock[] {
  const books = new Map<string, SpeciesStock>();
  for (const { species, column, line, day, count } of events) {
    if (day > lastDay) continue;
    let book = books.get(species);
    if (!book) {
      const lines = {
        hatched: none(),
        arrived: none(),
        corrected: none(),
        died: none(),
        left: none(),
        lost: none(),
      };
      book = { species, atStart: none(), lines, atEnd: none() };
      books.set(species, book);
    }
    book.atEnd[column] += count;
    if (day < firstDay) book.atStart[column] += count;
    else {
      const isLoss = line === 'died' || line === 'left' || line === 'lost';
      book.lines[line][column] += isLoss ? -count : count;
    }
  }
  return [...books.values()].sort((a, b) => (a.species < b.species ? -1 : 1));
}

/** What happened to one animal, oldest first once sorted. */
export interface Coming {
  readonly day: number;
  readonly line: StockLine;
  readonly isIn: boolean;
}

/**
 * The comings and goings of one animal as they change the stock: coming in when it is here, or leaving when it is not,
 * changes nothing; a death is the end.
 */
export function stockOfAnimal(
  species: string,
  column: SexColumn,
  comings: readonly Coming[],
): StockEvent[] {
  const events: StockEvent[] = [];
  let isHere = false;
  for (const { day, line, isIn } of [...comings].sort((a, b) => a.day - b.day)) {
    if (isIn !== isHere) events.push({ species, column, line, day, count: isIn ? 1 : -1 });
    isHere = isIn;
    if (line === 'died') break;
  }
  return events;
}
