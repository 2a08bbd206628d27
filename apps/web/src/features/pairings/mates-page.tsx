import { Link, useParams, useSearchParams } from 'react-router';
import { AnimalLink } from '../../components/animal-link.js';
import { Assumed } from '../../components/assumed.js';
import { Band } from '../../components/band.js';
import { EmptyState } from '../../components/empty-state.js';
import { FaultNote } from '../../components/fault-note.js';
import { Opening } from '../../components/opening.js';
import { Skeleton } from '../../components/skeleton.js';
import { addresses } from '../../lib/addresses.js';
import type { NamedAnimal } from '../../lib/answer-fragments.js';
import { useProgram } from '../../lib/program-context.js';
import { useRead } from '../../lib/use-read.js';
import { MateList } from './mate-list.js';
import { MatesQuery, SeekerQuery } from './pairing-documents.js';
import { matesVariables } from './season-address.js';
import { SeasonSettingsForm } from './season-settings.js';
import { SetApart, TakePairs, youngWords } from './weighed-pair.js';
import './pairings.css';

/** One animal: all its possible mates in one order, each with what makes it so. */
export function MatesPage() {
  const program = useProgram();
  const { code = '' } = useParams();
  const { data, faults, again } = useRead(SeekerQuery, { programId: program.id, code });
  if (data?.animal) return <Mates programId={program.id} animal={data.animal} />;
  return (
    <>
      <Opening
        title={`Mates for ${code}`}
        trail={<Link to={addresses.pairings(program.id)}>Pairings</Link>}
        sentence={data && 'That animal is not in the books.'}
      />
      <FaultNote faults={faults} again={again} />
      {!data && faults.length === 0 && <Skeleton lines={12} what="the mates" />}
    </>
  );
}

function Mates(props: { readonly programId: string; readonly animal: NamedAnimal }) {
  const { programId, animal } = props;
  const [params] = useSearchParams();
  const { data, waiting, faults, again } = useRead(
    MatesQuery,
    matesVariables(programId, animal.id, params),
  );
  const answer = data?.suggestPairings;
  const best = answer?.suggestions[0];
  const bestMate = best && (best.sire.id === animal.id ? best.dam : best.sire);
  return (
    <>
      <Opening
        title={`Mates for ${animal.code}`}
        heading={
          <>
            Who goes with <AnimalLink programId={programId} animal={animal} />
          </>
        }
        trail={<Link to={addresses.pairings(programId)}>Pairings</Link>}
        sentence={
          answer &&
          (best && bestMate ? (
            <>
              For <span className="t">{answer.trait.name}</span>, <b>{bestMate.code}</b> stands
              first: <b>{youngWords(best.value)}</b> of that kind a season to expect.
            </>
          ) : (
            'No possible mate stands in the books.'
          ))
        }
      />
      <FaultNote faults={faults} again={again} />
      {!answer && faults.length === 0 && <Skeleton lines={14} what="the mates" />}
      {answer && data && (
        <>
          <SeasonSettingsForm
            traits={data.genotypeOdds.traits}
            traitId={answer.trait.id}
            settings={answer.settings}
            waiting={waiting}
            note={`${answer.weighed} mates weighed, ${answer.suggestions.length} shown. Choosing acts at once and stays in the address.`}
          />
          <Band
            title="In this order"
            note="Multiplied, the parts give the healthy young of the sought kind to expect."
          >
            {answer.suggestions.length === 0 ? (
              <EmptyState title="Nobody to rank">
                <p>
                  A mate is a grown animal of the other sex and the same species, within what you
                  chose above.
                </p>
              </EmptyState>
            ) : (
              <MateList programId={programId} animal={animal} pairs={answer.suggestions} />
            )}
            <TakePairs
              file={`mates of ${animal.code}`}
              trait={answer.trait.name}
              pairs={answer.suggestions}
            />
            <Assumed of="the order" lines={answer.assumptions} />
          </Band>
          {(answer.leftOut.length > 0 || answer.over.length > 0) && (
            <Band title="Why not these" note="They were looked at too.">
              {answer.over.length > 0 && (
                <SetApart programId={programId} pairs={answer.over} trait={answer.trait.name} />
              )}
              <LeftOut lines={answer.leftOut} />
            </Band>
          )}
        </>
      )}
    </>
  );
}

export function LeftOut({ lines }: { readonly lines: readonly string[] }) {
  return (
    <ul className="assumed">
      {lines.map((line) => (
        <li key={line}>{line}</li>
      ))}
    </ul>
  );
}
