import { useState } from 'react';
import { useClient } from 'urql';
import { FaultNote } from '../../components/fault-note.js';
import { RunningWork } from '../../components/running-work.js';
import { type ApiFault, apiFaults } from '../../lib/api-fault.js';
import { sendBytes } from '../../lib/send-bytes.js';
import { useAct } from '../../lib/use-act.js';
import { useJob } from '../../lib/use-job.js';
import { RestoredQuery, StartRestore } from './archive-documents.js';
import './archive.css';

/** An archive comes back as a new program, whole or not at all. */
export function RestoreForm({ onDone }: { readonly onDone: (programId: string) => void }) {
  const client = useClient();
  const { run } = useAct(StartRestore);
  const { progress, follow, stop } = useJob();
  const [sending, setSending] = useState<string | null>(null);
  const [note, setNote] = useState('');
  const [faults, setFaults] = useState<readonly ApiFault[]>([]);

  const restore = async (file: File) => {
    setFaults([]);
    setNote('');
    setSending(file.name);
    const sent = await sendBytes(`/archives?name=${encodeURIComponent(file.name)}`, file);
    if (!('uploadId' in sent)) {
      setSending(null);
      return setFaults(sent.faults);
    }
    const { uploadId } = sent;
    const started = await run((commandId) => ({ input: { commandId, uploadId } }));
    setSending(null);
    if (!started.done) return setFaults(started.faults);
    const jobId = started.data.startRestore.id;
    const end = await follow(jobId);
    if (end.isStopped) return setNote('Stopped: nothing was written.');
    if (end.faults.length > 0) return setFaults(end.faults);
    const { data, error } = await client
      .query(RestoredQuery, { jobId }, { requestPolicy: 'network-only' })
      .toPromise();
    if (data?.job.restored) onDone(data.job.restored.id);
    else setFaults(error ? apiFaults(error) : []);
  };

  const isWorking = sending !== null || progress !== null;
  return (
    <>
      <FaultNote faults={faults} />
      {sending && <RunningWork share={null} words={`Sending ${sending}.`} />}
      {progress && (
        <RunningWork
          share={progress.share}
          words={progress.isStopping ? 'Stopping' : progress.words}
          onStop={progress.isStopping ? undefined : stop}
        />
      )}
      <p role="status">{note}</p>
      {!isWorking && (
        <div className="choose-archive">
          <label htmlFor="archive">
            The file from 'Keep a copy' (zip), of this version or an older one. Nothing that is here
            is touched.
          </label>
          <input
            id="archive"
            type="file"
            accept=".zip,application/zip"
            onChange={(event) => {
              const file = event.target.files?.[0];
              if (file) restore(file);
              // So that the same file can be chosen again.
              event.target.value = '';
            }}
          />
        </div>
      )}
    </>
  );
}
