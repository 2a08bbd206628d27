import { createHash } from 'node:crypto';
import type { ProgramInput } from '@scutewright/inference';
import type { ComputePool } from '../../compute/compute-pool.js';
import type { GenesAnswer } from '../../compute/genes-task.js';
import { UserError } from '../../graphql/errors.js';

/** Answers that are kept, of all programs and suppositions together. */
const MOST_KEPT = 32;
/** A run that takes longer is given up once its program was changed: the newer one waits for its thread. */
const LONG_MS = 10_000;

interface Run {
  readonly programId: string;
  /** The newest state of the program that it answers for. */
  revision: number;
  /** The newest state that was asked about. */
  newest: number;
  timer?: NodeJS.Timeout | undefined;
  readonly begun: number;
  readonly answer: Promise<GenesAnswer>;
  readonly giveUp: AbortController;
}

/** The runs of the inference, each once for whatever asks the very same. */
export class GeneRuns {
  /** By a digest of the input, the one asked for last at the end. */
  private readonly byInput = new Map<string, Run>();
  private readonly pending = new Set<Run>();

  constructor(private readonly pool: Pick<ComputePool, 'run'>) {}

  /** Throws a UserError `CONFLICT` where the program was changed meanwhile and the run took long. */
  answer(programId: string, input: ProgramInput): Promise<GenesAnswer> {
    const key = createHash('sha256').update(JSON.stringify(input)).digest('base64');
    const run = this.byInput.get(key) ?? this.begin(key, programId, input);
    this.byInput.delete(key);
    this.byInput.set(key, run);
    for (const oldest of this.byInput.keys()) {
      if (this.byInput.size <= MOST_KEPT) break;
      this.byInput.delete(oldest);
    }
    return run.answer;
  }

  /** An answer holds at a state of its program: what is worked out only for older ones is given up when it takes long. */
  holdsAt(answer: Promise<GenesAnswer>, programId: string, revision: number): void {
    for (const run of this.pending) {
      if (run.programId !== programId) continue;
      if (run.answer === answer) run.revision = Math.max(run.revision, revision);
      run.newest = Math.max(run.newest, revision);
      this.giveUpWhenLong(run);
    }
  }

  private begin(key: string, programId: string, input: ProgramInput): Run {
    const giveUp = new AbortController();
    const answer = this.pool.run('genes', input, giveUp.signal).catch((fault: unknown) => {
      this.byInput.delete(key);
      throw giveUp.signal.aborted ? changedMeanwhile() : fault;
    });
    const begun = performance.now();
    const run: Run = { programId, revision: 0, newest: 0, begun, answer, giveUp };
    this.pending.add(run);
    const end = () => this.pending.delete(run);
    answer.then(end, end);
    return run;
  }

  private giveUpWhenLong(run: Run): void {
    if (run.timer || run.revision >= run.newest) return;
    const left = run.begun + LONG_MS - performance.now();
    const end = () => {
      run.timer = undefined;
      if (this.pending.has(run) && run.revision < run.newest) run.giveUp.abort();
    };
    run.timer = setTimeout(end, Math.max(0, left)).unref();
  }
}

const changedMeanwhile = () =>
  new UserError('CONFLICT', 'The records were changed while the genes were worked out.', {
    place: 'programId',
    remedy: 'Ask again: the answer from the records as they are now is on its way.',
  });
