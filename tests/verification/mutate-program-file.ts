import { parsePartialDate, type Random } from '@scutewright/basics';
import {
  checkProgramFile,
  EMPTY_PROGRAM,
  MOST_BYTES,
  readProgramFile,
  writeProgramFile,
} from '@scutewright/commands';

const TODAY = parsePartialDate('2026-06-01')!.earliest;

/** Pieces that have hurt readers of tables before: quotes, line ends, formulas, other scripts, half characters. */
const NASTY = [
  ...['"', '""', ',', ';', '\t', '|', ':', '\n', '\r', '\r\n', '\0', '=1+1', '+', '-', '@', "'"],
  ...[
    '\uFEFF',
    '\uD800',
    '\u202E',
    '\u00A0',
    '\u200B',
    '♀',
    '🐢',
    'é',
    'O',
    'l',
    '0',
    '1e308',
    '-0',
  ],
  ...['NaN', 'Infinity', '99999', '31-02-2011', '2035-01-01', 'none', 'none;none', '=/', 'a=b/c/d'],
  ...['A:0.5|B', '|||', '__proto__', 'constructor', ' ', '~', 'x'.repeat(300), '0 0 0 0 1 2'],
];

/** A copy of the lines in which every line is changed in one to three places. */
export function mutateLines(lines: readonly string[], random: Random): string[] {
  return lines.map((line) => {
    let mutated = line;
    for (let times = 1 + random.below(3); times > 0; times--)
      mutated = mutate(mutated, lines, random);
    return mutated;
  });
}

function mutate(line: string, lines: readonly string[], random: Random): string {
  const at = random.below(line.length + 1);
  const to = Math.min(line.length, at + random.below(8));
  const cells = line.split(',');
  const cell = random.below(cells.length);
  const piece = NASTY[random.below(NASTY.length)];
  switch (random.below(8)) {
    case 0:
      return line.slice(0, at) + line.slice(to);
    case 1:
      return line.slice(0, at) + piece + line.slice(at);
    case 2:
      return cells.with(cell, piece).join(',');
    case 3:
      return cells.with(cell, lines[random.below(lines.length)].split(',')[cell] ?? '').join(',');
    case 4:
      return cells.toSpliced(cell, 1).join(',');
    case 5:
      return cells.toSpliced(cell, 0, piece).join(',');
    case 6:
      return line.slice(0, at) + String.fromCharCode(random.below(0x10000)) + line.slice(at);
    default:
      return lines[random.below(lines.length)];
  }
}

/** Text as bytes in an encoding by chance, sometimes with a few bytes spoiled. */
export function encodeSomehow(text: string, random: Random): Uint8Array {
  const way = random.below(5);
  let bytes: Uint8Array = new TextEncoder().encode(text);
  if (way === 0) bytes = new Uint8Array(Buffer.from(`\uFEFF${text}`, 'utf16le'));
  if (way === 1) bytes = new Uint8Array(Buffer.from(text, 'latin1'));
  if (way === 2) bytes = Uint8Array.of(0xef, 0xbb, 0xbf, ...bytes);
  if (way === 3) for (let i = 0; i < 3; i++) bytes[random.below(bytes.length)] = random.below(256);
  return bytes;
}

/**
 * What must hold of any bytes: reading and checking answer, with rows or with faults; every row is fit to be stored;
 * and a file that could be read whole is written to one that reads back to the same animals. Throws the broken promise.
 */
export function holdPromises(bytes: Uint8Array): {
  rows: number;
  faults: number;
  isReadable: boolean;
} {
  const file = readProgramFile(bytes);
  const check = checkProgramFile(file, EMPTY_PROGRAM, { today: TODAY });
  const promise = (holds: boolean, what: string): void => {
    if (!holds) throw new Error(what);
  };
  promise(bytes.length <= MOST_BYTES, 'the file is of a size to be read');
  promise(file.rows.length > 0 || check.faults.length > 0, 'neither rows nor faults');
  for (const fault of check.faults) {
    promise(fault.message !== '' && fault.remedy !== '', `${fault.code} says nothing`);
    promise(fault.line >= 0 && Number.isInteger(fault.line), `${fault.code} has no line`);
  }
  for (const row of file.rows) {
    promise(/^[^|:;,\n\r\t]{1,60}$/.test(row.code), `the code ${row.code}`);
    // PostgreSQL stores no NUL in a text.
    promise(!JSON.stringify(row).includes('\\u0000'), `a NUL in ${row.code}`);
    for (const parents of [row.sires, row.dams]) {
      const sum = parents.reduce((total, { probability }) => total + (probability ?? 0), 0);
      promise(sum <= 1 + 1e-9, `a sum of ${sum} in ${row.code}`);
    }
    for (const value of [row.sclMm, row.massG]) {
      promise(value === null || (value > 0 && value < 1e9), `the number ${value} in ${row.code}`);
    }
  }
  const isReadable = !file.faults.hasFatal;
  if (isReadable) {
    const text = writeProgramFile(file.rows, { formulaSafe: false });
    const again = readProgramFile(new TextEncoder().encode(text));
    const withoutLines = (rows: typeof file.rows): string =>
      JSON.stringify(rows.map((row) => ({ ...row, line: 0 })));
    promise(withoutLines(again.rows) === withoutLines(file.rows), 'not the same animals again');
  }
  return { rows: file.rows.length, faults: check.faults.length, isReadable };
}

/** Mutates `rows` rows in files of 1 to `most` lines; answers what came of them, or throws with the file that broke a promise. */
export function fuzz(
  lines: readonly string[],
  rows: number,
  most: number,
  random: Random,
): { files: number; rowsRead: number; faults: number; readable: number } {
  const total = { files: 0, rowsRead: 0, faults: 0, readable: 0 };
  const [header, ...body] = lines;
  for (let done = 0; done < rows; total.files++) {
    const count = Math.min(rows - done, 1 + random.below(most));
    const from = random.below(body.length);
    const chosen = Array.from({ length: count }, (_, i) => body[(from + i) % body.length]);
    // In small files all rows may stay sound, so that writing back is tried as well.
    const changed =
      random.below(4) === 0
        ? [...chosen.slice(1), ...mutateLines(chosen.slice(0, 1), random)]
        : mutateLines(chosen, random);
    const head = random.below(10) === 0 ? mutateLines([header], random)[0] : header;
    const bytes = encodeSomehow([head, ...changed].join('\n'), random);
    try {
      const { rows: read, faults, isReadable } = holdPromises(bytes);
      total.rowsRead += read;
      total.faults += faults;
      if (isReadable) total.readable++;
    } catch (error) {
      throw new Error(`${error}\nin the file ${JSON.stringify(Buffer.from(bytes).toString())}`);
    }
    done += count;
  }
  return total;
}
