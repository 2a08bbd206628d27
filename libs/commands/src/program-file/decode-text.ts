export type Encoding = 'utf-8' | 'windows-1252' | 'utf-16le' | 'utf-16be';

export interface DecodedText {
  readonly text: string;
  readonly encoding: Encoding;
  /** The text has U+FFFD where bytes could not be read. */
  readonly hasUnreadable: boolean;
}

/**
 * Text of a file whose encoding nobody names. A byte-order mark decides and is dropped; without one, zeros in
 * every second byte mean UTF-16, bytes that form valid UTF-8 (or nearly) mean UTF-8, all else Windows-1252.
 * `asked` overrules the guess. Cost: one or two passes; the text is held once.
 * Source: WHATWG Encoding Standard (utf-8 decoder, index windows-1252), encoding.spec.whatwg.org.
 */
export function decodeText(bytes: Uint8Array, asked?: Encoding): DecodedText {
  const guess = new EncodingGuess();
  guess.push(bytes);
  const encoding = asked ?? guess.encoding();
  const pieces = new TextPieces(encoding);
  const text = pieces.push(bytes, true);
  return { text, encoding, hasUnreadable: pieces.hasUnreadable };
}

/** The first pass over a file that comes in pieces: which encoding it is in. */
export class EncodingGuess {
  #marked: Encoding | null = null;
  #utf16: Encoding | null = null;
  #isFirst = true;
  #sequences = 0;
  #bad = 0;
  #rest: Uint8Array = new Uint8Array();

  push(piece: Uint8Array): void {
    if (this.#isFirst) {
      this.#marked = byteOrderMark(piece)?.encoding ?? null;
      this.#utf16 = guessUtf16(piece);
    }
    this.#isFirst = false;
    if (this.#marked ?? this.#utf16) return;
    const bytes = joined(this.#rest, piece);
    const end = wholeLength(bytes, 'utf-8');
    this.#rest = bytes.slice(end);
    const { sequences, bad } = countUtf8(bytes.subarray(0, end));
    this.#sequences += sequences;
    this.#bad += bad;
  }

  encoding(): Encoding {
    const told = this.#marked ?? this.#utf16;
    if (told) return told;
    const bad = this.#bad + countUtf8(this.#rest).bad;
    return bad === 0 || this.#sequences > 2 * bad ? 'utf-8' : 'windows-1252';
  }
}

/** The second pass: the text of each piece, without a character that is cut by its end. */
export class TextPieces {
  hasUnreadable = false;
  #isFirst = true;
  #rest: Uint8Array = new Uint8Array();

  constructor(readonly encoding: Encoding) {}

  push(piece: Uint8Array, isLast: boolean): string {
    const { encoding } = this;
    const mark = this.#isFirst ? byteOrderMark(piece) : null;
    this.#isFirst = false;
    const bytes = joined(this.#rest, piece.subarray(mark?.encoding === encoding ? mark.length : 0));
    const end = isLast ? bytes.length : wholeLength(bytes, encoding);
    this.#rest = bytes.slice(end);
    const body = bytes.subarray(0, end);
    const sink = new TextSink();
    if (encoding === 'utf-8') decodeUtf8(body, sink);
    else if (encoding === 'windows-1252') decodeWindows1252(body, sink);
    else decodeUtf16(body, encoding === 'utf-16le' ? 0 : 1, sink);
    if (sink.unreadable > 0) this.hasUnreadable = true;
    return sink.text();
  }
}

function joined(a: Uint8Array, b: Uint8Array): Uint8Array {
  if (a.length === 0) return b;
  const both = new Uint8Array(a.length + b.length);
  both.set(a);
  both.set(b, a.length);
  return both;
}

/** Length without a character at the end of which the next piece may bring the rest. */
function wholeLength(bytes: Uint8Array, encoding: Encoding): number {
  const { length } = bytes;
  if (encoding === 'windows-1252') return length;
  if (encoding === 'utf-8') {
    for (let back = 1; back <= 3 && back <= length; back++) {
      const lead = bytes[length - back];
      if ((lead & 0xc0) === 0x80) continue;
      const needed = lead < 0xc2 || lead > 0xf4 ? 1 : lead < 0xe0 ? 2 : lead < 0xf0 ? 3 : 4;
      return needed > back ? length - back : length;
    }
    return length;
  }
  const whole = length - (length % 2);
  if (whole === 0) return 0;
  const high = bytes[encoding === 'utf-16le' ? whole - 1 : whole - 2];
  return high >= 0xd8 && high < 0xdc ? whole - 2 : whole;
}

function byteOrderMark(bytes: Uint8Array): { encoding: Encoding; length: number } | null {
  if (bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf)
    return { encoding: 'utf-8', length: 3 };
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return { encoding: 'utf-16le', length: 2 };
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return { encoding: 'utf-16be', length: 2 };
  return null;
}

function guessUtf16(bytes: Uint8Array): Encoding | null {
  const length = Math.min(bytes.length, 4096);
  let even = 0;
  let odd = 0;
  for (let i = 0; i < length; i++) {
    if (bytes[i] !== 0) continue;
    if (i % 2 === 0) even++;
    else odd++;
  }
  // Latin text in UTF-16 has a zero in most high bytes and none in the low ones.
  if (odd > length / 4 && even < length / 50) return 'utf-16le';
  if (even > length / 4 && odd < length / 50) return 'utf-16be';
  return null;
}

/** Length of the valid UTF-8 sequence that starts at `i` (1 for ASCII), 0 where there is none. */
function sequenceLength(bytes: Uint8Array, i: number): number {
  const lead = bytes[i];
  if (lead < 0x80) return 1;
  if (lead < 0xc2 || lead > 0xf4) return 0;
  const length = lead < 0xe0 ? 2 : lead < 0xf0 ? 3 : 4;
  if (i + length > bytes.length) return 0;
  // Overlong forms, surrogates and code points beyond U+10FFFF show in the second byte.
  const low = lead === 0xe0 ? 0xa0 : lead === 0xf0 ? 0x90 : 0x80;
  const high = lead === 0xed ? 0x9f : lead === 0xf4 ? 0x8f : 0xbf;
  if (bytes[i + 1] < low || bytes[i + 1] > high) return 0;
  for (let k = 2; k < length; k++) if ((bytes[i + k] & 0xc0) !== 0x80) return 0;
  return length;
}

function countUtf8(bytes: Uint8Array): { sequences: number; bad: number } {
  let sequences = 0;
  let bad = 0;
  for (let i = 0; i < bytes.length; ) {
    if (bytes[i] < 0x80) {
      i++;
      continue;
    }
    const length = sequenceLength(bytes, i);
    if (length === 0) bad++;
    else sequences++;
    i += length || 1;
  }
  return { sequences, bad };
}

function decodeUtf8(bytes: Uint8Array, sink: TextSink): void {
  for (let i = 0; i < bytes.length; ) {
    const lead = bytes[i];
    if (lead < 0x80) {
      sink.unit(lead);
      i++;
      continue;
    }
    const length = sequenceLength(bytes, i);
    if (length === 0) sink.replace();
    else if (length === 2) sink.unit(((lead & 0x1f) << 6) | (bytes[i + 1] & 0x3f));
    else if (length === 3)
      sink.unit(((lead & 0x0f) << 12) | ((bytes[i + 1] & 0x3f) << 6) | (bytes[i + 2] & 0x3f));
    else {
      const point =
        ((lead & 0x07) << 18) |
        ((bytes[i + 1] & 0x3f) << 12) |
        ((bytes[i + 2] & 0x3f) << 6) |
        (bytes[i + 3] & 0x3f);
      sink.unit(0xd800 + ((point - 0x10000) >> 10));
      sink.unit(0xdc00 + ((point - 0x10000) & 0x3ff));
    }
    i += length || 1;
  }
}

/** Code points of the bytes 0x80 to 0x9F; the five that the code page leaves empty stay control characters. */
const WINDOWS_1252_HIGH = [
  0x20ac, 0x81, 0x201a, 0x0192, 0x201e, 0x2026, 0x2020, 0x2021, 0x02c6, 0x2030, 0x0160, 0x2039,
  0x0152, 0x8d, 0x017d, 0x8f, 0x90, 0x2018, 0x2019, 0x201c, 0x201d, 0x2022, 0x2013, 0x2014, 0x02dc,
  0x2122, 0x0161, 0x203a, 0x0153, 0x9d, 0x017e, 0x0178,
];

function decodeWindows1252(bytes: Uint8Array, sink: TextSink): void {
  for (const byte of bytes) {
    sink.unit(byte >= 0x80 && byte < 0xa0 ? WINDOWS_1252_HIGH[byte - 0x80] : byte);
  }
}

function decodeUtf16(bytes: Uint8Array, highFirst: 0 | 1, sink: TextSink): void {
  const whole = bytes.length - (bytes.length % 2);
  const unitAt = (i: number): number => bytes[i + highFirst] | (bytes[i + 1 - highFirst] << 8);
  for (let i = 0; i < whole; i += 2) {
    const unit = unitAt(i);
    if (unit < 0xd800 || unit > 0xdfff) {
      sink.unit(unit);
      continue;
    }
    const next = i + 2 < whole ? unitAt(i + 2) : 0;
    if (unit < 0xdc00 && next >= 0xdc00 && next <= 0xdfff) {
      sink.unit(unit);
      sink.unit(next);
      i += 2;
    } else sink.replace();
  }
  if (whole < bytes.length) sink.replace();
}

/** Gathers UTF-16 units in one small buffer, so that a big file is never held as an array of numbers. */
class TextSink {
  unreadable = 0;
  readonly #parts: string[] = [];
  readonly #buffer = new Uint16Array(8192);
  #used = 0;

  unit(value: number): void {
    if (this.#used === this.#buffer.length) this.#flush();
    this.#buffer[this.#used++] = value;
  }

  replace(): void {
    this.unreadable++;
    this.unit(0xfffd);
  }

  text(): string {
    this.#flush();
    return this.#parts.join('');
  }

  #flush(): void {
    const units = this.#buffer.subarray(0, this.#used);
    this.#parts.push(Reflect.apply(String.fromCharCode, null, units) as string);
    this.#used = 0;
  }
}
