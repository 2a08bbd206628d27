import { Link, useNavigate } from 'react-router';
import { Opening } from '../../components/opening.js';
import { addresses } from '../../lib/addresses.js';
import { useTellDone } from '../../lib/done-context.js';
import { useProgram } from '../../lib/program-context.js';
import { useAct } from '../../lib/use-act.js';
import { useRead } from '../../lib/use-read.js';
import { EMPTY_PEN, penInput } from './pen-draft.js';
import { PenForm } from './pen-form.js';
import { AddPen, YardQuery } from './yard-documents.js';
import './yard.css';

/** A new pen: its name is enough. */
export function AddPenPage() {
  const program = useProgram();
  const navigate = useNavigate();
  const tellDone = useTellDone();
  const { run } = useAct(AddPen);
  const { data } = useRead(YardQuery, { programId: program.id, on: null });
  return (
    <>
      <Opening
        title="Add a pen"
        trail={<Link to={addresses.yard(program.id)}>Who is where</Link>}
        sentence="Its name is enough; size and plan can follow."
      />
      <PenForm
        programId={program.id}
        draftKey="new pen"
        fresh={EMPTY_PEN}
        others={data?.yard.pens ?? []}
        submitWords="Add the pen"
        onSubmit={async (draft) => {
          const outcome = await run((commandId) => ({
            programId: program.id,
            input: { commandId, ...penInput(draft) },
          }));
          if (!outcome.done) return outcome.faults;
          const { commandId, pen } = outcome.data.addPen;
          tellDone({ sentence: `Pen ${pen.name} is added.`, commandId });
          navigate(addresses.pen(program.id, pen.id));
          return [];
        }}
      />
    </>
  );
}
