import { useState } from 'react';
import { Link } from 'react-router';
import { addresses } from '../../lib/addresses.js';
import { partialDateWords, timeWords } from '../../lib/date-words.js';
import type { QueuedEntry } from '../../lib/phone-store.js';
import { localDay } from './sync-round.js';
import type { Round } from './use-round.js';
import '../../components/why-drawer.css';

/** Answered ones shown without opening the rest; one that needs a decision stays on top. */
const FIRST = 5;

/** What was written on this device: what waits first, then what came of the rest. Latest on top. */
export function WrittenList({ round }: { readonly round: Round }) {
  const [fault, setFault] = useState<string | null>(null);
  const waiting = round.queue.filter(({ answer }) => !answer).reverse();
  const needs = ({ answer }: QueuedEntry) => Number(answer?.state === 'NEEDS_DECISION');
  const answered = round.queue
    .filter(({ answer }) => answer)
    .reverse()
    .toSorted((a, b) => needs(b) - needs(a));
  const takeBack = async (entry: QueuedEntry) => setFault(await round.takeBack(entry));
  if (round.queue.length === 0) return null;
  return (
    <section className="written" aria-label="Written on this device">
      {fault && (
        <p className="fault" role="alert">
          {fault}
        </p>
      )}
      {waiting.length > 0 && (
        <h2>{waiting.length === 1 ? '1 waits' : `${waiting.length} wait`} to be sent</h2>
      )}
      <ul>
        {waiting.map((entry) => (
          <Line key={entry.n} entry={entry} onTakeBack={takeBack} />
        ))}
      </ul>
      {answered.length > 0 && <h2>Written</h2>}
      <ul>
        {answered.slice(0, FIRST).map((entry) => (
          <Line key={entry.n} entry={entry} onTakeBack={takeBack} />
        ))}
      </ul>
      {answered.length > FIRST && (
        <details className="why">
          <summary>{answered.length - FIRST} before</summary>
          <ul>
            {answered.slice(FIRST).map((entry) => (
              <Line key={entry.n} entry={entry} onTakeBack={takeBack} />
            ))}
          </ul>
        </details>
      )}
    </section>
  );
}

function Line(props: {
  readonly entry: QueuedEntry;
  readonly onTakeBack: (entry: QueuedEntry) => void;
}) {
  const { entry } = props;
  const { on } = entry.entry;
  const needs = entry.answer?.state === 'NEEDS_DECISION';
  const isPhoto = 'photo' in entry.entry;
  return (
    <li className={needs ? 'needs' : undefined}>
      <div>
        <p>
          {entry.words}{' '}
          <span className="soft small">
            {typeof on === 'string' && on !== localDay() && `${partialDateWords({ text: on })}, `}
            {timeWords(entry.madeAt)}
          </span>
        </p>
        {needs && (
          <p className="small">
            <b>{isPhoto ? 'Photo not kept:' : 'Not written, kept in the inbox:'}</b>{' '}
            {entry.answer?.sentence} {entry.answer?.remedy}{' '}
            {!isPhoto && (
              <Link to={addresses.waiting(entry.programId)}>Decide it (with signal)</Link>
            )}
          </p>
        )}
        {entry.answer?.remarks.map((remark) => (
          <p key={remark} className="small">
            {remark}
          </p>
        ))}
      </div>
      <button type="button" className="act quiet" onClick={() => props.onTakeBack(entry)}>
        {needs ? 'Hide' : 'Undo'}
        <span className="vh"> {entry.words}</span>
      </button>
    </li>
  );
}
