import type { Snapshot } from './snapshot.js';

/**
 * Answers worked out once for each snapshot and key and kept as long as the snapshot is. A promise that fails is
 * forgotten, so that it is asked anew.
 */
export class PerSnapshot<Answer> {
  private readonly bySnapshot = new WeakMap<Snapshot, Map<string | number, Answer>>();

  of(snapshot: Snapshot, work: () => Answer, key: string | number = ''): Answer {
    let answers = this.bySnapshot.get(snapshot);
    if (!answers) {
      answers = new Map();
      this.bySnapshot.set(snapshot, answers);
    }
    let answer = answers.get(key);
    if (answer === undefined) {
      answer = work();
      answers.set(key, answer);
      if (answer instanceof Promise) answer.catch(() => answers.delete(key));
    }
    return answer;
  }
}
