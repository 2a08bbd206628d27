import { AnimalLink } from '../../components/animal-link.js';
import { Assumed } from '../../components/assumed.js';
import { FaultNote } from '../../components/fault-note.js';
import { FounderShares } from '../../components/founder-shares.js';
import { Said } from '../../components/said.js';
import { Skeleton } from '../../components/skeleton.js';
import { WhyDrawer } from '../../components/why-drawer.js';
import { Word } from '../../components/word.js';
import { type NamedAnimal, namedAnimal } from '../../lib/answer-fragments.js';
import { inbreedingWords } from '../../lib/chance-words.js';
import { graphql } from '../../lib/graphql.js';
import { useRead } from '../../lib/use-read.js';
import '../../components/facts.css';
import './health.css';

const HealthQuery = graphql(
  `
    query ProgramHealth($programId: ID!) {
      programHealth(programId: $programId) {
        sentence
        founders {
          share
          animal {
            ...NamedAnimal
          }
        }
        unrecorded
        effectiveFounders
        geneDiversity
        meanKinship
        meanInbreeding
        effectiveAncestors
        genomeEquivalents
        breedingSize
        wellKept {
          meanKinship
          animal {
            ...NamedAnimal
          }
        }
        wouldBeMissed {
          meanKinship
          animal {
            ...NamedAnimal
          }
        }
        assumptions
      }
    }
  `,
  [namedAnimal],
);

/** How wide the line still is: founders in plain words, the science behind a door. */
export function HealthBand({ programId }: { readonly programId: string }) {
  const { data, faults, again } = useRead(HealthQuery, { programId });
  const health = data?.programHealth;
  if (!health) {
    return faults.length > 0 ? (
      <FaultNote faults={faults} again={again} />
    ) : (
      <Skeleton lines={6} what="the state of the line" />
    );
  }
  const figures: [string, string, string][] = [
    [
      'Diversity kept',
      `${(health.geneDiversity * 100).toFixed(1)} %`,
      '1 less the mean kinship (Lacy 1995)',
    ],
    ['Mean kinship', inbreedingWords(health.meanKinship), 'of the living, each with itself too'],
    [
      'Breeding size',
      health.breedingSize === null ? 'not to be told' : health.breedingSize.toFixed(1),
      'from how inbreeding grew a generation (Gutierrez and others 2008)',
    ],
    ['Mean F', inbreedingWords(health.meanInbreeding), 'inbreeding of the living'],
    [
      'Effective founders',
      health.effectiveFounders.toFixed(1),
      'equal founders that would bring as much (Lacy 1989)',
    ],
    [
      'Effective ancestors',
      health.effectiveAncestors.toFixed(1),
      'after bottlenecks (Boichard and others 1997)',
    ],
    [
      'Founder genome equivalents',
      health.genomeEquivalents.toFixed(1),
      'after what chance has lost (Lacy 1989)',
    ],
  ];
  return (
    <>
      <p className="lead">
        <Said text={health.sentence} />
      </p>
      <p>
        {health.breedingSize === null
          ? 'Nobody here is inbred by our books, so how fast it grows cannot be told.'
          : `Inbreeding has grown as in a group of ${health.breedingSize.toFixed(health.breedingSize < 10 ? 1 : 0)} equally used breeders.`}{' '}
        <span className="small soft block">
          What is meant by: <Word means="diversity kept" />, <Word means="equal founders" />,{' '}
          <Word means="breeding size" />, <Word means="kinship to all here" />
        </span>
      </p>
      <div className="use-lists">
        <UseList
          programId={programId}
          title="Would be missed: least related to the rest"
          list={health.wouldBeMissed}
        />
        <UseList
          programId={programId}
          title="Well kept already: most related to the rest"
          list={health.wellKept}
        />
      </div>
      <h3>What each founder gave to those living here</h3>
      <FounderShares
        programId={programId}
        founders={health.founders}
        unrecorded={health.unrecorded}
      />
      <WhyDrawer of="the state of the line" label="The science behind it">
        <dl className="facts">
          {figures.map(([name, value, note]) => (
            <div key={name}>
              <dt>{name}</dt>
              <dd>
                <b>{value}</b> <span className="small soft">{note}</span>
              </dd>
            </div>
          ))}
        </dl>
      </WhyDrawer>
      <Assumed of="the state of the line" lines={health.assumptions} />
    </>
  );
}

function UseList(props: {
  readonly programId: string;
  readonly title: string;
  readonly list: readonly { readonly animal: NamedAnimal; readonly meanKinship: number }[];
}) {
  if (props.list.length === 0) return null;
  return (
    <div>
      <h3>{props.title}</h3>
      <ul className="rows">
        {props.list.map(({ animal, meanKinship }) => (
          <li key={animal.id}>
            <AnimalLink programId={props.programId} animal={animal} />
            <span className="small soft">kinship to all here {inbreedingWords(meanKinship)}</span>
          </li>
        ))}
      </ul>
    </div>
  );
}
