import { parsePartialDate } from '@scutewright/basics';
import { useId } from 'react';
import { partialDateWords } from '../lib/date-words.js';
import { type TypedDate, typedDateText } from '../lib/typed-date.js';
import './partial-date-field.css';

/**
 * Year, month, day: as much of it as is known. Says back how it was read. `id` is the year's.
 */
export function PartialDateField(props: {
  readonly id: string;
  readonly label: string;
  readonly value: TypedDate;
  readonly onChange: (value: TypedDate) => void;
  readonly fault?: string;
  readonly hint?: string;
}) {
  const hintId = useId();
  const faultId = useId();
  const { value, fault } = props;
  const read = parsePartialDate(typedDateText(value));
  const part = (name: 'year' | 'month' | 'day', label: string, length: number) => (
    <label>
      {label}
      <input
        id={name === 'year' ? props.id : undefined}
        inputMode="numeric"
        maxLength={length}
        size={length}
        autoComplete="off"
        value={value[name]}
        aria-invalid={fault !== undefined || undefined}
        aria-describedby={fault ? `${hintId} ${faultId}` : hintId}
        onChange={(event) => props.onChange({ ...value, [name]: event.target.value })}
      />
    </label>
  );
  return (
    <fieldset className="field partial-date">
      <legend className="lab">{props.label}</legend>
      <span className="hint" id={hintId}>
        {props.hint ?? 'As much as you know: the year alone will do.'}
      </span>
      <div className="parts-of-date">
        {part('year', 'Year', 4)}
        {part('month', 'Month', 2)}
        {part('day', 'Day', 2)}
        <label className="tick">
          <input
            type="checkbox"
            checked={value.about}
            onChange={(event) => props.onChange({ ...value, about: event.target.checked })}
          />
          about then
        </label>
      </div>
      {fault ? (
        <span className="fault" id={faultId}>
          {fault}
        </span>
      ) : (
        <p className="small soft said-back" role="status">
          {read ? `Read as ${partialDateWords(read)}.` : ''}
        </p>
      )}
    </fieldset>
  );
}
