import { type FormEvent, useState } from 'react';
import { Caution } from '../../components/caution.js';
import {
  ErrorSummary,
  type FormFault,
  faultAt,
  formFaults,
} from '../../components/error-summary.js';
import { Field } from '../../components/field.js';
import { PartialDateField } from '../../components/partial-date-field.js';
import { useTellDone } from '../../lib/done-context.js';
import { useKeptDraft } from '../../lib/kept-draft.js';
import { RecordEntries } from '../../lib/record-entries.js';
import { useAct } from '../../lib/use-act.js';
import {
  controlId,
  type EntryDraft,
  entryFaults,
  entryInput,
  fieldOfPlace,
} from './entry-draft.js';
import { EntryFieldControl } from './entry-fields.js';
import type { EntryForm } from './entry-form.js';
import type { Choices } from './record-documents.js';
import type { WrittenEntry } from './written.js';
import '../../components/why-drawer.css';

/** The form of one entry. What is typed is kept in this tab until it is written. */
export function EntryFormView(props: {
  readonly form: EntryForm;
  readonly programId: string;
  readonly draftKey: string;
  readonly fresh: EntryDraft;
  readonly choices: Choices | undefined;
  readonly onWritten: (entry: WrittenEntry) => void;
}) {
  const { form, programId, choices } = props;
  const { draft, change, forget } = useKeptDraft(`${programId} ${props.draftKey}`, props.fresh);
  const { run, running } = useAct(RecordEntries);
  const tellDone = useTellDone();
  const [faults, setFaults] = useState<readonly FormFault[]>([]);
  /** Fields that the server found fault with: some ask a further question then. */
  const [asked, setAsked] = useState<readonly string[]>([]);
  const [isRefused, setIsRefused] = useState(false);

  const send = async (keepUndecided: boolean) => {
    if (running) return;
    const own = entryFaults(form, draft);
    setFaults(own);
    if (own.length > 0) return;
    const outcome = await run((id) => ({
      programId,
      input: { keepUndecided, entries: [{ id, ...entryInput(form, draft) }] },
    }));
    if (!outcome.done) {
      setFaults(
        formFaults(outcome.faults, (place) => {
          const field = fieldOfPlace(form, place);
          return field && controlId(field);
        }),
      );
      return;
    }
    const [answer] = outcome.data.recordEntries.answers;
    if (!answer) return;
    if (answer.state === 'NEEDS_DECISION') {
      if (keepUndecided) {
        forget();
        tellDone({
          sentence: 'Put by: it waits for a decision, and nothing of it is written yet.',
        });
        return;
      }
      const field = answer.place ? fieldOfPlace(form, answer.place) : undefined;
      setAsked(field ? [field] : []);
      setIsRefused(true);
      setFaults([
        {
          field: field && controlId(field),
          message: `${answer.sentence} ${answer.remedy ?? ''}`.trim(),
        },
      ]);
      return;
    }
    forget();
    tellDone({ sentence: answer.sentence, commandId: answer.id });
    props.onWritten({ answer, draft });
  };
  const submit = (event: FormEvent) => {
    event.preventDefault();
    send(false);
  };
  const control = (field: EntryForm['fields'][number]) => (
    <EntryFieldControl
      key={field.name}
      programId={programId}
      field={field}
      value={draft.values[field.name]}
      onChange={(value) => change({ values: { ...draft.values, [field.name]: value } })}
      faults={faults}
      choices={choices}
      count={Number(draft.values.count) || undefined}
    />
  );
  const isShown = ({ afterFaultAt, name }: EntryForm['fields'][number]) =>
    !afterFaultAt ||
    draft.values[name] === true ||
    asked.some((field) => afterFaultAt.includes(field));
  const shown = form.fields.filter((field) => !field.isMore && isShown(field));
  const more = form.fields.filter((field) => field.isMore);
  return (
    <form className="entry" onSubmit={submit} noValidate>
      <div className="onecol">
        <ErrorSummary faults={faults} />
        {form.day && (
          <PartialDateField
            id={controlId('on')}
            label={form.day.label}
            value={draft.on}
            onChange={(on) => change({ on })}
            fault={faultAt(faults, controlId('on'))}
          />
        )}
        {shown.map(control)}
        <details className="why" open={more.some(({ name }) => faultAt(faults, controlId(name)))}>
          <summary>More</summary>
          <div className="entry-more">
            {more.map(control)}
            <Field
              id={controlId('note')}
              label="Note"
              lines={2}
              value={draft.note}
              onChange={(note) => change({ note })}
              fault={faultAt(faults, controlId('note'))}
            />
          </div>
        </details>
        <div className="acts save">
          <button className="act" type="submit" aria-disabled={running}>
            {running ? 'Writing it down' : 'Write it down'}
          </button>
          {isRefused && (
            <button className="act quiet" type="button" onClick={() => send(true)}>
              Put it by, decide later
            </button>
          )}
        </div>
      </div>
      {form.caution && (
        <Caution kind="harm" lead={form.caution.lead} source={form.caution.source}>
          {form.caution.text}
        </Caution>
      )}
    </form>
  );
}
