import { randomBytes } from 'node:crypto';

/**
 * Ids for many rows, each greater than the one before, so that indexes grow at their end: ids at
 * random touch a page of each index for every row. Version 7 of RFC 9562: the time, a counter in
 * the place of `rand_a` and the first of `rand_b`, then chance. As 32 hexadecimal digits.
 */
export class RowIds {
  readonly #bytes = randomBytes(16);
  #count = 0;

  constructor() {
    this.#bytes.writeUIntBE(Date.now(), 0, 6);
  }

  /** At most 2^28 of them. */
  next(): string {
    const count = this.#count++;
    this.#bytes.writeUInt16BE(0x7000 | (count >>> 16), 6);
    // The two bits of the variant are 10.
    this.#bytes.writeUInt16BE(0x8000 | ((count >>> 2) & 0x3fff), 8);
    this.#bytes.writeUInt8(count & 0x3, 10);
    return this.#bytes.toString('hex');
  }
}
