import { useState } from 'react';
import { FaultNote } from '../../components/fault-note.js';
import { RunningWork } from '../../components/running-work.js';
import { Skeleton } from '../../components/skeleton.js';
import type { ApiFault } from '../../lib/api-fault.js';
import type { ResultOf } from '../../lib/graphql.js';
import { useAct } from '../../lib/use-act.js';
import { useJob } from '../../lib/use-job.js';
import { useRead } from '../../lib/use-read.js';
import { BackupsQuery, StartBackup } from './archive-documents.js';

type Outcome = NonNullable<ResultOf<typeof BackupsQuery>['backups']['last']>;

/** When the last backup was made, whether it was tried, and an act to make one now. */
export function Backups({ programId }: { readonly programId: string }) {
  const { data, faults, again } = useRead(BackupsQuery, { programId });
  const { run } = useAct(StartBackup);
  const { progress, follow, stop } = useJob();
  const [refused, setRefused] = useState<readonly ApiFault[]>([]);
  const backUp = async () => {
    setRefused([]);
    const started = await run((commandId) => ({ programId, input: { commandId } }));
    if (!started.done) return setRefused(started.faults);
    const end = await follow(started.data.startBackup.id);
    // Why it failed stands in the list below, which is read anew.
    if (end.faults.some(({ code }) => code === 'UNREACHABLE')) setRefused(end.faults);
    again();
  };
  if (!data) {
    return faults.length > 0 ? (
      <FaultNote faults={faults} again={again} />
    ) : (
      <Skeleton lines={2} what="the backups" />
    );
  }
  const { folder, kept, last, check } = data.backups;
  if (!folder) {
    return (
      <p>
        <b>No backups are made.</b> Set SCUTEWRIGHT_BACKUP_FOLDER on the computer that runs this.
      </p>
    );
  }
  return (
    <>
      <FaultNote faults={refused} />
      <dl className="backups">
        <dt>Last backup</dt>
        <dd>{last ? <Told outcome={last} bad="Failed" /> : 'None yet.'}</dd>
        <dt>Last tried out</dt>
        <dd>
          {check ? (
            <Told outcome={check} bad="Not sound" />
          ) : (
            'Not yet: once a week the newest is restored beside your data and compared.'
          )}
        </dd>
        <dt>Where</dt>
        <dd>
          <code>{folder}</code>, the newest {kept}. Of all programs here, after each night.
        </dd>
      </dl>
      {progress ? (
        <RunningWork
          share={progress.share}
          words={progress.isStopping ? 'Stopping' : progress.words}
          onStop={progress.isStopping ? undefined : stop}
        />
      ) : (
        <button className="act line" type="button" onClick={backUp}>
          Back up now
        </button>
      )}
    </>
  );
}

function Told({ outcome, bad }: { readonly outcome: Outcome; readonly bad: string }) {
  const at = new Date(outcome.at);
  const day = at.toLocaleDateString('en-GB', { day: 'numeric', month: 'long', year: 'numeric' });
  const time = at.toLocaleTimeString('en-GB', { hour: '2-digit', minute: '2-digit' });
  return (
    <>
      <b>
        {outcome.isGood ? '' : `${bad}, `}
        {day}, {time}.
      </b>{' '}
      {outcome.sentence}
    </>
  );
}
