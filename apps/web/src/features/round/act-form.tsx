import { type FormEvent, useId, useState } from 'react';
import type { Act, Filled, RoundField } from './acts.js';
import { localDay } from './sync-round.js';
import type { NewEntry } from './use-round.js';

/** The form of one act. A field of one choice writes by the tap itself; the others have Save at the foot. */
export function ActForm(props: {
  readonly act: Act;
  readonly animals: readonly string[];
  readonly onWrite: (entry: NewEntry) => Promise<void>;
  readonly onLeave: () => void;
}) {
  const { act } = props;
  const [filled, setFilled] = useState<Filled>({});
  const [on, setOn] = useState(localDay());
  const [fault, setFault] = useState<string | null>(null);
  const id = useId();
  const write = async (all: Filled) => {
    const made = act.make(all);
    if (typeof made === 'string') return setFault(made);
    if (!on || on > localDay()) return setFault('Choose the day it happened: today or before.');
    await props.onWrite({ ...made, on, animals: props.animals });
    props.onLeave();
  };
  const fill = (name: string, value: string) => {
    setFault(null);
    setFilled((before) => ({ ...before, [name]: value }));
  };
  const isTapped = act.fields.every(({ kind }) => kind === 'one');
  const submit = (event: FormEvent) => {
    event.preventDefault();
    write(filled);
  };
  return (
    <form className="act-form" onSubmit={submit} aria-labelledby={`${id}-title`} noValidate>
      <h2 id={`${id}-title`}>{act.title}</h2>
      {fault && (
        <p className="fault" role="alert">
          {fault}
        </p>
      )}
      {act.fields.map((field, k) => (
        <FieldOf
          key={field.name}
          id={`${id}-${field.name}`}
          field={field}
          isFirst={k === 0}
          value={filled[field.name] ?? ''}
          onFill={(value) => fill(field.name, value)}
          onTap={(value) => write({ ...filled, [field.name]: value })}
        />
      ))}
      <div className="field">
        <label htmlFor={`${id}-on`}>Day</label>
        <input
          id={`${id}-on`}
          type="date"
          value={on}
          max={localDay()}
          onChange={(event) => setOn(event.target.value)}
        />
      </div>
      <div className="act-foot">
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

function FieldOf(props: {
  readonly id: string;
  readonly field: RoundField;
  readonly isFirst: boolean;
  readonly value: string;
  readonly onFill: (value: string) => void;
  readonly onTap: (value: string) => void;
}) {
  const { id, field, value, onFill } = props;
  if (field.kind === 'one') {
    return (
      <fieldset className="taps">
        <legend>{field.label}</legend>
        {field.options.map((option) => (
          <button key={option.value} type="button" onClick={() => props.onTap(option.value)}>
            {option.words}
          </button>
        ))}
      </fieldset>
    );
  }
  if (field.kind === 'several') {
    const chosen = value.split(' ').filter(Boolean);
    const toggle = (option: string) =>
      onFill(
        (chosen.includes(option)
          ? chosen.filter((each) => each !== option)
          : [...chosen, option]
        ).join(' '),
      );
    return (
      <fieldset className="taps">
        <legend>{field.label}</legend>
        {field.options.map((option) => (
          <button
            key={option.value}
            type="button"
            aria-pressed={chosen.includes(option.value)}
            onClick={() => toggle(option.value)}
          >
            {option.words}
          </button>
        ))}
        {field.options.length === 0 && <p className="soft">There are none to choose from yet.</p>}
      </fieldset>
    );
  }
  if (field.kind === 'tick') {
    return (
      <label className="tick">
        <input
          type="checkbox"
          checked={value === 'yes'}
          onChange={(event) => onFill(event.target.checked ? 'yes' : '')}
        />
        {field.label}
      </label>
    );
  }
  return (
    <div className="field">
      <label htmlFor={id}>
        {field.label}
        {field.kind === 'number' && field.unit && ` in ${field.unit}`}
      </label>
      {field.kind === 'number' ? (
        <input
          id={id}
          className="figure"
          inputMode="decimal"
          autoComplete="off"
          enterKeyHint="done"
          // The one thing the tap on 'Weigh' asked for: the keyboard may come up at once.
          ref={props.isFirst ? focusOnce : undefined}
          value={value}
          onChange={(event) => onFill(event.target.value)}
        />
      ) : (
        <textarea id={id} rows={2} value={value} onChange={(event) => onFill(event.target.value)} />
      )}
    </div>
  );
}

function focusOnce(input: HTMLInputElement | null): void {
  input?.focus({ preventScroll: true });
}
