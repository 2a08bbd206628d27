import { useState } from 'react';
import { Field, type FieldProps } from '../../components/field.js';

/** A password, with a button that shows what was typed. */
export function PasswordField(props: Omit<FieldProps, 'type' | 'beside'>) {
  const [shown, setShown] = useState(false);
  return (
    <Field
      {...props}
      type={shown ? 'text' : 'password'}
      autoCapitalize="none"
      spellCheck="false"
      beside={
        <button
          className="act line"
          type="button"
          aria-pressed={shown}
          onClick={() => setShown(!shown)}
        >
          Show
        </button>
      }
    />
  );
}
