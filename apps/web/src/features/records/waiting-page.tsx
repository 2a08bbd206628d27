import { Link } from 'react-router';
import { EmptyState } from '../../components/empty-state.js';
import { FaultNote } from '../../components/fault-note.js';
import { Opening } from '../../components/opening.js';
import { Skeleton } from '../../components/skeleton.js';
import { addresses } from '../../lib/addresses.js';
import { dayWords, partialDateWords, timeWords } from '../../lib/date-words.js';
import { useTellDone } from '../../lib/done-context.js';
import { useProgram } from '../../lib/program-context.js';
import { useAct } from '../../lib/use-act.js';
import { useRead } from '../../lib/use-read.js';
import type { EntryForm, EntryInput } from './entry-form.js';
import { formOfEntry } from './entry-forms.js';
import { SettleEntry, type WaitingEntry, WaitingQuery } from './record-documents.js';
import './write.css';

/** Entries that could not be written as they were sent, each with why and what can be done. */
export function WaitingPage() {
  const program = useProgram();
  const { data, faults, again } = useRead(
    WaitingQuery,
    { programId: program.id },
    !program.mayWrite,
  );
  const waiting = data?.waitingEntries;
  return (
    <>
      <Opening
        title="Waiting for a decision"
        trail={<Link to={addresses.writeDown(program.id)}>Write down</Link>}
        sentence={waiting && sentenceOf(waiting.length)}
      />
      <FaultNote faults={faults} again={again} />
      {!waiting && faults.length === 0 && program.mayWrite && (
        <Skeleton lines={6} what="what waits" />
      )}
      {waiting?.length === 0 && (
        <EmptyState title="Nothing waits">
          <p>
            What was written without signal comes in later. If it cannot be so by then, such as a
            weight of an animal that another member has sold, it is kept here, and nothing of it is
            lost.
          </p>
        </EmptyState>
      )}
      {waiting && waiting.length > 0 && (
        <ul className="waiting">
          {waiting.map((entry) => (
            <Waiting key={entry.id} programId={program.id} entry={entry} />
          ))}
        </ul>
      )}
    </>
  );
}

function sentenceOf(count: number): string {
  if (count === 0) return 'Every entry that was sent is written down.';
  return `${count === 1 ? 'One entry' : `${count} entries`} could not be written as sent. Nothing of ${count === 1 ? 'it' : 'them'} is in the books yet.`;
}

function Waiting(props: { readonly programId: string; readonly entry: WaitingEntry }) {
  const { programId, entry } = props;
  const { run, running } = useAct(SettleEntry);
  const tellDone = useTellDone();
  const said = JSON.parse(entry.entry) as EntryInput;
  const given = givenBy(said);
  const form = formOfEntry(entry.kind, Object.keys(given));
  const settle = async (isDropped: boolean) => {
    if (running) return;
    const outcome = await run((commandId) => ({
      programId,
      input: { commandId, entryId: entry.id, isDropped },
    }));
    if (!outcome.done) {
      tellDone({
        sentence: outcome.faults.map((one) => `${one.message} ${one.remedy ?? ''}`).join(' '),
      });
      return;
    }
    const [answer] = outcome.data.settleEntry.answers;
    if (!answer) tellDone({ sentence: 'Dropped; nothing of it was written.' });
    else if (answer.state === 'NEEDS_DECISION') {
      tellDone({ sentence: `Still not to be written: ${answer.sentence}` });
    } else tellDone({ sentence: answer.sentence, commandId: answer.id });
  };
  return (
    <li>
      <h2>
        {form?.title ?? entry.kind}
        {entry.on ? `, ${partialDateWords({ text: entry.on })}` : ''}
      </h2>
      <p className="small soft">
        Sent by {entry.by}, {dayWords(entry.at)}, {timeWords(entry.at)}
      </p>
      <p>{entryWords(said, form)}</p>
      <p>
        <b>{entry.message}</b> {entry.remedy}
      </p>
      <p className="acts">
        <button type="button" className="act line" onClick={() => settle(false)}>
          Try again
        </button>
        {form && (
          <Link
            className="act line"
            to={addresses.writeEntry(programId, form.id, {
              ...given,
              settles: entry.id,
              from: addresses.waiting(programId),
            })}
          >
            Change and write anew
          </Link>
        )}
        <button type="button" className="act quiet" onClick={() => settle(true)}>
          Drop it
        </button>
      </p>
    </li>
  );
}

/** What an entry says, field by field, in the words of its form. */
function entryWords(entry: EntryInput, form: EntryForm | undefined): string {
  const given = givenBy(entry);
  const words = (form?.fields ?? []).flatMap(({ name, label, options }) => {
    const value = given[name];
    if (value === undefined) return [];
    return [`${label}: ${options?.find((option) => option.value === value)?.words ?? value}`];
  });
  return [...words, entry.note ?? ''].filter(Boolean).join('; ');
}

/** The same as an address gives it to a form. */
function givenBy(entry: EntryInput): Record<string, string> {
  const { id: _, version: _v, on, note, ...kinds } = entry;
  const said = Object.values(kinds).find((kind) => kind !== undefined && kind !== null) ?? {};
  const given: Record<string, string> = {};
  if (on) given.on = on;
  if (note) given.note = note;
  tell(said, '', given);
  return given;
}

function tell(said: object, before: string, given: Record<string, string>): void {
  for (const [key, value] of Object.entries(said)) {
    const name = before + key;
    if (Array.isArray(value)) {
      given[name] = value.map(listed).join(',');
      for (const [k, each] of value.entries())
        if (name === 'pens') given[`pens.${k}`] = String(each);
    } else if (typeof value === 'object' && value !== null) tell(value, `${name}.`, given);
    else if (value !== null && value !== undefined) given[name] = String(value);
  }
}

/** `F1`, or `pale:2` of a count by trait. */
function listed(each: unknown): string {
  if (typeof each !== 'object' || each === null) return String(each);
  if ('trait' in each && 'count' in each) return `${each.trait}:${each.count}`;
  return 'ref' in each ? String(each.ref) : '';
}
