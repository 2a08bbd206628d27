import { Fragment } from 'react';

/** A code such as `HG-067`, a year or date, or a figure with what it counts. */
const PARTS =
  /([A-Z]+-?\d+\S*\b)|((?:about |at least |at most )?\b\d(?:[\d.,]*\d)?(?:\/\d+| %)?(?: (?:of|in) \d+)?(?: eggs| young| pens| pairs| animals)?)/gi;

/** A sentence of the server's with its figures in bold; codes are kept on one line. */
export function Said({ text }: { readonly text: string }) {
  const parts = [...text.matchAll(PARTS)];
  if (parts.length === 0) return text;
  return parts.map((part, k) => {
    const from = k === 0 ? 0 : endOf(parts[k - 1]);
    const rest = k === parts.length - 1 ? text.slice(endOf(part)) : '';
    return (
      <Fragment key={part.index}>
        {text.slice(from, part.index)}
        {part[1] ? <span className="code">{part[1]}</span> : <b>{part[2]}</b>}
        {rest}
      </Fragment>
    );
  });
}

const endOf = (match: RegExpExecArray | undefined) => (match ? match.index + match[0].length : 0);
