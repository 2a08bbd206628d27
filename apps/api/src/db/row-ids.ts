import { randomBytes } from 'node:crypto';

/**
 * Ids for many rows, each greater than the one before, so that indexes grow at their end: rows
 * with ids at random touch a page each, which took half the time of a large import. Version 7 of
 * RFC 9562: the time, a counter in the place of `rand_a` and the first of `rand_b`, chance.
 */
export class RowIds {
  readonly #time = Date.now().toString(16).padStart(12, '0');
  readonly #chance = randomBytes(4).toString('hex');
  #count = 0;

  /** At most 2^38 of them. */
  next(): string {
    const count = this.#count++;
    // 12 bits, then the two of the variant with 10, then 16.
    const high = Math.floor(count / 2 ** 26).toString(16).padStart(3, '0');
    const middle = (0x8000 | (Math.floor(count / 2 ** 16) & 0x3ff)).toString(16);
    const low = (count & 0xffff).toString(16).padStart(4, '0');
    const time = this.#time;
    return `${time.slice(0, 8)}-${time.slice(8)}-7${high}-${middle}-${low}${this.#chance}`;
  }
}
