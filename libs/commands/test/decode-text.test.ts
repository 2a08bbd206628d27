import { describe, expect, it } from '@jest/globals';
import fc from 'fast-check';
import {
  decodeText,
  type Encoding,
  EncodingGuess,
  TextPieces,
} from '../dist/program-file/decode-text.js';

// The outside check: the decoder of the platform, which follows the WHATWG Encoding Standard.
const platform = (bytes: Uint8Array, encoding: string): string =>
  new TextDecoder(encoding).decode(bytes);

const once = (text: string): string => text.replace(/\uFFFD+/g, '\uFFFD');

function utf16(text: string, isBigEndian: boolean): Uint8Array {
  const bytes = new Uint8Array(text.length * 2);
  const view = new DataView(bytes.buffer);
  for (let i = 0; i < text.length; i++) view.setUint16(i * 2, text.charCodeAt(i), !isBigEndian);
  return bytes;
}

const joined = (...parts: (number[] | Uint8Array)[]): Uint8Array =>
  Uint8Array.from(parts.flatMap((part) => [...part]));

describe('decodeText', () => {
  it('reads valid text as the platform does, in all four encodings', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 200 }), (text) => {
        const plain = text.replace(/^\uFEFF/, '');
        expect(decodeText(new TextEncoder().encode(plain), 'utf-8').text).toBe(plain);
        expect(decodeText(utf16(plain, false), 'utf-16le').text).toBe(plain);
        expect(decodeText(utf16(plain, true), 'utf-16be').text).toBe(plain);
      }),
    );
  });

  it('reads each byte of Windows-1252 by the published index', () => {
    // WHATWG Encoding Standard, index windows-1252, bytes 80 to 9F; the five holes are control characters there.
    // Not compared with the platform: some releases of Node decode this label as Latin-1.
    const high = '€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f' + '\u0090‘’“”•–—˜™š›œ\u009džŸ';
    const bytes = Uint8Array.from({ length: 256 }, (_, i) => i);
    const { text } = decodeText(bytes, 'windows-1252');
    expect(text.slice(0x80, 0xa0)).toBe(high);
    const latin1 = (from: number, to: number): string =>
      String.fromCharCode(...bytes.subarray(from, to));
    expect(text.slice(0, 0x80)).toBe(latin1(0, 0x80));
    expect(text.slice(0xa0)).toBe(latin1(0xa0, 0x100));
  });

  it('reads any bytes as UTF-8 up to how many marks stand for what cannot be read', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 60 }), (bytes) => {
        if (bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf) return;
        expect(once(decodeText(bytes, 'utf-8').text)).toBe(once(platform(bytes, 'utf-8')));
      }),
      { numRuns: 2_000 },
    );
  });

  it('reads any bytes as UTF-16 as the platform does', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 60 }), (bytes) => {
        const isMarked = bytes[0] === 0xff && bytes[1] === 0xfe;
        if (isMarked) return;
        expect(once(decodeText(bytes, 'utf-16le').text)).toBe(once(platform(bytes, 'utf-16le')));
      }),
      { numRuns: 2_000 },
    );
  });

  const found = (bytes: Uint8Array): { encoding: Encoding; text: string } => {
    const { encoding, text } = decodeText(bytes);
    return { encoding, text };
  };
  const text = 'code;name\nA-1;Kröte';

  it('drops a byte-order mark and believes it', () => {
    const encoded = new TextEncoder().encode(text);
    expect(found(joined([0xef, 0xbb, 0xbf], encoded))).toEqual({ encoding: 'utf-8', text });
    expect(found(joined([0xff, 0xfe], utf16(text, false)))).toEqual({ encoding: 'utf-16le', text });
    expect(found(joined([0xfe, 0xff], utf16(text, true)))).toEqual({ encoding: 'utf-16be', text });
  });

  it('finds the encoding without a mark', () => {
    expect(found(new TextEncoder().encode(text)).encoding).toBe('utf-8');
    expect(found(utf16(text, false))).toEqual({ encoding: 'utf-16le', text });
    expect(found(utf16(text, true))).toEqual({ encoding: 'utf-16be', text });
    const western = Uint8Array.from(text, (letter) => letter.charCodeAt(0));
    expect(found(western)).toEqual({ encoding: 'windows-1252', text });
  });

  it('keeps UTF-8 where a single byte among many letters is broken, and says so', () => {
    const broken = joined(new TextEncoder().encode('ä ö ü é '), [0xff]);
    expect(decodeText(broken)).toEqual({
      text: 'ä ö ü é \uFFFD',
      encoding: 'utf-8',
      hasUnreadable: true,
    });
  });

  it('reads any bytes in pieces as it reads them whole, wherever they are cut', () => {
    const cuts = fc.array(fc.nat(60), { maxLength: 8 });
    const bytes = fc.oneof(
      fc.uint8Array({ maxLength: 60 }),
      fc.string({ unit: 'binary', maxLength: 30 }).map((text) => new TextEncoder().encode(text)),
      fc.string({ unit: 'binary', maxLength: 30 }).map((text) => utf16(text, true)),
    );
    const asked = fc.constantFrom<Encoding | undefined>(
      undefined,
      'utf-8',
      'utf-16le',
      'utf-16be',
      'windows-1252',
    );
    fc.assert(
      fc.property(bytes, cuts, asked, (all, at, encoding) => {
        // The first bytes tell a mark and UTF-16: the first piece of a real file is a megabyte.
        const ends = [...new Set([...at.map((cut) => Math.max(cut, 4)), all.length])].sort(
          (a, b) => a - b,
        );
        const whole = decodeText(all, encoding);
        const pieces = new TextPieces(whole.encoding);
        const guess = new EncodingGuess();
        let text = '';
        let from = 0;
        for (const end of ends.filter((end) => end <= all.length)) {
          guess.push(all.subarray(from, end));
          text += pieces.push(all.subarray(from, end), end === all.length);
          from = end;
        }
        expect(text).toBe(whole.text);
        expect(pieces.hasUnreadable).toBe(whole.hasUnreadable);
        // Which zeros the first piece shows is chance here; UTF-8 or not is decided by all of it.
        if (!encoding && !whole.encoding.startsWith('utf-16') && !all.includes(0)) {
          expect(guess.encoding()).toBe(whole.encoding);
        }
      }),
      { numRuns: 1000 },
    );
  });
});
