import { afterEach, beforeEach, describe, expect, it, jest } from '@jest/globals';
import type { ComputePool } from '@scutewright/api/inside/compute/compute-pool';
import type { GenesAnswer } from '@scutewright/api/inside/compute/genes-task';
import { GeneRuns } from '@scutewright/api/inside/features/genes/gene-runs';
import type { ProgramInput } from '@scutewright/inference';

/** A pool whose runs end when the test says so, or when they are given up. */
function waitingPool() {
  const calls: { signal: AbortSignal; end: (answer: GenesAnswer) => void }[] = [];
  const run = (_name: string, _input: unknown, signal: AbortSignal) =>
    new Promise((end, fail) => {
      calls.push({ signal, end });
      signal.addEventListener('abort', () => fail(new Error('aborted')));
    });
  return { calls, pool: { run } as unknown as Pick<ComputePool, 'run'> };
}

/** A program of so many animals: another input for each number. */
const program = (animals: number): ProgramInput => ({
  loci: [{ id: 'p', alleles: ['n', 'a'], frequencies: { n: '4/5', a: '1/5' } }],
  animals: Array.from({ length: animals }, (_, k) => ({ id: `A${k}` })),
});
const ANSWER = { isPossible: true } as GenesAnswer;

describe('the runs of the inference', () => {
  beforeEach(() => {
    jest.useFakeTimers();
  });
  afterEach(() => {
    jest.useRealTimers();
  });

  it('are one for whatever asks the same', async () => {
    const { calls, pool } = waitingPool();
    const runs = new GeneRuns(pool);
    const [one, other] = [runs.answer('yard', program(3)), runs.answer('yard', program(3))];
    expect(calls).toHaveLength(1);
    calls[0].end(ANSWER);
    expect(await Promise.all([one, other])).toEqual([ANSWER, ANSWER]);
  });

  it('are given up after ten seconds once the program was changed, and said to be', async () => {
    const { calls, pool } = waitingPool();
    const runs = new GeneRuns(pool);
    const old = runs.answer('yard', program(3));
    runs.holdsAt(old, 'yard', 1);
    const fails = expect(old).rejects.toMatchObject({
      message: 'The records were changed while the genes were worked out.',
      extensions: { code: 'CONFLICT' },
    });
    const next = runs.answer('yard', program(4));
    runs.holdsAt(next, 'yard', 2);
    jest.advanceTimersByTime(9_000);
    expect(calls[0].signal.aborted).toBe(false);
    jest.advanceTimersByTime(2_000);
    expect(calls.map(({ signal }) => signal.aborted)).toEqual([true, false]);
    await fails;
    calls[1].end(ANSWER);
    expect(await next).toBe(ANSWER);
    // Asked once more, the old state is worked out anew.
    runs.answer('yard', program(3)).catch(() => expect('given up').toBe('asked anew'));
    expect(calls).toHaveLength(3);
  });

  it('go on where they hold for the newer state as well, and beside those of another program', () => {
    const { calls, pool } = waitingPool();
    const runs = new GeneRuns(pool);
    const own = runs.answer('yard', program(3));
    runs.holdsAt(own, 'yard', 1);
    const others = runs.answer('other yard', program(5));
    runs.holdsAt(others, 'other yard', 1);
    // A supposition about the newer state; the state itself is asked for after it.
    runs.holdsAt(runs.answer('yard', program(4)), 'yard', 2);
    runs.holdsAt(own, 'yard', 2);
    jest.advanceTimersByTime(60_000);
    expect(calls.map(({ signal }) => signal.aborted)).toEqual([false, false, false]);
  });
});
