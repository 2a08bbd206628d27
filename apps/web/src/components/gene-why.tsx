import { Link } from 'react-router';
import { addresses } from '../lib/addresses.js';
import { namedAnimal } from '../lib/answer-fragments.js';
import { chanceWords } from '../lib/chance-words.js';
import { graphql } from '../lib/graphql.js';
import { useRead } from '../lib/use-read.js';
import { FaultNote } from './fault-note.js';
import { Skeleton } from './skeleton.js';
import { EvidenceList, WhyPart } from './why-drawer.js';

const GeneWhyQuery = graphql(
  `
    query GeneWhy($programId: ID!, $animalId: ID!, $locusId: ID!) {
      geneWhy(programId: $programId, animalId: $animalId, locusId: $locusId) {
        sentence
        carries
        approximation
        records {
          id
          sentence
          carriesWithout
          animal {
            ...NamedAnimal
          }
        }
        steps {
          kind
          sentence
          animal {
            ...NamedAnimal
          }
        }
        notes
      }
    }
  `,
  [namedAnimal],
);

/** The records behind a gene of an animal, each with what it would be without it, and what would settle it. */
export function GeneWhy(props: {
  readonly programId: string;
  readonly animalId: string;
  readonly locusId: string;
}) {
  const { programId } = props;
  const { data, faults, again } = useRead(GeneWhyQuery, { ...props });
  const why = data?.geneWhy;
  if (!why) {
    return faults.length > 0 ? (
      <FaultNote faults={faults} again={again} />
    ) : (
      <Skeleton lines={4} what="the records behind it" />
    );
  }
  return (
    <>
      <WhyPart name={`By all records: carries it, ${chanceWords(why.carries)}`}>
        <p className="small">
          {why.sentence} {why.approximation}
        </p>
        {why.records.length > 0 && (
          <EvidenceList
            lines={why.records
              .slice(0, MOST_RECORDS)
              .map(({ id, sentence, animal, carriesWithout }) => ({
                key: id,
                finding: animal ? (
                  <Link to={addresses.animal(programId, animal.id)}>{sentence}</Link>
                ) : (
                  sentence
                ),
                moved:
                  carriesWithout === null
                    ? 'without it impossible'
                    : `without it ${chanceWords(carriesWithout)}`,
              }))}
          />
        )}
        {why.records.length > MOST_RECORDS && (
          <p className="small">{why.records.length - MOST_RECORDS} more change it less.</p>
        )}
      </WhyPart>
      {why.steps.length > 0 && (
        <WhyPart name="What would settle it, most telling first">
          <ol className="steps">
            {why.steps.slice(0, MOST_STEPS).map((step) => (
              <li key={step.kind + step.animal.id}>{step.sentence}</li>
            ))}
          </ol>
        </WhyPart>
      )}
      {why.notes.map((note) => (
        <p key={note} className="small soft">
          {note}
        </p>
      ))}
    </>
  );
}

const MOST_RECORDS = 8;
const MOST_STEPS = 4;
