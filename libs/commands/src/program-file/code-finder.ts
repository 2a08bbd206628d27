import { nearest } from '@scutewright/basics';

/** Comparisons of one code with another that one file may cost; beyond, only look-alikes are offered. */
const MOST_COMPARISONS = 500_000;

/** Offers known codes close to one that is not known. */
export class CodeFinder {
  readonly #codes: readonly string[];
  readonly #lookAlikes = new Map<string, string[]>();
  readonly #offered = new Map<string, readonly string[]>();
  #left = MOST_COMPARISONS;

  constructor(known: ReadonlyMap<string, unknown>) {
    this.#codes = [...known.keys()];
  }

  /** At most three, best first: look-alikes, else the nearest by letters as long as the budget lasts. */
  nearest(code: string): readonly string[] {
    const offered = this.#offered.get(code);
    if (offered) return offered;
    const found = this.#find(code);
    this.#offered.set(code, found);
    return found;
  }

  #find(code: string): readonly string[] {
    const alike = this.#alike(code);
    if (alike.length > 0 || this.#left < this.#codes.length) return alike;
    this.#left -= this.#codes.length;
    return nearest(code, this.#codes);
  }

  #alike(code: string): readonly string[] {
    if (this.#lookAlikes.size === 0) {
      for (const known of this.#codes) {
        const key = lookAlike(known);
        const list = this.#lookAlikes.get(key);
        if (!list) this.#lookAlikes.set(key, [known]);
        else if (list.length < 3) list.push(known);
      }
    }
    return this.#lookAlikes.get(lookAlike(code)) ?? [];
  }
}

/** Equal for codes that differ in case, punctuation, leading zeros or letters that look like digits only. */
function lookAlike(code: string): string {
  return code
    .toLowerCase()
    .replace(/o/g, '0')
    .replace(/[il]/g, '1')
    .replace(/[^\p{L}\p{N}]+/gu, '')
    .replace(/(\D|^)0+(?=\d)/g, '$1');
}
