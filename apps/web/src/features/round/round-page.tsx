import { useState } from 'react';
import { Link, useSearchParams } from 'react-router';
import { EmptyState } from '../../components/empty-state.js';
import { Opening } from '../../components/opening.js';
import { Skeleton } from '../../components/skeleton.js';
import { addresses } from '../../lib/addresses.js';
import { ActForm } from './act-form.js';
import { actsOfAnimal, actsOfLot, actsOfPen, named } from './acts.js';
import './round.css';
import type { RoundAnimal, RoundCopy, RoundLot } from './round-documents.js';
import { SignalBar } from './signal-bar.js';
import { localDay } from './sync-round.js';
import { type Round, useRound } from './use-round.js';
import { animalWords, found, seenOn, withQueue } from './with-queue.js';
import { WrittenList } from './written-list.js';

/** Animals in no pen are walked like a pen of their own. */
const NO_PEN = 'none';

/** The yard round: find, tap, write; with or without signal. */
export function RoundPage({ programId }: { readonly programId: string }) {
  const round = useRound(programId);
  const { account, copy } = round;
  if (!round.isRead) return <Skeleton lines={8} what="the yard" />;
  if (round.storeFault) {
    return (
      <>
        <Opening
          title="Yard round"
          sentence="This browser keeps nothing, so a round is not safe in it."
        />
        <p role="alert">
          {round.storeFault} Leave the private window, or allow this page to keep data, and open it
          again.
        </p>
      </>
    );
  }
  return (
    <div className="round">
      <SignalBar round={round} programId={programId} />
      {account && copy ? (
        <Walk round={round} copy={withQueue(copy, round.queue)} />
      ) : (
        <NothingKept round={round} />
      )}
    </div>
  );
}

function NothingKept({ round }: { readonly round: Round }) {
  return (
    <>
      <Opening title="Yard round" sentence="Nothing of the yard is kept on this device yet." />
      {round.signal === 'unknown' ? (
        <Skeleton lines={6} what="the yard" />
      ) : (
        <EmptyState title="Once, with signal">
          <p>
            Sign in and open this page where the device reaches the computer. From then on it works
            without signal.
          </p>
        </EmptyState>
      )}
    </>
  );
}

function Walk({ round, copy }: { readonly round: Round; readonly copy: RoundCopy }) {
  const [params, setParams] = useSearchParams();
  const animal = copy.animals.find(({ id }) => id === params.get('animal'));
  const lot = copy.lots.find(({ id }) => id === params.get('lot'));
  const pen = params.get('pen') ?? firstStop(copy);
  const go = (to: Record<string, string>) => setParams({ pen, ...to });
  return (
    <>
      {animal ? (
        <OneAnimal key={animal.id} {...{ animal, copy, round, go, act: params.get('act') }} />
      ) : lot ? (
        <OneLot key={lot.id} {...{ lot, copy, round, go, act: params.get('act') }} />
      ) : (
        <OnePen key={pen} {...{ pen, copy, round, go, act: params.get('act') }} />
      )}
      <WrittenList round={round} />
    </>
  );
}

/** The first pen that holds anybody. */
function firstStop({ pens, animals }: RoundCopy): string {
  const taken = new Set(animals.map(({ penId }) => penId));
  return (pens.find(({ id }) => taken.has(id)) ?? pens[0])?.id ?? NO_PEN;
}

type Go = (to: Record<string, string>) => void;

function OnePen(props: {
  readonly pen: string;
  readonly copy: RoundCopy;
  readonly round: Round;
  readonly go: Go;
  readonly act: string | null;
}) {
  const { copy, round, go } = props;
  const [typed, setTyped] = useState('');
  const stops = [...copy.pens.map(({ id }) => id), NO_PEN];
  const at = Math.max(0, stops.indexOf(props.pen));
  const pen = copy.pens[at];
  const inPen = copy.animals.filter(({ penId }) => (penId ?? NO_PEN) === stops[at]);
  const listed = typed.trim() ? found(copy.animals, typed) : inPen;
  const seen = seenOn(copy, round.queue, localDay());
  const name = pen?.name ?? 'In no pen';
  const next = stops[(at + 1) % stops.length]!;
  const acts = pen ? actsOfPen(pen, copy) : [];
  const act = acts.find(({ key }) => key === props.act);
  if (act) {
    return <ActForm act={act} animals={[]} onWrite={round.write} onLeave={() => go({})} />;
  }
  const lots = copy.lots.filter(({ penId }) => (penId ?? NO_PEN) === stops[at]);
  return (
    <>
      <Opening
        title={`Yard round: ${name}`}
        heading={
          <>
            {name}{' '}
            <span className="soft">
              {pen ? `pen ${at + 1} of ${copy.pens.length}` : 'and in no pen'}
            </span>
          </>
        }
        sentence={
          <>
            <b>
              {inPen.filter(({ id }) => seen.has(id)).length} of {inPen.length}
            </b>{' '}
            seen today.
          </>
        }
      />
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
      {typed.trim() && (
        <p role="status" className="small">
          {listed.length === 0
            ? `No animal here is called '${typed.trim()}'.`
            : `${listed.length} found in the whole yard.`}
        </p>
      )}
      <ol className="heads">
        {listed.slice(0, 200).map((animal) => (
          <Head
            key={animal.id}
            animal={animal}
            isSeen={seen.has(animal.id)}
            onOpen={() => go({ animal: animal.id })}
            onSeen={() =>
              round.write({
                words: `${animal.code} seen`,
                animals: [animal.id],
                on: localDay(),
                says: { seen: { animals: [animal.id] } },
              })
            }
          />
        ))}
      </ol>
      {listed.length === 0 && !typed.trim() && <p className="soft">Nobody is written down here.</p>}
      {lots.length > 0 && (
        <ul className="heads">
          {lots.map((lot) => (
            <li key={lot.id}>
              <button type="button" className="open" onClick={() => go({ lot: lot.id })}>
                <b>Lot {lot.code}</b>
                <span>{lot.count} young</span>
              </button>
            </li>
          ))}
        </ul>
      )}
      <nav className="deck" aria-label="Write down of this pen">
        {acts.map(({ key, title }) => (
          <button key={key} type="button" onClick={() => go({ act: key })}>
            {title}
          </button>
        ))}
        <button type="button" className="next" onClick={() => go({ pen: next })}>
          Next: {copy.pens.find(({ id }) => id === next)?.name ?? 'in no pen'}
        </button>
      </nav>
    </>
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

function OneAnimal(props: {
  readonly animal: RoundAnimal;
  readonly copy: RoundCopy;
  readonly round: Round;
  readonly go: Go;
  readonly act: string | null;
}) {
  const { animal, copy, round, go } = props;
  const acts = actsOfAnimal(animal, copy);
  const act = acts.find(({ key }) => key === props.act);
  const pen = copy.pens.find(({ id }) => id === animal.penId);
  return (
    <>
      <Opening
        title={named(animal)}
        trail={
          <button type="button" className="act quiet" onClick={() => go({})}>
            Back to {pen?.name ?? 'the round'}
          </button>
        }
        sentence={
          <>
            {animalWords(animal)}
            {animal.weighed && `, weighed ${animal.weighed}`}.
          </>
        }
      />
      {act ? (
        <ActForm
          act={act}
          animals={[animal.id]}
          onWrite={round.write}
          onLeave={() => go({ animal: animal.id })}
        />
      ) : (
        <>
          {animal.marks.length > 0 && <p>Marks: {animal.marks.join('; ')}</p>}
          <ActGrid acts={acts} onAct={(key) => go({ animal: animal.id, act: key })} />
          <p>
            <Link to={addresses.animal(copy.programId, animal.id)}>
              All its records (with signal)
            </Link>
          </p>
        </>
      )}
    </>
  );
}

function OneLot(props: {
  readonly lot: RoundLot;
  readonly copy: RoundCopy;
  readonly round: Round;
  readonly go: Go;
  readonly act: string | null;
}) {
  const { lot, copy, round, go } = props;
  const acts = actsOfLot(lot, copy);
  const act = acts.find(({ key }) => key === props.act);
  return (
    <>
      <Opening
        title={`Lot ${lot.code}`}
        trail={
          <button type="button" className="act quiet" onClick={() => go({})}>
            Back to the pen
          </button>
        }
        sentence={
          <>
            <b>{lot.count}</b> young by the book.
          </>
        }
      />
      {act ? (
        <ActForm act={act} animals={[]} onWrite={round.write} onLeave={() => go({ lot: lot.id })} />
      ) : (
        <ActGrid acts={acts} onAct={(key) => go({ lot: lot.id, act: key })} />
      )}
    </>
  );
}

function ActGrid(props: {
  readonly acts: readonly { readonly key: string; readonly title: string }[];
  readonly onAct: (key: string) => void;
}) {
  return (
    <nav className="act-grid" aria-label="Write down">
      {props.acts.map(({ key, title }) => (
        <button key={key} type="button" onClick={() => props.onAct(key)}>
          {title}
        </button>
      ))}
    </nav>
  );
}
