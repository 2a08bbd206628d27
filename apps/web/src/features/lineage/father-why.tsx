import { Link } from 'react-router';
import { FaultNote } from '../../components/fault-note.js';
import { Skeleton } from '../../components/skeleton.js';
import { EvidenceList, WhyDrawer, WhyPart } from '../../components/why-drawer.js';
import { addresses } from '../../lib/addresses.js';
import { namedAnimal } from '../../lib/answer-fragments.js';
import { chanceWords } from '../../lib/chance-words.js';
import { graphql } from '../../lib/graphql.js';
import { useRead } from '../../lib/use-read.js';

const FatherWhyQuery = graphql(
  `
    query FatherWhy($programId: ID!, $animalId: ID!) {
      fatherWhy(programId: $programId, animalId: $animalId) {
        sentence
        approximation
        records {
          id
          sentence
          animal {
            ...NamedAnimal
          }
          without {
            probability
            animal {
              ...NamedAnimal
            }
          }
        }
        steps
      }
    }
  `,
  [namedAnimal],
);

/** Which colours moved the possible fathers, and what would settle who it was; computed when opened. */
export function FatherWhy(props: { readonly programId: string; readonly animalId: string }) {
  return (
    <WhyDrawer of="possible fathers" label="Why, and what would settle it">
      {() => <Inside {...props} />}
    </WhyDrawer>
  );
}

function Inside(props: { readonly programId: string; readonly animalId: string }) {
  const { data, faults, again } = useRead(FatherWhyQuery, { ...props });
  const why = data?.fatherWhy;
  if (!why) {
    return faults.length > 0 ? (
      <FaultNote faults={faults} again={again} />
    ) : (
      <Skeleton lines={4} what="what moved the fathers" />
    );
  }
  return (
    <>
      <WhyPart name={why.sentence}>
        {why.records.length > 0 && (
          <EvidenceList
            lines={why.records.map(({ id, sentence, animal, without }) => ({
              key: id,
              finding: animal ? (
                <Link to={addresses.animal(props.programId, animal.id)}>{sentence}</Link>
              ) : (
                sentence
              ),
              source: `Without it: ${without
                .toSorted((a, b) => b.probability - a.probability)
                .slice(0, 4)
                .map(
                  (one) =>
                    `${one.animal?.code ?? 'nobody recorded'} ${chanceWords(one.probability)}`,
                )
                .join(', ')}`,
            }))}
          />
        )}
        {why.approximation && <p className="small">{why.approximation}</p>}
      </WhyPart>
      {why.steps.length > 0 && (
        <WhyPart name="What would settle it">
          <ul className="assumed">
            {why.steps.map((step) => (
              <li key={step}>{step}</li>
            ))}
          </ul>
        </WhyPart>
      )}
    </>
  );
}
