import { useEffect, useRef, useState } from 'react';
import { Link, useParams, useSearchParams } from 'react-router';
import { FaultNote } from '../../components/fault-note.js';
import { Opening } from '../../components/opening.js';
import { addresses } from '../../lib/addresses.js';
import { todayText } from '../../lib/calendar.js';
import { useProgram } from '../../lib/program-context.js';
import { useAct } from '../../lib/use-act.js';
import { useRead } from '../../lib/use-read.js';
import { freshDraft } from './entry-draft.js';
import type { EntryForm } from './entry-form.js';
import { EntryFormView } from './entry-form-view.js';
import { entryForm } from './entry-forms.js';
import { ChoicesQuery, SettleEntry } from './record-documents.js';
import { Written, type WrittenEntry } from './written.js';
import './write.css';

/** One thing is written down; then the next of its kind, or what follows from it. */
export function EntryPage() {
  const { formId = '' } = useParams();
  const [given] = useSearchParams();
  const program = useProgram();
  const form = entryForm(formId);
  const trail = <Link to={addresses.writeDown(program.id)}>Write down</Link>;
  if (!form || !program.mayWrite) {
    return (
      <Opening
        title="Write down"
        trail={trail}
        sentence={form ? 'You read this program; keepers write in it.' : 'There is no such form.'}
      />
    );
  }
  return <OneForm key={`${form.id} ${given}`} form={form} given={given} />;
}

function OneForm({ form, given }: { readonly form: EntryForm; readonly given: URLSearchParams }) {
  const program = useProgram();
  const choices = useRead(ChoicesQuery, { programId: program.id });
  const [written, setWritten] = useState<readonly WrittenEntry[]>([]);
  const [start, setStart] = useState(() => freshDraft(form, given, todayText()));
  const settle = useAct(SettleEntry);
  const settles = given.get('settles');
  const box = useRef<HTMLDivElement>(null);
  const count = written.length;
  useEffect(() => {
    if (count > 0) box.current?.focus();
  }, [count]);
  const from = given.get('from');
  const back = from?.startsWith('/programs/') ? from : null;
  return (
    <>
      <Opening
        title={form.title}
        trail={
          <Link to={back ?? addresses.writeDown(program.id)}>{back ? 'Back' : 'Write down'}</Link>
        }
        sentence={form.about}
      />
      <FaultNote faults={choices.faults} again={choices.again} />
      {written[0] && (
        <div ref={box} tabIndex={-1}>
          <Written
            entry={written[0]}
            programId={program.id}
            form={form}
            back={back}
            choices={choices.data}
          />
        </div>
      )}
      {written[0] && <h2 className="next-one">The next one of its kind</h2>}
      <EntryFormView
        key={count}
        form={form}
        programId={program.id}
        draftKey={`write ${form.id} ${given} ${count}`}
        fresh={start}
        choices={choices.data}
        onWritten={(entry) => {
          // The next one of its kind mostly is of the same day and place.
          const fresh = freshDraft(form, new URLSearchParams(), todayText());
          const pen = entry.draft.values.pen;
          setStart({
            ...fresh,
            on: entry.draft.on,
            values: pen === undefined ? fresh.values : { ...fresh.values, pen },
          });
          setWritten([entry, ...written]);
          // It was written anew in place of one that waited.
          if (settles && count === 0) {
            settle.run((commandId) => ({
              programId: program.id,
              input: { commandId, entryId: settles, isDropped: true },
            }));
          }
        }}
      />
    </>
  );
}
