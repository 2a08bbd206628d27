import { crc32 } from 'node:zlib';

/** A picture without what the camera wrote into it beside the picture. */
export interface StrippedPicture {
  readonly type: 'image/jpeg' | 'image/png' | 'image/webp';
  readonly bytes: Uint8Array<ArrayBuffer>;
}

/**
 * Takes place, time, camera, thumbnails and whatever else stands beside the picture out of a JPEG, PNG or WebP file,
 * and what follows its end. Kept are colour profiles, and of Exif the orientation alone, without which the picture
 * would lie on its side. The pixels are not touched. Null where the bytes are no such file, or not a whole one.
 * Cost: linear. Sources: ITU-T T.81 (JPEG, annex B), W3C PNG third edition, RFC 9649 (WebP), CIPA DC-008 (Exif).
 */
export function stripPicture(bytes: Uint8Array): StrippedPicture | null {
  const view = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  try {
    if (view.readUInt16BE(0) === 0xffd8) return whole('image/jpeg', jpegParts(view));
    if (view.readBigUInt64BE(0) === PNG) return whole('image/png', pngParts(view));
    const isWebp = ascii(view, 0, 4) === 'RIFF' && ascii(view, 8, 12) === 'WEBP';
    return isWebp ? whole('image/webp', webpParts(view)) : null;
  } catch (error) {
    // A length that leads out of the file.
    if (error instanceof RangeError) return null;
    throw error;
  }
}

const PNG = 0x89504e470d0a1a0an;

function whole(type: StrippedPicture['type'], parts: Buffer[] | null): StrippedPicture | null {
  return parts && { type, bytes: Uint8Array.from(Buffer.concat(parts)) };
}

function ascii(bytes: Buffer, from: number, to: number): string {
  return bytes.toString('latin1', from, to);
}

/** Part of the file; a RangeError where it is not all there. */
function part(bytes: Buffer, from: number, to: number): Buffer {
  if (to > bytes.length) throw new RangeError('the file ends before its part does');
  return bytes.subarray(from, to);
}

function jpegParts(bytes: Buffer): Buffer[] | null {
  const parts = [bytes.subarray(0, 2)];
  let hasPicture = false;
  let position = 2;
  for (;;) {
    if (bytes.readUInt8(position) !== 0xff) return null;
    const marker = bytes.readUInt8(position + 1);
    // Any number of 0xFF may stand before a marker.
    if (marker === 0xff) {
      position++;
      continue;
    }
    if (marker === 0xd9) {
      parts.push(bytes.subarray(position, position + 2));
      return hasPicture ? parts : null;
    }
    const end = position + 2 + bytes.readUInt16BE(position + 2);
    const segment = part(bytes, position, end);
    const kept = jpegSegment(segment, marker);
    if (kept) parts.push(kept);
    position = end;
    if (marker !== 0xda) continue;
    // The coded picture goes on to the next marker that is neither a stuffed zero nor a restart.
    hasPicture = true;
    let at = position;
    for (;;) {
      at = bytes.indexOf(0xff, at);
      if (at < 0) return null;
      const next = bytes.readUInt8(at + 1);
      if (next !== 0 && !(next >= 0xd0 && next <= 0xd7)) break;
      at += 2;
    }
    parts.push(bytes.subarray(position, at));
    position = at;
  }
}

function jpegSegment(segment: Buffer, marker: number): Buffer | null {
  const is = (name: string): boolean => ascii(segment, 4, 4 + name.length) === name;
  // Comments, and APP0 to APP15.
  if (marker === 0xfe) return null;
  if (marker < 0xe0 || marker > 0xef) return segment;
  if (marker === 0xee || (marker === 0xe2 && is('ICC_PROFILE\0'))) return segment;
  if (marker === 0xe0 && is('JFIF\0')) {
    // Without the small picture that may be in it.
    const head = Buffer.from(part(segment, 0, 18));
    head.writeUInt16BE(16, 2);
    head.writeUInt16BE(0, 16);
    return head;
  }
  if (marker !== 0xe1 || !is('Exif\0\0')) return null;
  const exif = orientationAlone(segment.subarray(10));
  if (!exif) return null;
  const head = Buffer.from([0xff, 0xe1, 0, 0, ...Buffer.from('Exif\0\0', 'latin1')]);
  head.writeUInt16BE(8 + exif.length, 2);
  return Buffer.concat([head, exif]);
}

/** Exif that says nothing but how the picture is turned; null where it is not. */
function orientationAlone(tiff: Buffer): Buffer | null {
  const isLittle = ascii(tiff, 0, 2) === 'II';
  if (!isLittle && ascii(tiff, 0, 2) !== 'MM') return null;
  const word = (at: number): number => (isLittle ? tiff.readUInt16LE(at) : tiff.readUInt16BE(at));
  try {
    const first = isLittle ? tiff.readUInt32LE(4) : tiff.readUInt32BE(4);
    for (let i = 0; i < word(first); i++) {
      const entry = first + 2 + 12 * i;
      if (word(entry) !== 0x0112) continue;
      const turned = word(entry + 8);
      if (turned < 2 || turned > 8) return null;
      // One entry: tag 0x0112, one short.
      return Buffer.from([
        ...[0x4d, 0x4d, 0, 42, 0, 0, 0, 8, 0, 1],
        ...[0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, turned, 0, 0, 0, 0, 0, 0],
      ]);
    }
  } catch (error) {
    // Damaged Exif says nothing about the picture.
    if (!(error instanceof RangeError)) throw error;
  }
  return null;
}

const PNG_KEPT = ['IHDR', 'PLTE', 'IDAT', 'IEND', 'tRNS', 'gAMA', 'cHRM', 'sRGB', 'iCCP', 'sBIT'];

function pngParts(bytes: Buffer): Buffer[] | null {
  const parts = [bytes.subarray(0, 8)];
  const names = new Set<string>();
  for (let position = 8; ; ) {
    const length = bytes.readUInt32BE(position);
    const name = ascii(bytes, position + 4, position + 8);
    const end = position + 12 + length;
    const chunk = part(bytes, position, end);
    names.add(name);
    if (PNG_KEPT.includes(name)) parts.push(chunk);
    const exif = name === 'eXIf' ? orientationAlone(chunk.subarray(8, -4)) : null;
    if (exif) parts.push(pngChunk('eXIf', exif));
    position = end;
    if (name === 'IEND') return names.has('IHDR') && names.has('IDAT') ? parts : null;
  }
}

function pngChunk(name: string, data: Buffer): Buffer {
  const chunk = Buffer.concat([
    Buffer.alloc(4),
    Buffer.from(name, 'latin1'),
    data,
    Buffer.alloc(4),
  ]);
  chunk.writeUInt32BE(data.length, 0);
  chunk.writeUInt32BE(crc32(chunk.subarray(4, -4)), chunk.length - 4);
  return chunk;
}

const WEBP_KEPT = ['VP8 ', 'VP8L', 'VP8X', 'ALPH', 'ICCP', 'ANIM', 'ANMF'];
const HAS_EXIF = 0x08;
const HAS_XMP = 0x04;

function webpParts(bytes: Buffer): Buffer[] | null {
  const end = 8 + bytes.readUInt32LE(4);
  const file = part(bytes, 0, end);
  const head = Buffer.from(file.subarray(0, 12));
  const parts: Buffer[] = [head];
  let extended: Buffer | null = null;
  let hasPicture = false;
  for (let position = 12; position < end; ) {
    const name = ascii(file, position, position + 4);
    const length = file.readUInt32LE(position + 4);
    // A chunk of odd length is followed by a byte that is none of it.
    const next = position + 8 + length + (length % 2);
    const chunk = part(file, position, next);
    if (name === 'VP8X') {
      extended = Buffer.from(chunk);
      extended.writeUInt8(extended.readUInt8(8) & ~(HAS_EXIF | HAS_XMP), 8);
      parts.push(extended);
    } else if (WEBP_KEPT.includes(name)) parts.push(chunk);
    hasPicture ||= name === 'VP8 ' || name === 'VP8L' || name === 'ANMF';
    const exif = name === 'EXIF' ? orientationAlone(exifBody(chunk, length)) : null;
    if (exif && extended) {
      const name = Buffer.from('EXIF\0\0\0\0', 'latin1');
      name.writeUInt32LE(exif.length, 4);
      parts.push(name, exif);
      extended.writeUInt8(extended.readUInt8(8) | HAS_EXIF, 8);
    }
    position = next;
  }
  head.writeUInt32LE(parts.reduce((sum, { length }) => sum + length, 0) - 8, 4);
  return hasPicture ? parts : null;
}

/** Some programs write the name that JPEG asks for into WebP too. */
function exifBody(chunk: Buffer, length: number): Buffer {
  const body = chunk.subarray(8, 8 + length);
  return ascii(body, 0, 6) === 'Exif\0\0' ? body.subarray(6) : body;
}
