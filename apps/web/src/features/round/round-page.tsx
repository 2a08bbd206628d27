import { useState } from 'react';
import { useSearchParams } from 'react-router';
import { EmptyState } from '../../components/empty-state.js';
import { Opening } from '../../components/opening.js';
import { Skeleton } from '../../components/skeleton.js';
import './round.css';
import type { ActDesk } from './act-form.js';
import type { RoundCopy } from './round-documents.js';
import { SignalBar } from './signal-bar.js';
import { OneStop } from './stop-page.js';
import { firstStop, stopsOf } from './stops.js';
import { localDay } from './sync-round.js';
import { NotHere, OneThing, thingOf } from './thing-page.js';
import { type Round, useRound } from './use-round.js';
import { freeCode, withQueue } from './with-queue.js';
import { WrittenList } from './written-list.js';

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

/** What the address names is open: a thing of the yard, or a stop of the walk. */
function Walk({ round, copy }: { readonly round: Round; readonly copy: RoundCopy }) {
  const [params, setParams] = useSearchParams();
  const [day, setDay] = useState(localDay());
  /** What was written last, said where the eye is. */
  const [last, setLast] = useState<string | null>(null);
  const stops = stopsOf(copy);
  const asked = params.get('pen') ?? firstStop(copy);
  const stop = stops.find(({ key }) => key === asked) ?? stops[0]!;
  const go = (to: Record<string, string>) => {
    setParams({ pen: stop.key, ...to });
    window.scrollTo(0, 0);
  };
  const write: ActDesk['write'] = async (entry) => {
    await round.write(entry);
    setLast(entry.words);
  };
  const desk: ActDesk = { write, day, setDay, nextCode: freeCode(copy) };
  const thing = thingOf(copy, params);
  const act = params.get('act');
  return (
    <>
      <p role="status" className="kept-note">
        {last && !act && `Kept: ${last}.`}
      </p>
      {!thing && <NotHere {...{ copy, params, stops }} />}
      {thing ? (
        <OneThing key={thing.key} {...{ thing, copy, desk, go, act, stop }} />
      ) : (
        <OneStop key={stop.key} {...{ stop, stops, copy, round, desk, go, act }} />
      )}
      <WrittenList round={round} />
    </>
  );
}
