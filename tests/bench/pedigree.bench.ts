/**
 * Kernels of lineage against independent baselines, all in one run on one machine: a textbook implementation
 * (Meuwissen & Luo 1992) and C, compiled here where gcc exists. Times are CPU times of the process, all its threads: on
 * a busy machine the wall time says little. Cold = the first run of a fresh process, warm = best of the others.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import {
  type Draw,
  EACH_OWN_SIRE,
  inbreeding,
  meanKinship,
  ONE_SIRE,
  type Paternity,
  type Pedigree,
  pedigreeFromColumns,
  pedigreeLayout,
  relatedness,
} from '@scutewright/pedigree';
import { generate, PLANS, type Population } from './pedigree/generate.js';
import { textbookInbreeding } from './pedigree/textbook.js';

/** Small pedigrees need more rounds until the engine has compiled everything. */
const repetitionsFor = (rows: number): number =>
  rows <= 1000 ? 500 : rows <= 100_000 ? 200 : rows <= 1_000_000 ? 10 : 4;
/** The textbook walks every ancestor of every animal: beyond this it takes minutes. */
const TEXTBOOK_ROWS = 100_000;
const SOLVE_FILE = fileURLToPath(new URL('./pedigree/solve-file.js', import.meta.url));

export function run(): void {
  timeLayouts(); // first: its cold figures are those of a process that has drawn nothing yet
  const folder = mkdtempSync(join(tmpdir(), 'pedigree-bench-'));
  try {
    const hasC = compile(folder, 'per-sire') && compile(folder, 'relatedness');
    if (!hasC) console.log('gcc not found: no ratio to C');
    for (const name of ['program300', 'spread100k', 'spread1m', 'dense1m', 'spread10m'] as const) {
      const population = generate(PLANS[name]);
      const { sire, dam } = population;
      writeFileSync(join(folder, 'rows'), joined([Int32Array.of(sire.length), sire, dam]));
      timeInbreeding(folder, name, population, hasC);
      if (name.endsWith('1m')) timeGroups(folder, name, population, hasC);
      if (name === 'spread100k') timeCandidates(population);
    }
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function timeInbreeding(folder: string, name: string, population: Population, hasC: boolean): void {
  const rows = population.sire.length;
  const runs = repetitionsFor(rows);
  const files = [join(folder, 'rows'), join(folder, 'F'), String(runs)];
  const c = () => (hasC ? timesOf(join(folder, 'per-sire'), files) : []);
  const before = c();
  const kernel = timesOf(process.execPath, [SOLVE_FILE, ...files]);
  const F = doubles(join(folder, 'F'));
  const after = c();
  const warm = least(kernel.slice(1));
  const [[cold, coldWall, peak]] = kernel;
  const parts = [
    `${name} ${rows}: cold ${ms(cold)} (wall ${ms(coldWall)}), warm ${ms(warm)}, peak ${peak} MB`,
  ];
  if (hasC) {
    const seconds = least([...before, ...after]);
    const difference = worst(F, doubles(join(folder, 'F')));
    parts.push(`C ${ms(seconds)}, ${before[0][1]} MB, ratio ${(warm / seconds).toFixed(2)}`);
    parts.push(`worst difference to C ${difference}`);
  }
  if (rows <= TEXTBOOK_ROWS) {
    let expected: Float64Array = new Float64Array(0);
    const textbook = timed(() => {
      expected = textbookInbreeding(population.sire, population.dam);
    }, 2);
    parts.push(`textbook ${ms(textbook.warm)}, ratio ${(warm / textbook.warm).toFixed(3)}`);
    parts.push(`worst difference to textbook ${worst(F, expected)}`);
  }
  console.log(`inbreeding of ${parts.join('; ')}`);
}

/** The same pedigree with two candidates for the sire of nearly every breeder, in both ways. Turn about, so that a busy machine slows all alike. */
function timeCandidates(population: Population): void {
  const certain = pedigreeFromColumns(population);
  const uncertain = [EACH_OWN_SIRE, ONE_SIRE].map((paternity) =>
    withCandidates(certain, paternity),
  );
  const pedigrees = [certain, ...uncertain.map(({ pedigree }) => pedigree)];
  const warm = pedigrees.map(() => Number.POSITIVE_INFINITY);
  for (let round = 0; round < 4; round++) {
    pedigrees.forEach((pedigree, k) => {
      warm[k] = Math.min(warm[k], timed(() => inbreeding({ ...pedigree }), 30).warm);
    });
  }
  uncertain.forEach(({ pedigree, count }, k) => {
    console.log(
      `candidates, ${pedigree.draws[0].paternity.kind}, ${count} clutches uncertain: ${ms(warm[k + 1])}, ratio to certain sires ${(warm[k + 1] / warm[0]).toFixed(2)}`,
    );
  });
}

/** Every breeder of odd row gets as second candidate a sire that is older by construction: the sire of its sire. */
function withCandidates(
  pedigree: Pedigree,
  paternity: Paternity,
): { pedigree: Pedigree; count: number } {
  const sire = pedigree.sire.slice();
  const draws: Draw[] = [];
  const isParent = new Uint8Array(pedigree.size);
  for (let i = 0; i < pedigree.size; i++) {
    if (pedigree.sire[i] >= 0) isParent[pedigree.sire[i]] = 1;
    if (pedigree.dam[i] >= 0) isParent[pedigree.dam[i]] = 1;
  }
  for (let i = 0; i < pedigree.size; i++) {
    const first = pedigree.sire[i];
    const second = first < 0 ? -1 : pedigree.sire[first];
    if (second < 0 || (!isParent[i] && i % 60 !== 0)) continue;
    sire[i] = pedigree.size + draws.length;
    draws.push({
      side: 'SIRE',
      clutch: null,
      candidates: Int32Array.of(first, second),
      probabilities: Float64Array.of(0.75, 0.25),
      paternity,
    });
  }
  return { pedigree: { ...pedigree, sire, draws }, count: draws.length };
}

/** Relatedness among the youngest breeders' age group and its mean kinship, with F known. */
function timeGroups(folder: string, name: string, population: Population, hasC: boolean): void {
  const pedigree = pedigreeFromColumns(population);
  writeFileSync(join(folder, 'F'), joined([inbreeding(pedigree)]));
  const young: number[] = [];
  for (let i = pedigree.size - 1; i >= 0 && young.length < 1000; i--) {
    if (pedigree.dam[i] >= 0 && pedigree.sire[pedigree.sire[i]] >= 0) young.push(i);
  }
  for (const k of [100, 1000]) {
    const group = young.slice(0, k);
    const runs = 20_000 / k;
    writeFileSync(join(folder, 'group'), joined([Int32Array.of(k, ...group)]));
    const files = ['rows', 'F', 'group', 'A'].map((file) => join(folder, file));
    const c = () => (hasC ? timesOf(join(folder, 'relatedness'), [...files, String(runs)]) : []);
    const before = c();
    let A: Float64Array = new Float64Array(0);
    const { warm } = timed(() => {
      A = relatedness(pedigree, group);
    }, runs);
    let line = `relatedness of ${k} in ${name}: ${ms(warm)}`;
    if (hasC) {
      const seconds = least([...before, ...c()]);
      line += `; C ${ms(seconds)}, ratio ${(warm / seconds).toFixed(2)}`;
      line += `; worst difference to C ${worst(A, doubles(join(folder, 'A')))}`;
    }
    console.log(line);
  }
  const kinship = timed(() => meanKinship(pedigree, young), 12);
  console.log(`mean kinship of 1000 in ${name}: ${ms(kinship.warm)}`);
}

function timeLayouts(): void {
  for (const [rows, goal] of [
    [300, 50],
    [1000, 300],
  ] as const) {
    const population = generate({ ...PLANS.program300, rows, newSires: 2, newDams: 4 });
    const pedigree = pedigreeFromColumns(population);
    const ids = Array.from({ length: rows }, (_, i) => i);
    let crossings = 0;
    const { cold, warm } = timed(() => {
      crossings = pedigreeLayout(pedigree, ids).crossings;
    });
    console.log(
      `layout of ${rows}: cold ${ms(cold)}, warm ${ms(warm)} (goal ${goal} ms), ${crossings} crossings`,
    );
  }
}

/** Compiles a reference program; false without gcc. */
function compile(folder: string, name: string): boolean {
  const source = fileURLToPath(new URL(`../../bench/pedigree/${name}.c`, import.meta.url));
  try {
    execFileSync('gcc', ['--version'], { stdio: 'ignore' });
  } catch {
    return false;
  }
  execFileSync('gcc', ['-O3', '-march=native', '-w', '-o', join(folder, name), source]);
  return true;
}

/** The lines of numbers that a program prints, one a run. */
function timesOf(program: string, words: readonly string[]): number[][] {
  const printed = execFileSync(program, words).toString().trim();
  return printed.split('\n').map((line) => line.split(' ').map(Number));
}

/** The least of the first numbers. */
const least = (runs: readonly number[][]): number => Math.min(...runs.map(([seconds]) => seconds));

function doubles(file: string): Float64Array {
  const bytes = readFileSync(file);
  return new Float64Array(bytes.buffer, bytes.byteOffset, bytes.length / 8);
}

function joined(columns: readonly (Int32Array | Float64Array)[]): Buffer {
  return Buffer.concat(
    columns.map(
      ({ buffer, byteOffset, byteLength }) => new Uint8Array(buffer, byteOffset, byteLength),
    ),
  );
}

function timed(act: () => void, repetitions = 5): { cold: number; warm: number } {
  const seconds = Array.from({ length: repetitions }, () => {
    const before = process.cpuUsage();
    act();
    const { user, system } = process.cpuUsage(before);
    return (user + system) / 1e6;
  });
  return { cold: seconds[0], warm: Math.min(...seconds.slice(1)) };
}

function worst(a: Float64Array, b: Float64Array): number {
  let most = 0;
  for (let i = 0; i < a.length; i++) most = Math.max(most, Math.abs(a[i] - b[i]));
  return most;
}

function ms(seconds: number): string {
  return `${(seconds * 1000).toPrecision(3)} ms`;
}
