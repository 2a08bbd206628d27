import { UserError } from '../graphql/errors.js';

const WINDOW_MS = 10 * 60_000;
const MAX_ATTEMPTS = 10;
const MAX_KEYS = 50_000;

/**
 * Counts failed attempts by key (e-mail, address) over ten minutes in this process, and
 * refuses the eleventh. Several API processes count each for itself.
 */
export class AttemptLimit {
  private readonly failures = new Map<string, number[]>();

  constructor(private readonly now: () => number) {}

  /** Throws TOO_MANY_ATTEMPTS where one of the keys is used up. */
  check(keys: readonly string[]): void {
    const since = this.now() - WINDOW_MS;
    for (const key of keys) {
      const recent = (this.failures.get(key) ?? []).filter((at) => at > since);
      if (recent.length < MAX_ATTEMPTS) continue;
      const minutes = Math.max(1, Math.ceil((recent[0] - since) / 60_000));
      throw new UserError('TOO_MANY_ATTEMPTS', 'There were too many failed attempts.', {
        remedy: `Wait ${minutes} ${minutes === 1 ? 'minute' : 'minutes'} and try again, or use a new one-time link.`,
      });
    }
  }

  failed(keys: readonly string[]): void {
    const since = this.now() - WINDOW_MS;
    for (const key of keys) {
      const recent = (this.failures.get(key) ?? []).filter((at) => at > since);
      recent.push(this.now());
      this.failures.delete(key);
      this.failures.set(key, recent);
    }
    // The oldest keys go first, so that a flood of made-up addresses cannot fill the memory.
    for (const key of this.failures.keys()) {
      if (this.failures.size <= MAX_KEYS) break;
      this.failures.delete(key);
    }
  }

  succeeded(keys: readonly string[]): void {
    for (const key of keys) this.failures.delete(key);
  }
}
