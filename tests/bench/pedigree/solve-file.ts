/**
 * The library's side of per-sire.c, in a process of its own so that time and memory are of the kernel alone.
 * solve-file FILE OUT RUNS: the same files; prints for each run its CPU seconds, its wall seconds and the peak memory in MB.
 */
import { closeSync, openSync, readSync, writeFileSync } from 'node:fs';
import { inbreeding, pedigreeFromColumns } from '@scutewright/pedigree';

const [file, out, runs] = process.argv.slice(2);
const input = openSync(file, 'r');
const column = (rows: number): Int32Array => {
  const values = new Int32Array(rows);
  readSync(input, values);
  return values;
};
const [rows] = column(1);
const columns = { sire: column(rows), dam: column(rows) };
closeSync(input);
let F: Float64Array = new Float64Array(0);
for (let run = 0; run < Number(runs); run++) {
  const cpu = process.cpuUsage();
  const start = performance.now();
  F = inbreeding(pedigreeFromColumns(columns));
  const wall = (performance.now() - start) / 1000;
  const { user, system } = process.cpuUsage(cpu);
  console.log((user + system) / 1e6, wall, Math.round(process.resourceUsage().maxRSS / 1024));
}
writeFileSync(out, F);
