import { FaultNote } from '../../components/fault-note.js';
import { Skeleton } from '../../components/skeleton.js';
import { partialDateWords } from '../../lib/date-words.js';
import { useRead } from '../../lib/use-read.js';
import { StockBookQuery, type StockCount } from './paper-documents.js';

const LINES = [
  ['atStart', 'At the start'],
  ['hatched', '+ hatched'],
  ['arrived', '+ arrived'],
  ['corrected', '+ counted anew, told apart'],
  ['died', '- died'],
  ['left', '- left'],
  ['lost', '- lost'],
  ['atEnd', '= at the end'],
] as const;

/** The stock book of a year, by species; each column adds up downwards. */
export function StockBook({
  programId,
  year,
}: {
  readonly programId: string;
  readonly year: number;
}) {
  const { data, faults, again } = useRead(StockBookQuery, { programId, year });
  const book = data?.stockBook;
  if (!book) {
    return faults.length > 0 ? (
      <FaultNote faults={faults} again={again} />
    ) : (
      <Skeleton lines={8} what="the stock book" />
    );
  }
  return (
    <>
      <h2>
        Stock book {book.year}, until {partialDateWords({ text: book.until })}
      </h2>
      {book.species.length === 0 && (
        <p>Nothing was in stock in {book.year}, by what is recorded.</p>
      )}
      {book.species.map((stock) => (
        <table key={stock.species} className="stock">
          <caption>{stock.species}</caption>
          <thead>
            <tr>
              <td />
              <th scope="col" className="num">
                Males
              </th>
              <th scope="col" className="num">
                Females
              </th>
              <th scope="col" className="num">
                Unsexed
              </th>
              <th scope="col" className="num">
                All
              </th>
            </tr>
          </thead>
          <tbody>
            {LINES.map(([line, words]) => (
              <Row key={line} words={words} count={stock[line]} isSum={line.startsWith('at')} />
            ))}
          </tbody>
        </table>
      ))}
      <ul className="small remarks">
        {book.remarks.map((remark) => (
          <li key={remark}>{remark}</li>
        ))}
        <li>
          Made from the records of this program. What a book of stock must hold, and in which form,
          your authority tells you; its form prevails.
        </li>
      </ul>
      <p className="sign">Date and signature: </p>
    </>
  );
}

function Row(props: {
  readonly words: string;
  readonly count: StockCount;
  readonly isSum: boolean;
}) {
  const { males, females, unsexed } = props.count;
  return (
    <tr className={props.isSum ? 'sum' : undefined}>
      <th scope="row">{props.words}</th>
      {Object.entries({ males, females, unsexed, all: males + females + unsexed }).map(
        ([name, count]) => (
          <td key={name} className="num">
            {count === 0 && !props.isSum ? '–' : count}
          </td>
        ),
      )}
    </tr>
  );
}
