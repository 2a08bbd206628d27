import { useId } from 'react';
import './count-field.css';
import './field.css';

/** A count with a button for one less and one more beside it. Empty: not counted. `id` is the control's. */
export function CountField(props: {
  readonly id: string;
  readonly label: string;
  readonly hint?: string;
  readonly fault?: string;
  readonly value: string;
  readonly onChange: (value: string) => void;
}) {
  const hintId = useId();
  const faultId = useId();
  const { value, onChange } = props;
  const count = /^\d+$/.test(value.trim()) ? Number(value) : null;
  const described = [props.hint && hintId, props.fault && faultId].filter(Boolean).join(' ');
  return (
    <div className="field count-field">
      <label htmlFor={props.id}>{props.label}</label>
      {props.hint && (
        <span className="hint" id={hintId}>
          {props.hint}
        </span>
      )}
      <div className="control">
        <button
          type="button"
          aria-label={`One less: ${props.label}`}
          onClick={() => onChange(count !== null && count > 1 ? String(count - 1) : '')}
        >
          −
        </button>
        <input
          id={props.id}
          inputMode="numeric"
          autoComplete="off"
          value={value}
          aria-invalid={props.fault !== undefined || undefined}
          aria-describedby={described || undefined}
          onChange={(event) => onChange(event.target.value)}
        />
        <button
          type="button"
          aria-label={`One more: ${props.label}`}
          onClick={() => onChange(String((count ?? 0) + 1))}
        >
          +
        </button>
      </div>
      {props.fault && (
        <span className="fault" id={faultId}>
          {props.fault}
        </span>
      )}
    </div>
  );
}
