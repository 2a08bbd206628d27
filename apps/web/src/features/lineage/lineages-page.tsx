import { Link, useNavigate } from 'react-router';
import { AnimalFinder } from '../../components/animal-finder.js';
import { Band } from '../../components/band.js';
import { Code } from '../../components/code.js';
import { FaultNote } from '../../components/fault-note.js';
import { Opening } from '../../components/opening.js';
import { addresses } from '../../lib/addresses.js';
import { namedAnimal } from '../../lib/answer-fragments.js';
import { partialDateWords } from '../../lib/date-words.js';
import { graphql } from '../../lib/graphql.js';
import { useProgram } from '../../lib/program-context.js';
import { useRead } from '../../lib/use-read.js';

const LatestHatchedQuery = graphql(
  `
    query LatestHatched($programId: ID!) {
      animals(programId: $programId, first: 8, orderBy: LATEST) {
        edges {
          node {
            ...NamedAnimal
            hatched {
              text
            }
          }
        }
      }
    }
  `,
  [namedAnimal],
);

/** Whose lineage? */
export function LineagesPage() {
  const program = useProgram();
  const navigate = useNavigate();
  const { data, faults, again } = useRead(LatestHatchedQuery, { programId: program.id });
  const latest = (data?.animals.edges ?? []).filter(({ node }) => node.hatched);
  return (
    <>
      <Opening
        title="Lineage"
        sentence="Name an animal to see who its parents may be, and back to which founders."
      />
      <Band title="Whose lineage" note="A hatchling, or anybody in the books.">
        <div className="onecol">
          <AnimalFinder
            id="lineage-of"
            programId={program.id}
            label="Animal"
            placeholder="Code or name"
            onPick={(animal) => navigate(addresses.lineage(program.id, animal.id))}
          />
        </div>
      </Band>
      <FaultNote faults={faults} again={again} />
      {latest.length > 0 && (
        <Band title="Hatched last">
          <ul className="rows">
            {latest.map(({ node }) => (
              <li key={node.id}>
                <Link to={addresses.lineage(program.id, node.id)}>
                  <Code code={node.code} name={node.name} />
                </Link>
                <span className="soft">
                  {node.hatched && `hatched ${partialDateWords(node.hatched)}`}
                </span>
              </li>
            ))}
          </ul>
        </Band>
      )}
    </>
  );
}
