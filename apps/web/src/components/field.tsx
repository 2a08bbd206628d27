import { type InputHTMLAttributes, type ReactNode, useId } from 'react';
import './field.css';

/** What a field lets through to its control as it is. */
type Control = Pick<
  InputHTMLAttributes<HTMLInputElement | HTMLTextAreaElement>,
  | 'autoCapitalize'
  | 'autoComplete'
  | 'inputMode'
  | 'maxLength'
  | 'onBlur'
  | 'onKeyDown'
  | 'placeholder'
  | 'readOnly'
  | 'spellCheck'
  | 'type'
>;

export interface FieldProps extends Control {
  /** Of the control, so that a summary of errors can point at it. */
  readonly id: string;
  readonly label: ReactNode;
  readonly hint?: ReactNode;
  /** What is wrong, in the words of the summary. */
  readonly fault?: string;
  readonly lines?: number;
  readonly value: string;
  /** Absent where the text is only to be read. */
  readonly onChange?: (value: string) => void;
  /** A button beside the control. */
  readonly beside?: ReactNode;
}

/** A text field: label above, hint, control, fault beside it. */
export function Field(props: FieldProps) {
  const { label, hint, fault, lines, beside, onChange, ...control } = props;
  const hintId = useId();
  const faultId = useId();
  const given = {
    ...control,
    'aria-invalid': fault !== undefined || undefined,
    'aria-describedby': [hint && hintId, fault && faultId].filter(Boolean).join(' ') || undefined,
    onChange: (event: { target: { value: string } }) => onChange?.(event.target.value),
  };
  return (
    <div className="field">
      <label htmlFor={props.id}>{label}</label>
      {hint && (
        <span className="hint" id={hintId}>
          {hint}
        </span>
      )}
      <div className="control">
        {lines ? <textarea {...given} rows={lines} /> : <input type="text" {...given} />}
        {beside}
      </div>
      {fault && (
        <span className="fault" id={faultId}>
          {fault}
        </span>
      )}
    </div>
  );
}
