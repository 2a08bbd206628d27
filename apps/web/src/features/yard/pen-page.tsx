import { useState } from 'react';
import { Link, useNavigate, useParams } from 'react-router';
import { AnimalLink } from '../../components/animal-link.js';
import { Band } from '../../components/band.js';
import { EmptyState } from '../../components/empty-state.js';
import { FaultNote } from '../../components/fault-note.js';
import { Opening } from '../../components/opening.js';
import { RecordLines } from '../../components/record-lines.js';
import { Skeleton } from '../../components/skeleton.js';
import { WhyDrawer } from '../../components/why-drawer.js';
import { WriteLink } from '../../components/write-link.js';
import { addresses } from '../../lib/addresses.js';
import { partialDateWords } from '../../lib/date-words.js';
import { useTellDone } from '../../lib/done-context.js';
import { useProgram } from '../../lib/program-context.js';
import { useAct } from '../../lib/use-act.js';
import { useRead } from '../../lib/use-read.js';
import { CorrectStayForm } from './correct-stay.js';
import { draftOfPen, penInput } from './pen-draft.js';
import { PenForm } from './pen-form.js';
import { EditPen, type Occupant, RemovePen, type YardPen, YardQuery } from './yard-documents.js';
import './yard.css';

/** One pen: who is in it, what was written about it, and how it is mended or removed. */
export function PenPage() {
  const program = useProgram();
  const { penId = '' } = useParams();
  const { data, faults, again } = useRead(YardQuery, { programId: program.id, on: null });
  const pen = data?.yard.pens.find(({ id }) => id === penId);
  const trail = <Link to={addresses.yard(program.id)}>Who is where</Link>;
  if (!pen) {
    return (
      <>
        <Opening title="Pen" trail={trail} />
        <FaultNote faults={faults} again={again} />
        {!data && faults.length === 0 && <Skeleton lines={10} what="the pen" />}
        {data && (
          <EmptyState title="There is no such pen">
            <p>It may have been removed; the history tells who did it and can take it back.</p>
          </EmptyState>
        )}
      </>
    );
  }
  return (
    <OnePen
      key={pen.id}
      pen={pen}
      others={data?.yard.pens.filter(({ id }) => id !== pen.id) ?? []}
    />
  );
}

function OnePen({ pen, others }: { readonly pen: YardPen; readonly others: readonly YardPen[] }) {
  const program = useProgram();
  const edit = useAct(EditPen);
  const tellDone = useTellDone();
  const count = pen.occupants.length;
  const young = pen.lots.reduce((sum, lot) => sum + lot.count, 0);
  return (
    <>
      <Opening
        title={pen.name}
        heading={
          <>
            <span className="figure">{pen.name}</span>
            {pen.isQuarantine && <span className="soft">quarantine</span>}
          </>
        }
        trail={<Link to={addresses.yard(program.id)}>Who is where</Link>}
        sentence={
          <>
            <b>{count === 1 ? 'One animal is' : `${count === 0 ? 'No' : count} animals are`}</b> in
            it today{young > 0 ? `, and ${young} young in lots` : ''}.
          </>
        }
        acts={
          program.mayWrite && (
            <>
              <WriteLink
                programId={program.id}
                form="move"
                given={{ pen: pen.name }}
                className="act"
              >
                Move in
              </WriteLink>
              <WriteLink
                programId={program.id}
                form="seen"
                given={{ pen: pen.name }}
                className="act line"
              >
                Count heads
              </WriteLink>
              <WriteLink
                programId={program.id}
                form="laid"
                given={{ pen: pen.name }}
                className="act line"
              >
                Eggs laid here
              </WriteLink>
              <WriteLink
                programId={program.id}
                form="breach"
                given={{ 'pens.0': pen.name }}
                className="act line"
              >
                Fence stood open
              </WriteLink>
              <Link
                className="act quiet"
                to={`${addresses.pens(program.id)}#${encodeURIComponent(pen.name)}`}
              >
                What presses here
              </Link>
            </>
          )
        }
      />
      <Band title="Who is in it" note="Since when, as far as it is written.">
        {count === 0 && <p>Nobody is written there today.</p>}
        <ul className="stays">
          {pen.occupants.map((occupant) => (
            <Stay
              key={occupant.stayId}
              programId={program.id}
              occupant={occupant}
              mayWrite={program.mayWrite}
            />
          ))}
          {pen.lots.map((lot) => (
            <li key={lot.id}>
              <Link to={addresses.lot(program.id, lot.id)}>
                Lot <span className="code">{lot.code}</span>
              </Link>
              : {lot.count} young
            </li>
          ))}
        </ul>
      </Band>
      <Band title="Records" note="Headcounts, open fences, notes.">
        <RecordLines
          programId={program.id}
          id={pen.id}
          none="Nothing was written about this pen yet."
        />
      </Band>
      {program.mayWrite && (
        <Band title="Mend it" note="What was wrong stays in the history.">
          <WhyDrawer of={pen.name} label="Correct this pen">
            <PenForm
              key={JSON.stringify(draftOfPen(pen))}
              programId={program.id}
              draftKey={`pen ${pen.id}`}
              fresh={draftOfPen(pen)}
              others={others}
              submitWords="Keep the changes"
              onSubmit={async (draft) => {
                const outcome = await edit.run((commandId) => ({
                  programId: program.id,
                  input: { commandId, penId: pen.id, ...penInput(draft) },
                }));
                if (!outcome.done) return outcome.faults;
                tellDone({
                  sentence: `Pen ${draft.name.trim()} is mended.`,
                  commandId: outcome.data.editPen.commandId,
                });
                return [];
              }}
            />
          </WhyDrawer>
          <Remove pen={pen} programId={program.id} />
        </Band>
      )}
    </>
  );
}

function Stay(props: {
  readonly programId: string;
  readonly occupant: Occupant;
  readonly mayWrite: boolean;
}) {
  const { occupant } = props;
  const { since, until } = occupant;
  return (
    <li>
      <AnimalLink programId={props.programId} animal={occupant.animal} />{' '}
      <span className="soft">
        {since ? `since ${partialDateWords({ text: since })}` : 'nobody wrote since when'}
        {until ? `, planned or written until ${partialDateWords({ text: until })}` : ''}
      </span>
      {props.mayWrite && (
        <CorrectStayForm
          programId={props.programId}
          occupant={occupant}
          key={`${since} ${until}`}
        />
      )}
    </li>
  );
}

function Remove({ pen, programId }: { readonly pen: YardPen; readonly programId: string }) {
  const { run, running } = useAct(RemovePen);
  const tellDone = useTellDone();
  const navigate = useNavigate();
  const [refused, setRefused] = useState('');
  const remove = async () => {
    if (running) return;
    const outcome = await run((commandId) => ({
      programId,
      input: { commandId, penId: pen.id },
    }));
    if (!outcome.done) {
      setRefused(outcome.faults.map((one) => `${one.message} ${one.remedy ?? ''}`).join(' '));
      return;
    }
    const { id, sentence } = outcome.data.removePen.command;
    tellDone({ sentence, commandId: id });
    navigate(addresses.yard(programId));
  };
  return (
    <div>
      <button type="button" className="act quiet" onClick={remove}>
        Remove this pen: it was written by mistake
      </button>
      {refused && <p role="alert">{refused}</p>}
    </div>
  );
}
