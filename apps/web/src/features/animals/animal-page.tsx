import type { ReactNode } from 'react';
import { Link, useParams } from 'react-router';
import { Band } from '../../components/band.js';
import { Code } from '../../components/code.js';
import { CommandList } from '../../components/command-list.js';
import { FaultNote } from '../../components/fault-note.js';
import { Opening } from '../../components/opening.js';
import { Skeleton } from '../../components/skeleton.js';
import { addresses } from '../../lib/addresses.js';
import { partialDateWords } from '../../lib/date-words.js';
import { useProgram } from '../../lib/program-context.js';
import { useRead } from '../../lib/use-read.js';
import { type AnimalDetail, AnimalQuery } from './animal-documents.js';
import { AnimalSentence } from './animal-sentence.js';
import { GenesBand } from './genes-band.js';
import { InbreedingStanding } from './inbreeding-standing.js';
import { NoSuchAnimal } from './no-such-animal.js';
import { ParentStanding } from './parent-standing.js';
import { SexStanding } from './sex-standing.js';
import '../../components/facts.css';

const ORIGIN_WORDS = {
  HATCHED_HERE: 'hatched here',
  ACQUIRED: 'came from elsewhere',
  ANCESTOR_ONLY: 'known only as an ancestor',
};

/** One animal: what the records add up to, each line with its why. */
export function AnimalPage(props: {
  /** Bands about what is written of it, before its changes. */
  readonly records?: (animal: AnimalDetail) => ReactNode;
}) {
  const program = useProgram();
  const { animalId = '' } = useParams();
  const { data, faults, again } = useRead(AnimalQuery, { programId: program.id, id: animalId });
  const trail = <Link to={addresses.animals(program.id)}>Animals</Link>;
  if (!data) {
    return (
      <>
        <Opening title="Animal" trail={trail} />
        <FaultNote faults={faults} again={again} />
        {faults.length === 0 && <Skeleton lines={10} what="the animal" />}
      </>
    );
  }
  const { animal, history } = data;
  if (!animal) return <NoSuchAnimal programId={program.id} />;
  return (
    <>
      <Opening
        title={animal.name ? `${animal.code} ${animal.name}` : animal.code}
        heading={
          <span className="figure">
            <Code code={animal.code} name={animal.name} />
          </span>
        }
        trail={trail}
        sentence={<AnimalSentence animal={animal} today={new Date()} />}
        acts={
          <>
            {program.mayWrite && (
              <Link className="act" to={addresses.editAnimal(program.id, animal.id)}>
                Change what is written
              </Link>
            )}
            <Link className="act line" to={addresses.lineage(program.id, animal.id)}>
              Lineage
            </Link>
            <Link className="act line" to={addresses.mates(program.id, animal.code)}>
              Possible mates
            </Link>
            <Link className="act line" to={addresses.sales(program.id, [animal.id])}>
              Before a sale
            </Link>
          </>
        }
      />
      <FaultNote faults={faults} again={again} />
      <Band
        title={{ FEMALE: 'What she is', MALE: 'What he is', UNKNOWN: 'What it is' }[animal.sex.sex]}
        note="Each line is what the records add up to, never a bare field."
      >
        <SexStanding finding={animal.sex} />
        <ParentStanding which="mother" programId={program.id} finding={animal.dam} />
        <ParentStanding which="father" programId={program.id} finding={animal.sire} />
        <InbreedingStanding finding={animal.inbreeding} />
      </Band>
      <GenesBand programId={program.id} animalId={animal.id} />
      <Band title="Plain facts">
        <PlainFacts animal={animal} />
      </Band>
      {props.records?.(animal)}
      <Band title="Changes" note="Who wrote what, newest first.">
        {history.edges.length === 0 ? (
          <p>Nothing was changed since the books were opened here.</p>
        ) : (
          <CommandList commands={history.edges.map(({ node }) => node)} />
        )}
        <p>
          <Link to={addresses.history(program.id)}>
            {history.totalCount > 5
              ? `All ${history.totalCount}, in the history of the program`
              : 'History of the whole program'}
          </Link>
        </p>
      </Band>
    </>
  );
}

function PlainFacts({ animal }: { readonly animal: AnimalDetail }) {
  return (
    <dl className="facts">
      <Fact name="Species">
        <i>{animal.species}</i>
      </Fact>
      <Fact name="Hatched">
        {animal.hatched ? (
          partialDateWords(animal.hatched)
        ) : (
          <span className="soft">not known</span>
        )}
      </Fact>
      {animal.clutch?.code && (
        <Fact name="Clutch">
          <Code code={animal.clutch.code} />
        </Fact>
      )}
      <Fact name="Where it comes from">{ORIGIN_WORDS[animal.origin]}</Fact>
      {animal.notes && <Fact name="Notes">{animal.notes}</Fact>}
    </dl>
  );
}

function Fact(props: { readonly name: string; readonly children: ReactNode }) {
  return (
    <div>
      <dt>{props.name}</dt>
      <dd>{props.children}</dd>
    </div>
  );
}
