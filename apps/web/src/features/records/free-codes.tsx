import { useState } from 'react';
import { Field } from '../../components/field.js';
import { nextCodes } from '../../lib/next-codes.js';
import { useRead } from '../../lib/use-read.js';
import { FreeCodeQuery } from './record-documents.js';

/** Codes in one line, typed or filled with the next free ones of the program's pattern. */
export function FreeCodes(props: {
  readonly id: string;
  readonly programId: string;
  readonly label: string;
  readonly hint?: string;
  readonly fault?: string;
  readonly codes: readonly string[];
  /** How many are offered; without it only typing. */
  readonly count?: number;
  readonly onChange: (text: string) => void;
}) {
  const { count = 0 } = props;
  const [typed, setTyped] = useState<string | null>(null);
  const { data } = useRead(FreeCodeQuery, { programId: props.programId }, count === 0);
  const codes = nextCodes(data?.suggestCode ?? '', count);
  const change = (text: string) => {
    setTyped(text);
    props.onChange(text);
  };
  return (
    <Field
      id={props.id}
      label={props.label}
      hint={props.hint}
      fault={props.fault}
      autoComplete="off"
      autoCapitalize="none"
      spellCheck="false"
      value={typed ?? props.codes.join(', ')}
      onChange={change}
      beside={
        codes.length > 0 && (
          <button type="button" className="act line" onClick={() => change(codes.join(', '))}>
            Give codes<span className="vh">: {codes.join(', ')}</span>
          </button>
        )
      }
    />
  );
}
