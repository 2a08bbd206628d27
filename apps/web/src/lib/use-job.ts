import { useCallback, useEffect, useRef, useState } from 'react';
import { useClient } from 'urql';
import { type ApiFault, apiFaults } from './api-fault.js';
import { graphql } from './graphql.js';

const JobQuery = graphql(`
  query Job($jobId: ID!) {
    job(jobId: $jobId) {
      id
      state
      progress
      sentence
      error {
        code
        message
        remedy
        place
      }
    }
  }
`);

const CancelJob = graphql(`
  mutation CancelJob($input: CancelJobInput!) {
    cancelJob(input: $input) {
      id
      cancelAsked
    }
  }
`);

const ASK_EVERY_MS = 400;
/** A server that is restarted takes the job up again: it is waited for so long. */
const MOST_SILENT = 150;

/** How far the work is; null where none is followed. */
export interface JobProgress {
  /** 0 to 1. */
  readonly share: number;
  readonly words: string;
  readonly isStopping: boolean;
}

/** How it ended: no faults where it ended well; `isStopped` where the reader stopped it. */
export interface JobEnd {
  readonly isStopped: boolean;
  readonly faults: readonly ApiFault[];
}

/** Follows one piece of long work at a time, until it has ended. */
export function useJob() {
  const client = useClient();
  const [progress, setProgress] = useState<JobProgress | null>(null);
  const followed = useRef<string | null>(null);
  const isOpen = useRef(true);
  useEffect(() => {
    isOpen.current = true;
    return () => {
      // The work goes on; nobody looks any more.
      isOpen.current = false;
    };
  }, []);

  const follow = useCallback(
    async (jobId: string): Promise<JobEnd> => {
      followed.current = jobId;
      setProgress({ share: 0, words: 'Waiting for its turn', isStopping: false });
      const end = (faults: readonly ApiFault[], isStopped = false): JobEnd => {
        followed.current = null;
        setProgress(null);
        return { faults, isStopped };
      };
      for (let silent = 0; isOpen.current; ) {
        const { data, error } = await client
          .query(JobQuery, { jobId }, { requestPolicy: 'network-only' })
          .toPromise();
        if (error) {
          const faults = apiFaults(error);
          if (faults[0]?.code !== 'UNREACHABLE' || ++silent > MOST_SILENT) return end(faults);
        } else if (data) {
          silent = 0;
          const { state, progress: share, sentence, error: fault } = data.job;
          if (state === 'DONE') return end([]);
          if (state === 'CANCELLED') return end([], true);
          if (state === 'FAILED') {
            return end(fault ? [{ ...fault, place: fault.place ?? undefined }] : []);
          }
          setProgress((now) => ({
            share,
            words: sentence || 'Waiting for its turn',
            isStopping: now?.isStopping ?? false,
          }));
        }
        await new Promise((resolve) => setTimeout(resolve, ASK_EVERY_MS));
      }
      return { faults: [], isStopped: true };
    },
    [client],
  );

  const stop = useCallback(() => {
    const jobId = followed.current;
    if (!jobId) return;
    setProgress((now) => now && { ...now, isStopping: true });
    client.mutation(CancelJob, { input: { jobId } }).toPromise();
  }, [client]);

  return { progress, follow, stop };
}
