/**
 * Reading, checking and writing program files of 10,000 and 100,000 animals, beside what splitting the same text
 * with an independent parser takes; then a file of 50 MB, with the memory it needs.
 */
import { readFileSync } from 'node:fs';
import {
  checkProgramFile,
  EMPTY_PROGRAM,
  readProgramFile,
  writeProgramFile,
} from '@scutewright/commands';
import { parse } from 'csv-parse/sync';

const programs = new URL('../../../libs/commands/test/programs/', import.meta.url);
const TODAY = 20_600;

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
  const large = repeated(53);
  globalThis.gc?.();
  const before = process.memoryUsage().rss;
  const read = time(() => readProgramFile(large));
  const check = time(() => checkProgramFile(read.value, EMPTY_PROGRAM, { today: TODAY }));
  const grown = Math.round((process.memoryUsage().rss - before) / 1e6);
  console.log(
    `${(large.length / 1e6).toFixed(0)} MB: ${read.value.rows.length} rows, read ${read.ms} ms, check ${check.ms} ms, ` +
      `${check.value.faults.length} faults, memory grew by ${grown} MB`,
  );
}
