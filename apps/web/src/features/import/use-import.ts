import { useClient } from 'urql';
import { apiFaults } from '../../lib/api-fault.js';
import type { VariablesOf } from '../../lib/graphql.js';
import { type Outcome, useAct } from '../../lib/use-act.js';
import { useJob } from '../../lib/use-job.js';
import { type FileLook, ImportOfJob, ImportProgramFile, StartImport } from './import-documents.js';

/** A larger file takes long enough to be told how far it is, and to be stopped. */
const LARGE_BYTES = 128 * 1024;

type Variables = VariablesOf<typeof ImportProgramFile>;

/** Looks at a file or writes it: a small one at once, a large one as work that can be followed and stopped. */
export function useImport() {
  const client = useClient();
  const small = useAct(ImportProgramFile);
  const large = useAct(StartImport);
  const { progress, follow, stop } = useJob();

  /** Answers null where the reader stopped it. */
  const run = async (
    bytes: number,
    variables: (commandId: string) => Variables,
  ): Promise<Outcome<FileLook> | null> => {
    if (bytes <= LARGE_BYTES) {
      const outcome = await small.run(variables);
      return outcome.done ? { done: true, data: outcome.data.importProgramFile } : outcome;
    }
    const started = await large.run(variables);
    if (!started.done) return started;
    const jobId = started.data.startImport.id;
    const end = await follow(jobId);
    if (end.isStopped) return null;
    if (end.faults.length > 0) return { done: false, faults: [...end.faults] };
    const { data, error } = await client
      .query(ImportOfJob, { jobId }, { requestPolicy: 'network-only' })
      .toPromise();
    const look = data?.job.import;
    if (!look) return { done: false, faults: error ? apiFaults(error) : [] };
    // Open pages hear of what was written as they hear of another member's acts.
    return { done: true, data: look };
  };

  return { run, progress, stop };
}
