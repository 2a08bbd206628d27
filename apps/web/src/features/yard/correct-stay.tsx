import { type FormEvent, useState } from 'react';
import {
  ErrorSummary,
  type FormFault,
  faultAt,
  formFaults,
} from '../../components/error-summary.js';
import { PartialDateField } from '../../components/partial-date-field.js';
import { WhyDrawer } from '../../components/why-drawer.js';
import { useTellDone } from '../../lib/done-context.js';
import { typedDate, typedDateText } from '../../lib/typed-date.js';
import { useAct } from '../../lib/use-act.js';
import { CorrectStay, type Occupant } from './yard-documents.js';

/** Mends since when and until when somebody was in a pen, or says that it was not. */
export function CorrectStayForm(props: {
  readonly programId: string;
  readonly occupant: Occupant;
}) {
  const { stayId, animal, since, until } = props.occupant;
  const { run, running } = useAct(CorrectStay);
  const tellDone = useTellDone();
  const [from, setFrom] = useState(() => typedDate(since));
  const [to, setTo] = useState(() => typedDate(until));
  const [faults, setFaults] = useState<readonly FormFault[]>([]);
  const ids = { from: `from-${stayId}`, to: `to-${stayId}` };
  const send = async (isMistake: boolean) => {
    if (running) return;
    const outcome = await run((commandId) => ({
      programId: props.programId,
      input: {
        commandId,
        stayId,
        ...(isMistake
          ? { isMistake }
          : { from: typedDateText(from) || null, to: typedDateText(to) || null }),
      },
    }));
    if (!outcome.done) {
      setFaults(
        formFaults(outcome.faults, (place) =>
          place.endsWith('.to') ? ids.to : place.endsWith('.from') ? ids.from : undefined,
        ),
      );
      return;
    }
    const { commandId, pen } = outcome.data.correctStay;
    tellDone({ sentence: `${animal.code} in ${pen.name}: mended.`, commandId });
  };
  return (
    <WhyDrawer of={animal.code} label="Correct">
      <form
        className="onecol"
        noValidate
        onSubmit={(event: FormEvent) => {
          event.preventDefault();
          send(false);
        }}
      >
        <ErrorSummary faults={faults} />
        <PartialDateField
          id={ids.from}
          label="In it since"
          hint="Empty: nobody knows since when."
          value={from}
          onChange={setFrom}
          fault={faultAt(faults, ids.from)}
        />
        <PartialDateField
          id={ids.to}
          label="Until"
          hint="Empty: still there."
          value={to}
          onChange={setTo}
          fault={faultAt(faults, ids.to)}
        />
        <div className="acts">
          <button type="submit" className="act line" aria-disabled={running}>
            Keep the dates
          </button>
          <button type="button" className="act quiet" onClick={() => send(true)}>
            It was never there
          </button>
        </div>
      </form>
    </WhyDrawer>
  );
}
