import { useState } from 'react';
import { Opening } from '../../components/opening.js';
import { partialDateWords } from '../../lib/date-words.js';
import { named } from './act.js';
import { type ActDesk, ActForm } from './act-form.js';
import { actsOfPen } from './acts-of-pen.js';
import { PhotoList } from './photo-list.js';
import type { RoundAnimal, RoundCopy } from './round-documents.js';
import { NO_PEN, type Stop } from './stops.js';
import { localDay } from './sync-round.js';
import { ActGrid, clutchWords } from './thing-page.js';
import type { Round } from './use-round.js';
import { animalWords, found, seenOn } from './with-queue.js';

/** Acts that stand at the foot of a pen; the others are one tap further. */
const AT_THE_FOOT = 2;
const ALL_ACTS = 'more';

/** One stop of the walk: who is there, what can be written of them, and the way on. */
export function OneStop(props: {
  readonly stop: Stop;
  readonly stops: readonly Stop[];
  readonly copy: RoundCopy;
  readonly round: Round;
  readonly desk: ActDesk;
  readonly go: (to: Record<string, string>) => void;
  readonly act: string | null;
}) {
  const { copy, round, go, stop, stops } = props;
  const [typed, setTyped] = useState('');
  const [byPhoto, setByPhoto] = useState(false);
  const pen = copy.pens.find(({ id }) => id === stop.key);
  const acts = pen ? actsOfPen(pen, copy) : [];
  const act = acts.find(({ key }) => key === props.act);
  if (pen && (act || props.act === ALL_ACTS)) {
    return (
      <>
        <Opening
          title={pen.name}
          trail={
            <button type="button" className="act quiet" onClick={() => go({})}>
              Back to {pen.name}
            </button>
          }
          sentence={act ? undefined : 'What happened here?'}
        />
        {act ? (
          <ActForm act={act} animals={[]} desk={props.desk} onLeave={() => go({})} />
        ) : (
          <ActGrid acts={acts} onAct={(key) => go({ act: key })} />
        )}
      </>
    );
  }
  const seen = seenOn(copy, round.queue, localDay());
  const isWalked = stop.kind === 'pen' || stop.kind === 'none';
  const inPen = isWalked ? copy.animals.filter(({ penId }) => (penId ?? NO_PEN) === stop.key) : [];
  const listed = typed.trim() ? found(copy.animals, typed) : inPen;
  const next = stops[(stops.indexOf(stop) + 1) % stops.length]!;
  return (
    <>
      <Opening
        title={`Yard round: ${stop.name}`}
        heading={stop.name}
        sentence={
          isWalked ? (
            <>
              <b>
                {inPen.filter(({ id }) => seen.has(id)).length} of {inPen.length}
              </b>{' '}
              seen today.
            </>
          ) : stop.kind === 'eggs' ? (
            `${copy.clutches.filter(({ open }) => open !== 0).length} with eggs still open.`
          ) : (
            'Not here now, and may come back.'
          )
        }
      />
      <div className="field find-here">
        <label htmlFor="round-stop">Go to</label>
        <select
          id="round-stop"
          value={stop.key}
          onChange={(event) => go({ pen: event.target.value })}
        >
          {stops.map(({ key, name }) => (
            <option key={key} value={key}>
              {name}
            </option>
          ))}
        </select>
      </div>
      <div className="field find-here">
        <label htmlFor="round-find">Find by code, name or chip</label>
        <input
          id="round-find"
          type="search"
          autoComplete="off"
          autoCapitalize="none"
          spellCheck={false}
          enterKeyHint="search"
          value={typed}
          onChange={(event) => setTyped(event.target.value)}
        />
      </div>
      <button
        type="button"
        className="act line by-photo"
        aria-pressed={byPhoto}
        onClick={() => setByPhoto(!byPhoto)}
      >
        {byPhoto ? 'Back to the list' : 'Find by photo'}
      </button>
      {typed.trim() && (
        <p role="status" className="small">
          {listed.length === 0
            ? `No animal here is called '${typed.trim()}'.`
            : `${listed.length} found in the whole yard.`}
        </p>
      )}
      {byPhoto ? (
        <PhotoList
          programId={copy.programId}
          // Those of this pen first.
          animals={typed.trim() ? listed : [...new Set([...inPen, ...copy.animals])]}
          onOpen={({ id }) => go({ animal: id })}
        />
      ) : (
        <ol className="heads">
          {listed.slice(0, 200).map((animal) => (
            <Head
              key={animal.id}
              animal={animal}
              isSeen={seen.has(animal.id)}
              onOpen={() => go({ animal: animal.id })}
              onSeen={() =>
                props.desk.write({
                  words: `${animal.code} seen`,
                  animals: [animal.id],
                  on: localDay(),
                  says: { seen: { animals: [animal.id] } },
                })
              }
            />
          ))}
        </ol>
      )}
      {isWalked && listed.length === 0 && !typed.trim() && !byPhoto && (
        <p className="soft">Nobody is written down here.</p>
      )}
      <Others stop={stop} copy={copy} go={go} />
      <nav className="deck" aria-label="Write down of this pen">
        {acts.slice(0, AT_THE_FOOT).map(({ key, title }) => (
          <button key={key} type="button" onClick={() => go({ act: key })}>
            {title}
          </button>
        ))}
        {pen && (
          <button type="button" onClick={() => go({ act: ALL_ACTS })}>
            More
          </button>
        )}
        <button type="button" className="next" onClick={() => go({ pen: next.key })}>
          Next: {next.name}
        </button>
      </nav>
    </>
  );
}

/** What is at a stop beside animals: lots of a pen, clutches, those away. */
function Others(props: {
  readonly stop: Stop;
  readonly copy: RoundCopy;
  readonly go: (to: Record<string, string>) => void;
}) {
  const { stop, copy, go } = props;
  const open = (kind: string, id: string) => () => go({ [kind]: id });
  const rows =
    stop.kind === 'eggs'
      ? copy.clutches
          .toSorted((a, b) => Number(a.open === 0) - Number(b.open === 0))
          .map((clutch) => ({
            id: clutch.id,
            title: clutch.code,
            words: clutchWords(clutch),
            onOpen: open('clutch', clutch.id),
          }))
      : stop.kind === 'away'
        ? copy.away.map((animal) => ({
            id: animal.id,
            title: named(animal),
            words: `${animal.words}${animal.since ? ` since ${partialDateWords({ text: animal.since })}` : ''}`,
            onOpen: open('away', animal.id),
          }))
        : copy.lots
            .filter(({ penId }) => (penId ?? NO_PEN) === stop.key)
            .map(({ id, code, count }) => ({
              id,
              title: `Lot ${code}`,
              words: `${count} young`,
              onOpen: open('lot', id),
            }));
  if (rows.length === 0) return null;
  return (
    <ul className="heads">
      {rows.map(({ id, title, words, onOpen }) => (
        <li key={id}>
          <button type="button" className="open" onClick={onOpen}>
            <b>{title}</b>
            <span>{words}</span>
          </button>
        </li>
      ))}
    </ul>
  );
}

function Head(props: {
  readonly animal: RoundAnimal;
  readonly isSeen: boolean;
  readonly onOpen: () => void;
  readonly onSeen: () => void;
}) {
  const { animal, isSeen } = props;
  return (
    <li>
      <button type="button" className="open" onClick={props.onOpen}>
        <b>{named(animal)}</b>
        <span>{animalWords(animal)}</span>
      </button>
      <button
        type="button"
        className="tick-seen"
        aria-pressed={isSeen}
        onClick={() => !isSeen && props.onSeen()}
      >
        <span className="vh">{animal.code} </span>
        {isSeen ? 'Seen' : 'Seen?'}
      </button>
    </li>
  );
}
