import type { Snapshot } from './snapshot.js';

/** What answers follow from: the snapshot itself, or some of its parts. */
type Reads = (snapshot: Snapshot) => readonly object[];

/**
 * Answers worked out once for each snapshot and key and kept as long as the snapshot is. With `reads`, which names the parts of
 * a snapshot that an answer follows from, an answer serves every snapshot with the very same parts: it must hold nothing of
 * any other part. A promise that fails is forgotten, so that it is asked anew.
 */
export class PerSnapshot<Answer> {
  private readonly kept: Branch<Answer> = { next: new WeakMap(), answers: new Map() };

  constructor(private readonly reads: Reads = (snapshot) => [snapshot]) {}

  of(snapshot: Snapshot, work: () => Answer, key: string | number = ''): Answer {
    let branch = this.kept;
    for (const part of this.reads(snapshot)) {
      let next = branch.next.get(part);
      if (!next) {
        next = { next: new WeakMap(), answers: new Map() };
        branch.next.set(part, next);
      }
      branch = next;
    }
    const { answers } = branch;
    let answer = answers.get(key);
    if (answer === undefined) {
      answer = work();
      answers.set(key, answer);
      if (answer instanceof Promise) answer.catch(() => answers.delete(key));
    }
    return answer;
  }
}

/** Answers by the parts that led here; a part that nobody holds any more takes its branch with it. */
interface Branch<Answer> {
  readonly next: WeakMap<object, Branch<Answer>>;
  readonly answers: Map<string | number, Answer>;
}
