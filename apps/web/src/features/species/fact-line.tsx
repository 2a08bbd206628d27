import { type FormEvent, useId, useState } from 'react';
import {
  ErrorSummary,
  type FormFault,
  faultAt,
  formFaults,
} from '../../components/error-summary.js';
import { Field } from '../../components/field.js';
import { useTellDone } from '../../lib/done-context.js';
import { useProgram } from '../../lib/program-context.js';
import { useAct } from '../../lib/use-act.js';
import { SetSpeciesFact, type SpeciesFact } from './species-documents.js';

const CONFIDENCE: Record<string, string> = {
  READ: 'Source read',
  COMPUTED: 'Computed by us from records that were read',
  PRACTICE: 'Common practice, no source',
  NONE: 'No source was read',
};

/** One fact: as shipped, with source and how far it was confirmed; the program's own in its place. */
export function FactLine(props: { readonly species: string; readonly fact: SpeciesFact }) {
  const { fact } = props;
  const program = useProgram();
  const [open, setOpen] = useState(false);
  const isOwn = fact.own.length > 0;
  return (
    <li>
      <p className="soft">{fact.name}</p>
      <div>
        <p>
          {isOwn ? (
            <>
              <b>{fact.own.join(' to ')}</b>, set by you: {fact.reason}
            </>
          ) : (
            fact.value
          )}
        </p>
        <p className="small soft">
          {isOwn && `As shipped: ${fact.value}. `}
          {CONFIDENCE[fact.confidence] ?? fact.confidence}
          {fact.source && `: ${fact.source}`}.{fact.note && ` ${fact.note}`}
        </p>
        {fact.usedFor && <p className="small soft">Used for {fact.usedFor}.</p>}
        {fact.key && program.mayWrite && !open && (
          <button type="button" className="act quiet" onClick={() => setOpen(true)}>
            {isOwn ? 'Change it' : 'Set your own'}
            <span className="vh">
              : {fact.name} of {props.species}
            </span>
          </button>
        )}
        {fact.key && open && (
          <OwnForm {...props} factKey={fact.key} onDone={() => setOpen(false)} />
        )}
      </div>
    </li>
  );
}

function OwnForm(props: {
  readonly species: string;
  readonly fact: SpeciesFact;
  readonly factKey: NonNullable<SpeciesFact['key']>;
  readonly onDone: () => void;
}) {
  const { species, fact, factKey } = props;
  const program = useProgram();
  const tellDone = useTellDone();
  const { run, running } = useAct(SetSpeciesFact);
  const id = useId();
  const isRange = factKey === 'MATURE_YEARS' || factKey === 'INCUBATION_DAYS';
  const [first, setFirst] = useState(String(fact.own[0] ?? ''));
  const [second, setSecond] = useState(String(fact.own[1] ?? ''));
  const [reason, setReason] = useState(fact.reason ?? '');
  const [faults, setFaults] = useState<FormFault[]>([]);
  const send = async (numbers: number[]) => {
    const outcome = await run((commandId) => ({
      programId: program.id,
      input: { commandId, species, fact: factKey, numbers, reason: reason || null },
    }));
    if (!outcome.done) {
      setFaults(
        formFaults(outcome.faults, (place) =>
          place === 'input.reason' ? `${id}-why` : `${id}-first`,
        ),
      );
      return;
    }
    const { command } = outcome.data.setSpeciesFact;
    tellDone({ sentence: command.sentence, commandId: command.id });
    props.onDone();
  };
  const submit = (event: FormEvent) => {
    event.preventDefault();
    const numbers = (isRange ? [first, second] : [first]).map((text) =>
      text.trim() === '' ? Number.NaN : Number(text.trim().replace(',', '.')),
    );
    if (numbers.some(Number.isNaN)) {
      setFaults([{ field: `${id}-first`, message: 'Write figures only, such as 7 or 4.5.' }]);
      return;
    }
    send(numbers);
  };
  return (
    <form className="onecol" onSubmit={submit} noValidate>
      <ErrorSummary faults={faults} />
      <Field
        id={`${id}-first`}
        label={isRange ? 'From' : 'Yours'}
        inputMode="decimal"
        autoComplete="off"
        value={first}
        onChange={setFirst}
        fault={faultAt(faults, `${id}-first`)}
      />
      {isRange && (
        <Field
          id={`${id}-second`}
          label="To"
          inputMode="decimal"
          autoComplete="off"
          value={second}
          onChange={setSecond}
        />
      )}
      <Field
        id={`${id}-why`}
        label="Why"
        hint="Your own records, a paper, a breeder you asked."
        autoComplete="off"
        value={reason}
        onChange={setReason}
        fault={faultAt(faults, `${id}-why`)}
      />
      <div className="acts">
        <button className="act" type="submit" aria-disabled={running}>
          Keep it
        </button>
        {fact.own.length > 0 && (
          <button className="act line" type="button" disabled={running} onClick={() => send([])}>
            As shipped again
          </button>
        )}
        <button className="act quiet" type="button" onClick={props.onDone}>
          Leave it
        </button>
      </div>
    </form>
  );
}
