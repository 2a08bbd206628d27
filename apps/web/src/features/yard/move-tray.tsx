import { type FormEvent, useState } from 'react';
import {
  ErrorSummary,
  type FormFault,
  faultAt,
  formFaults,
} from '../../components/error-summary.js';
import { PartialDateField } from '../../components/partial-date-field.js';
import { SelectField } from '../../components/select-field.js';
import { useTellDone } from '../../lib/done-context.js';
import { RecordEntries } from '../../lib/record-entries.js';
import { typedDate, typedDateText } from '../../lib/typed-date.js';
import { useAct } from '../../lib/use-act.js';
import type { Chosen } from './pen-box.js';

const OUT = '-';

/** Whoever is chosen goes into one pen from one day on; one act, one undo. */
export function MoveTray(props: {
  readonly programId: string;
  readonly chosen: readonly Chosen[];
  readonly pens: readonly string[];
  readonly day: string;
  readonly onDone: () => void;
}) {
  const { chosen } = props;
  const { run, running } = useAct(RecordEntries);
  const tellDone = useTellDone();
  const [pen, setPen] = useState('');
  const [on, setOn] = useState(() => typedDate(props.day));
  const [faults, setFaults] = useState<readonly FormFault[]>([]);
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    if (running) return;
    const own: FormFault[] = [];
    if (!pen) own.push({ field: 'move-pen', message: 'Choose a pen.' });
    if (!typedDateText(on)) own.push({ field: 'move-on', message: 'Write from when.' });
    setFaults(own);
    if (own.length > 0) return;
    const codes = (isLot: boolean) =>
      chosen.filter((one) => one.isLot === isLot).map(({ id }) => id);
    const animals = codes(false);
    const lots = codes(true);
    const outcome = await run((id) => ({
      programId: props.programId,
      input: {
        entries: [
          {
            id,
            on: typedDateText(on),
            move: {
              ...(animals.length > 0 ? { animals } : {}),
              ...(lots.length > 0 ? { lots } : {}),
              pen: pen === OUT ? null : pen,
            },
          },
        ],
      },
    }));
    if (!outcome.done) {
      setFaults(formFaults(outcome.faults, () => undefined));
      return;
    }
    const [answer] = outcome.data.recordEntries.answers;
    if (!answer) return;
    if (answer.state === 'NEEDS_DECISION') {
      setFaults([
        {
          field: answer.place?.endsWith('on') ? 'move-on' : undefined,
          message: `${answer.sentence} ${answer.remedy ?? ''}`,
        },
      ]);
      return;
    }
    tellDone({
      sentence: [`${answer.sentence}.`, ...answer.remarks].join(' '),
      commandId: answer.id,
    });
    props.onDone();
  };
  return (
    <form className="move-tray" onSubmit={submit} noValidate aria-label="Move the chosen">
      <h2>
        Move {chosen.length === 1 ? 'one' : chosen.length}:{' '}
        <span className="soft">{namesOf(chosen)}</span>
      </h2>
      <ErrorSummary faults={faults} />
      <div className="move-fields">
        <SelectField
          id="move-pen"
          label="To which pen"
          none="Choose one"
          value={pen}
          options={[
            ...props.pens.map((name) => ({ value: name, words: name })),
            { value: OUT, words: 'Out of all pens' },
          ]}
          onChange={setPen}
          fault={faultAt(faults, 'move-pen')}
        />
        <PartialDateField
          id="move-on"
          label="From"
          hint="A day to come is a plan."
          value={on}
          onChange={setOn}
          fault={faultAt(faults, 'move-on')}
        />
      </div>
      <div className="acts">
        <button type="submit" className="act" aria-disabled={running}>
          Move {chosen.length === 1 ? 'it' : 'them'}
        </button>
        <button type="button" className="act quiet" onClick={props.onDone}>
          Choose nobody
        </button>
      </div>
    </form>
  );
}

function namesOf(chosen: readonly Chosen[]): string {
  const names = chosen.slice(0, 8).map(({ code, isLot }) => (isLot ? `lot ${code}` : code));
  return chosen.length > 8 ? `${names.join(', ')} and ${chosen.length - 8} more` : names.join(', ');
}
