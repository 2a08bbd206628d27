import { useSearchParams } from 'react-router';
import { AnimalFinder } from '../../components/animal-finder.js';
import { AnimalLink } from '../../components/animal-link.js';
import { Band } from '../../components/band.js';
import { FaultNote } from '../../components/fault-note.js';
import { Said } from '../../components/said.js';
import { Skeleton } from '../../components/skeleton.js';
import { TakeAlong } from '../../components/take-along.js';
import { Word } from '../../components/word.js';
import { type NamedAnimal, namedAnimal } from '../../lib/answer-fragments.js';
import { inbreedingWords } from '../../lib/chance-words.js';
import { graphql, type ResultOf } from '../../lib/graphql.js';
import { useRead } from '../../lib/use-read.js';
import { FounderKin } from './founder-kin.js';

const KinPathsQuery = graphql(
  `
    query KinPaths($programId: ID!, $animalId: ID!, $otherId: ID!) {
      kinPaths(programId: $programId, animalId: $animalId, otherId: $otherId) {
        sentence
        youngF
        lowest
        highest
        remainder
        b {
          ...NamedAnimal
        }
        foundersOfA {
          ...NamedAnimal
        }
        foundersOfB {
          ...NamedAnimal
        }
        paths {
          share
          animals {
            ...NamedAnimal
          }
          ancestor {
            id
          }
        }
      }
    }
  `,
  [namedAnimal],
);

type Paths = ResultOf<typeof KinPathsQuery>['kinPaths'];

/** How the animal is related to another, path by path. The address names the other. */
export function KinBand(props: { readonly programId: string; readonly animal: NamedAnimal }) {
  const { programId, animal } = props;
  const [params, setParams] = useSearchParams();
  const otherId = params.get('with');
  const { data, faults, again } = useRead(
    KinPathsQuery,
    { programId, animalId: animal.id, otherId: otherId ?? '' },
    otherId === null,
  );
  const paths = otherId ? data?.kinPaths : undefined;
  return (
    <Band
      title="Related to another"
      note={
        <>
          Over which ancestors, and what each path adds to <Word means="F" /> of their young.
        </>
      }
    >
      <div className="onecol">
        <AnimalFinder
          id="kin-with"
          programId={programId}
          label={`How is ${animal.code} related to`}
          placeholder="Code or name"
          isOut={(one) => one.id === animal.id}
          onPick={(one) =>
            setParams(
              (now) => {
                now.set('with', one.id);
                return now;
              },
              { replace: true, preventScrollReset: true },
            )
          }
        />
      </div>
      <FaultNote faults={faults} again={again} />
      {otherId && !paths && faults.length === 0 && <Skeleton lines={5} what="their paths" />}
      {paths && <PathTable programId={programId} code={animal.code} paths={paths} />}
      {paths && paths.foundersOfA.length > 0 && paths.foundersOfB.length > 0 && (
        <FounderKin
          key={paths.b.id}
          programId={programId}
          animal={animal}
          other={paths.b}
          founders={paths.foundersOfA}
          otherFounders={paths.foundersOfB}
        />
      )}
    </Band>
  );
}

function PathTable(props: {
  readonly programId: string;
  readonly code: string;
  readonly paths: Paths;
}) {
  const { paths, youngF, lowest, highest, remainder, sentence, b } = props.paths;
  const ranges = highest - lowest > 1e-9;
  return (
    <>
      <p className="lead">
        <Said text={sentence} />
      </p>
      {paths.length > 0 && (
        <table className="paths">
          <caption>
            F of a young of the two: {inbreedingWords(youngF)}
            {ranges &&
              `, from ${inbreedingWords(lowest)} to ${inbreedingWords(highest)} over the possible fathers`}
          </caption>
          <thead>
            <tr>
              <th scope="col">Path</th>
              <th scope="col" className="num">
                Adds to F
              </th>
            </tr>
          </thead>
          <tbody>
            {paths.map((path) => (
              <tr key={path.animals.map((one) => one?.id ?? '?').join()}>
                <td>
                  <ol className="path">
                    {path.animals.map((one, k) => (
                      <li
                        // A path may pass two animals nobody recorded.
                        key={one?.id ?? `nobody ${k}`}
                        className={one?.id === path.ancestor?.id ? 'ancestor' : undefined}
                      >
                        {one ? (
                          <AnimalLink programId={props.programId} animal={one} />
                        ) : (
                          <i>nobody recorded</i>
                        )}
                      </li>
                    ))}
                  </ol>
                </td>
                <td className="num">{inbreedingWords(path.share)}</td>
              </tr>
            ))}
            {remainder > 0 && (
              <tr>
                <td>All other paths together</td>
                <td className="num">{inbreedingWords(remainder)}</td>
              </tr>
            )}
          </tbody>
        </table>
      )}
      {paths.length > 0 && (
        <TakeAlong
          file={`paths-${props.code}-${b.code}`}
          of={`paths between ${props.code} and ${b.code}`}
          columns={['path', 'common ancestor', 'adds to F']}
          rows={() =>
            paths.map(({ animals, ancestor, share }) => [
              animals.map((one) => one?.code ?? '?').join(' > '),
              animals.find((one) => one?.id === ancestor?.id)?.code ?? 'nobody recorded',
              share,
            ])
          }
        />
      )}
    </>
  );
}
