/**
 * Reading, checking and writing program files of 10,000 and 100,000 animals, beside what splitting the same text
 * with an independent parser takes; then a file of 50 MB in pieces, with the memory it needs.
 */
import { readFileSync } from 'node:fs';
import {
  checkProgramFile,
  EMPTY_PROGRAM,
  EncodingGuess,
  ProgramFileReader,
  readProgramFile,
  writeProgramFile,
} from '@scutewright/commands';
import { parse } from 'csv-parse/sync';

const programs = new URL('../../../libs/commands/test/programs/', import.meta.url);
const TODAY = 20_600;
/** As uploads are kept. */
const PIECE = 2 ** 20;

/** The same program several times over, each time with codes of its own. */
function repeated(times: number): Uint8Array {
  const [header, ...body] = readFileSync(new URL('large-10000.csv', programs), 'utf8')
    .trim()
    .split(/\r?\n/);
  const lines = [header];
  for (let k = 0; k < times; k++) {
    for (const line of body)
      lines.push(line.replaceAll('BG-', `B${k}-`).replaceAll(/,C(?=\d)/g, `,C${k}-`));
  }
  return new TextEncoder().encode(`${lines.join('\n')}\n`);
}

function time<Value>(work: () => Value): { value: Value; ms: number } {
  const start = performance.now();
  const value = work();
  return { value, ms: Math.round(performance.now() - start) };
}

export function run(): void {
  for (const times of [1, 10]) {
    const bytes = repeated(times);
    const baseline = time(() => parse(bytes).length);
    const read = time(() => readProgramFile(bytes));
    const check = time(() => checkProgramFile(read.value, EMPTY_PROGRAM, { today: TODAY }));
    const again = time(() =>
      checkProgramFile(
        read.value,
        { ...EMPTY_PROGRAM, animals: read.value.rows },
        { today: TODAY },
      ),
    );
    const write = time(() => writeProgramFile(read.value.rows, { formulaSafe: false }));
    console.log(
      `${read.value.rows.length} animals (${(bytes.length / 1e6).toFixed(1)} MB): read ${read.ms} ms, ` +
        `check ${check.ms} ms, check against itself ${again.ms} ms, write ${write.ms} ms; ` +
        `csv-parse splits ${baseline.value} rows in ${baseline.ms} ms`,
    );
  }
  inPieces();
}

/** A file of 50 MB as an upload is read: piece by piece, twice. Of the memory, what is left once the rows are there. */
function inPieces(): void {
  const large = repeated(53);
  const pieces = Array.from({ length: Math.ceil(large.length / PIECE) }, (_, i) =>
    large.subarray(i * PIECE, (i + 1) * PIECE),
  );
  const held = (): number => {
    globalThis.gc?.();
    return process.memoryUsage().heapUsed / 1e6;
  };
  const before = held();
  const read = time(() => {
    const guess = new EncodingGuess();
    for (const piece of pieces) guess.push(piece);
    const reader = new ProgramFileReader(guess, large.length);
    for (const [i, piece] of pieces.entries()) reader.push(piece, i === pieces.length - 1);
    return reader.file();
  });
  const rows = held() - before;
  const check = time(() => checkProgramFile(read.value, EMPTY_PROGRAM, { today: TODAY }));
  console.log(
    `${(large.length / 1e6).toFixed(0)} MB in pieces: ${read.value.rows.length} rows, read ${read.ms} ms, check ${check.ms} ms, ` +
      `${check.value.faults.length} faults; the rows hold ${Math.round(rows)} MB ` +
      `(${Math.round((rows * 1e6) / read.value.rows.length)} bytes each), the process had at most ${Math.round(process.resourceUsage().maxRSS / 1e3)} MB`,
  );
}
