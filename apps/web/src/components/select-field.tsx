import { useId } from 'react';
import './field.css';

/** One of a known list. The first line is what an empty choice means. `id` is the control's. */
export function SelectField(props: {
  readonly id: string;
  readonly label: string;
  readonly hint?: string;
  readonly fault?: string;
  readonly value: string;
  /** What an empty choice means; absent where the list itself holds every choice. */
  readonly none?: string;
  readonly options: readonly { readonly value: string; readonly words: string }[];
  readonly onChange: (value: string) => void;
}) {
  const hintId = useId();
  const faultId = useId();
  const described = [props.hint && hintId, props.fault && faultId].filter(Boolean).join(' ');
  const isKnown = props.value === '' || props.options.some(({ value }) => value === props.value);
  return (
    <div className="field">
      <label htmlFor={props.id}>{props.label}</label>
      {props.hint && (
        <span className="hint" id={hintId}>
          {props.hint}
        </span>
      )}
      <select
        id={props.id}
        value={props.value}
        aria-invalid={props.fault !== undefined || undefined}
        aria-describedby={described || undefined}
        onChange={(event) => props.onChange(event.target.value)}
      >
        {props.none !== undefined && <option value="">{props.none}</option>}
        {!isKnown && <option value={props.value}>{props.value}</option>}
        {props.options.map(({ value, words }) => (
          <option key={value} value={value}>
            {words}
          </option>
        ))}
      </select>
      {props.fault && (
        <span className="fault" id={faultId}>
          {props.fault}
        </span>
      )}
    </div>
  );
}
