import { AnimalLink } from '../../components/animal-link.js';
import { FaultNote } from '../../components/fault-note.js';
import { namedAnimal } from '../../lib/answer-fragments.js';
import { partialDateWords } from '../../lib/date-words.js';
import { graphql } from '../../lib/graphql.js';
import { useRead } from '../../lib/use-read.js';

const ReachQuery = graphql(
  `
    query CorrectionReach($programId: ID!, $clutchId: ID!) {
      correctionReach(programId: $programId, clutchId: $clutchId) {
        sentence
        left {
          id
          animal {
            ...NamedAnimal
          }
          lot
          count
          how
          date
          contact
        }
      }
    }
  `,
  [namedAnimal],
);

/** Whom a correction of the parents reaches, and who has to be told. */
export function Reach(props: { readonly programId: string; readonly clutchId: string }) {
  const { data, faults, again } = useRead(ReachQuery, props);
  const reach = data?.correctionReach;
  return (
    <>
      <FaultNote faults={faults} again={again} />
      {reach && <p>{reach.sentence}</p>}
      {reach && reach.left.length > 0 && (
        <ul className="reach" aria-label="Those that left">
          {reach.left.map(({ id, animal, lot, count, how, date, contact }) => (
            <li key={id}>
              {animal ? (
                <AnimalLink programId={props.programId} animal={animal} />
              ) : (
                `${count} of lot ${lot}`
              )}{' '}
              {how}
              {date ? ` ${partialDateWords({ text: date })}` : ''}
              {contact ? ` to ${contact}` : ', nobody wrote to whom'}
            </li>
          ))}
        </ul>
      )}
    </>
  );
}
