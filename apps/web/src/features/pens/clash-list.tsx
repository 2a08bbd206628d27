import { useId, useState } from 'react';
import { FaultNote } from '../../components/fault-note.js';
import { Skeleton } from '../../components/skeleton.js';
import { partialDateWords } from '../../lib/date-words.js';
import { useRead } from '../../lib/use-read.js';
import type { Clash } from './clashes.js';
import { PensIfMovedQuery } from './pen-documents.js';

const CODES = 4;

/** What presses on the day shown, by the numbers of the plan, each with what to do and where one could go. */
export function ClashList(props: {
  readonly programId: string;
  readonly clashes: readonly Clash[];
}) {
  if (props.clashes.length === 0) {
    return <p>Nothing presses then. What is only to be kept in mind stands with each pen.</p>;
  }
  return (
    <ol className="clashes">
      {props.clashes.map((clash) => (
        <Item key={clash.key} programId={props.programId} clash={clash} />
      ))}
    </ol>
  );
}

function Item({ programId, clash }: { readonly programId: string; readonly clash: Clash }) {
  const { animals, flags, pen } = clash;
  const rest = animals.length - CODES;
  const [first] = flags;
  const surely = flags
    .map(({ certainFrom }) => certainFrom)
    .filter(Boolean)
    .toSorted()[0];
  const remedies = [...new Set(flags.map(({ remedy }) => remedy))];
  const young = flags.find((flag) => flag.young)?.young;
  return (
    <li className={clash.severity.toLowerCase()}>
      <span className="plate-number" aria-hidden="true">
        {clash.number}
      </span>
      <div>
        <h3>
          <span className="vh">{clash.number}: </span>
          {clash.title}, <a href={`#${encodeURIComponent(pen.name)}`}>{pen.name}</a>
        </h3>
        <p>
          {animals.slice(0, CODES).map(({ id, code }, k) => (
            <span key={id}>
              {k > 0 && ', '}
              <span className="code">{code}</span>
            </span>
          ))}
          {rest > 0 && ` and ${rest} more`}
          {flags.length > 1 && <span className="soft">, {flags.length} times</span>}
        </p>
        {flags.length === 1 && first && <p>{first.message}</p>}
        <p className="small">
          Since or from {partialDateWords({ text: (first?.possibleFrom ?? '').slice(0, 7) })}
          {surely && surely !== first?.possibleFrom
            ? `, surely from ${partialDateWords({ text: surely.slice(0, 7) })}`
            : ''}
          .
        </p>
        {young && <p className="small">{young}</p>}
        <p className="small">{remedies[0]}</p>
        <WhereTo programId={programId} clash={clash} />
      </div>
    </li>
  );
}

/** Pens that one of those in a clash could go to. Asked for when opened. */
function WhereTo({ programId, clash }: { readonly programId: string; readonly clash: Clash }) {
  const id = useId();
  const [animalId, setAnimalId] = useState('');
  return (
    <div className="where-to">
      <div className="field">
        <label htmlFor={id}>Better pens for</label>
        <select id={id} value={animalId} onChange={(event) => setAnimalId(event.target.value)}>
          <option value="">choose one</option>
          {clash.animals.map((animal) => (
            <option key={animal.id} value={animal.id}>
              {animal.code}
            </option>
          ))}
        </select>
      </div>
      {animalId && <BetterPens programId={programId} animalId={animalId} />}
    </div>
  );
}

function BetterPens(props: { readonly programId: string; readonly animalId: string }) {
  const { data, faults, again } = useRead(PensIfMovedQuery, props);
  return (
    <div aria-live="polite">
      <FaultNote faults={faults} again={again} />
      {!data && faults.length === 0 && <Skeleton lines={3} what="the pens" />}
      {data?.pensIfMoved.length === 0 && <p>There is no other pen to go to.</p>}
      {data && data.pensIfMoved.length > 0 && (
        <ol className="better">
          {data.pensIfMoved.map((pen) => (
            <li key={pen.penId}>
              <a href={`#${encodeURIComponent(pen.name)}`}>
                <b>{pen.name}</b>
              </a>{' '}
              <span className={pen.isFree ? 'small' : 'small soft'}>{pen.sentence}</span>
            </li>
          ))}
        </ol>
      )}
    </div>
  );
}
