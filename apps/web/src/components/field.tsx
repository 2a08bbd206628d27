import type { ReactNode } from 'react';
import { FieldError } from 'react-aria-components/FieldError';
import { Input } from 'react-aria-components/Input';
import { Label } from 'react-aria-components/Label';
import { Text } from 'react-aria-components/Text';
import { TextArea } from 'react-aria-components/TextArea';
import { TextField, type TextFieldProps } from 'react-aria-components/TextField';
import './field.css';

export interface FieldProps extends Omit<TextFieldProps, 'children' | 'isInvalid'> {
  readonly id: string;
  readonly label: ReactNode;
  readonly hint?: ReactNode;
  /** What is wrong, in the words of the summary. */
  readonly fault?: string;
  readonly lines?: number;
  readonly placeholder?: string;
  readonly autoCapitalize?: 'none';
  /** A button beside the control. */
  readonly beside?: ReactNode;
}

/** A text field: label above, hint, control, fault beside it. `id` is the control's. */
export function Field(props: FieldProps) {
  const { id, label, hint, fault, lines, placeholder, autoCapitalize, beside, ...field } = props;
  return (
    <TextField
      {...field}
      id={id}
      className="field"
      isInvalid={fault !== undefined}
      validationBehavior="aria"
    >
      <Label>{label}</Label>
      {hint && (
        <Text slot="description" className="hint">
          {hint}
        </Text>
      )}
      <div className="control">
        {lines ? (
          <TextArea rows={lines} placeholder={placeholder} />
        ) : (
          <Input placeholder={placeholder} autoCapitalize={autoCapitalize} />
        )}
        {beside}
      </div>
      <FieldError className="fault">{fault}</FieldError>
    </TextField>
  );
}
