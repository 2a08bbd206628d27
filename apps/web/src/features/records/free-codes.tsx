import { useState } from 'react';
import { Field } from '../../components/field.js';
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

/** `HG-087` and the ones after it; none where the code does not end in a number. */
export function nextCodes(first: string, count: number): string[] {
  const end = /\d+$/.exec(first)?.[0];
  if (!end) return [];
  const start = first.slice(0, -end.length);
  return Array.from(
    { length: Math.min(count, 200) },
    (_, k) => start + String(Number(end) + k).padStart(end.length, '0'),
  );
}
