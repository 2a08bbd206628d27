import { Link } from 'react-router';
import { addresses } from '../../lib/addresses.js';
import type { EntryAnswer } from '../../lib/record-entries.js';
import { typedDateText } from '../../lib/typed-date.js';
import type { EntryDraft } from './entry-draft.js';
import type { EntryForm, NextAct } from './entry-form.js';
import type { Choices } from './record-documents.js';

/** An entry with what the service answered. */
export interface WrittenEntry {
  readonly answer: EntryAnswer;
  readonly draft: EntryDraft;
}

/** What was just written, what to look at beside it, and what mostly follows. */
export function Written(props: {
  readonly entry: WrittenEntry;
  readonly programId: string;
  readonly form: EntryForm;
  /** The page it was opened from. */
  readonly back: string | null;
  readonly choices: Choices | undefined;
}) {
  const { answer, draft } = props.entry;
  const next = (props.form.next ?? []).flatMap((act) => {
    const keep = keptOf(act, answer, draft, props.choices);
    return keep ? [{ ...act, keep }] : [];
  });
  return (
    <section className="written" aria-label="Just written">
      <h2>{answer.state === 'DUPLICATE' ? 'It was written before' : 'Written down'}</h2>
      <p>{answer.sentence}.</p>
      {answer.remarks.length > 0 && (
        <ul>
          {answer.remarks.map((remark) => (
            <li key={remark}>{remark}</li>
          ))}
        </ul>
      )}
      {(next.length > 0 || props.back) && (
        <p className="acts">
          {props.back && (
            <Link className="act line" to={props.back}>
              Back to where you were
            </Link>
          )}
          {next.map(({ words, form, keep }) => (
            <Link
              key={form}
              className="act line"
              to={addresses.writeEntry(props.programId, form, {
                ...keep.given,
                ...(props.back ? { from: props.back } : {}),
              })}
            >
              {words} <span className="code">{keep.name}</span>
            </Link>
          ))}
        </p>
      )}
    </section>
  );
}

/** What the next form is told. A clutch that was just laid got its code only now; it has the entry's id. */
function keptOf(
  { keep }: NextAct,
  answer: EntryAnswer,
  draft: EntryDraft,
  choices: Choices | undefined,
) {
  const laid = choices?.clutches.edges.find(({ node }) => node.clutch.id === answer.id);
  const given: Record<string, string> = {};
  for (const field of keep) {
    const value = draft.values[field];
    const typed = typeof value === 'string' ? value.trim() : '';
    const text = typed || (field === 'clutch' ? (laid?.node.clutch.code ?? '') : '');
    if (!text) return null;
    given[field] = text;
  }
  const on = typedDateText(draft.on);
  return { given: on ? { ...given, on } : given, name: Object.values(given)[0] ?? '' };
}
