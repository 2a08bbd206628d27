import { type FormEvent, useId, useState } from 'react';
import { partialDateWords } from '../../lib/date-words.js';
import { recall, remember } from '../../lib/local-memory.js';
import type { Act, Filled, RoundField } from './act.js';
import { FieldOf } from './act-field.js';
import { localDay } from './sync-round.js';
import type { NewEntry } from './use-round.js';

/** Where the form writes to, and what it goes on with. */
export interface ActDesk {
  readonly write: (entry: NewEntry) => Promise<void>;
  /** The day that the entries are of, as chosen last; today where nobody chose one. */
  readonly day: string;
  readonly setDay: (day: string) => void;
  /** The next code that is free by the copy and by what waits. */
  readonly nextCode: string;
}

/** The form of one act. A field of one choice writes by the tap itself; the others have Save at the foot. */
export function ActForm(props: {
  readonly act: Act;
  readonly animals: readonly string[];
  readonly desk: ActDesk;
  readonly onLeave: () => void;
  /** Where it goes on elsewhere once it is written. */
  readonly onWritten?: () => void;
}) {
  const { act, desk } = props;
  const [filled, setFilled] = useState<Filled>(() => keptOf(act.fields));
  const [fault, setFault] = useState<string | null>(null);
  const id = useId();
  const today = localDay();
  const write = async (all: Filled) => {
    const made = act.make(all);
    if (typeof made === 'string') return setFault(made);
    if (!desk.day || desk.day > today)
      return setFault('Choose the day it happened: today or before.');
    for (const { keep, name } of act.fields) {
      if (keep) remember(`round ${keep}`, all[name]?.trim() || null);
    }
    await props.desk.write({ ...made, on: desk.day, animals: props.animals });
    (props.onWritten ?? props.onLeave)();
  };
  const fill = (name: string, value: string) => {
    setFault(null);
    setFilled((before) => ({ ...before, [name]: value }));
  };
  const isTapped = act.fields.some(({ kind }) => kind === 'one');
  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (!isTapped) write(filled);
  };
  return (
    <form className="act-form" onSubmit={submit} aria-labelledby={`${id}-title`} noValidate>
      <h2 id={`${id}-title`}>{act.title}</h2>
      {fault && (
        <p className="fault" role="alert" ref={intoSight}>
          {fault}
        </p>
      )}
      {act.fields.map((field, k) => (
        <FieldOf
          key={field.name}
          id={`${id}-${k}`}
          field={field}
          isFirst={k === 0}
          filled={filled}
          nextCode={desk.nextCode}
          onFill={(value) => fill(field.name, value)}
          onFault={setFault}
          onTap={(value) => write({ ...filled, [field.name]: value })}
        />
      ))}
      <div className="field">
        <label htmlFor={`${id}-on`}>Day</label>
        <input
          id={`${id}-on`}
          type="date"
          value={desk.day}
          max={today}
          onChange={(event) => desk.setDay(event.target.value)}
        />
        {desk.day !== today && desk.day !== '' && (
          <p className="not-today">
            <b>{partialDateWords({ text: desk.day })}, not today.</b>{' '}
            <button type="button" className="act quiet" onClick={() => desk.setDay(today)}>
              Today
            </button>
          </p>
        )}
      </div>
      {act.caution && <p className="caution-line">{act.caution}</p>}
      <div className={isTapped ? 'act-foot plain' : 'act-foot'}>
        {!isTapped && (
          <button className="act" type="submit">
            Save
          </button>
        )}
        <button className="act quiet" type="button" onClick={props.onLeave}>
          Back
        </button>
      </div>
    </form>
  );
}

/** What was chosen last, where the field asks for it and it can still be chosen. */
function keptOf(fields: readonly RoundField[]): Filled {
  return Object.fromEntries(
    fields.flatMap((field) => {
      const kept = field.keep ? recall(`round ${field.keep}`) : null;
      const isThere =
        kept !== null &&
        (!('options' in field) || field.options.some(({ value }) => value === kept));
      return isThere ? [[field.name, kept]] : [];
    }),
  );
}

function intoSight(note: HTMLElement | null): void {
  note?.scrollIntoView({ block: 'nearest' });
}
