/**
 * Kernels of lineage against independent baselines, all in one run on one machine: a textbook implementation
 * (Meuwissen & Luo 1992) and C, one sire at a time, compiled here where gcc exists.
 * Warm = best of the repetitions after the first, cold = the first.
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
const repetitionsFor = (rows: number): number => (rows <= 100_000 ? 40 : 5);
/** The textbook walks every ancestor of every animal: beyond this it takes minutes. */
const TEXTBOOK_ROWS = 100_000;

export function run(): void {
  const folder = mkdtempSync(join(tmpdir(), 'pedigree-bench-'));
  try {
    const c = compile(folder);
    if (!c) console.log('gcc not found: no ratio to C');
    console.log(
      'inbreeding: rows, cold and warm ms, ratio to C per sire, ratio to textbook, worst difference',
    );
    for (const name of ['program300', 'spread100k', 'spread1m', 'dense1m', 'spread10m'] as const) {
      timeInbreeding(name, generate(PLANS[name]), c);
    }
    timeCandidates(generate(PLANS.spread100k));
    timeGroups(generate(PLANS.spread1m), 'spread1m');
    timeGroups(generate(PLANS.dense1m), 'dense1m');
    timeLayouts();
  } finally {
    rmSync(folder, { recursive: true });
  }
}

interface Reference {
  readonly seconds: number;
  readonly F: Float64Array;
}

function timeInbreeding(
  name: string,
  population: Population,
  c: ((population: Population) => Reference) | null,
): void {
  const rows = population.sire.length;
  let F: Float64Array = new Float64Array(0);
  const { cold, warm } = timed(() => {
    F = inbreeding(pedigreeFromColumns(population));
  }, repetitionsFor(rows));
  const memory = Math.round(process.memoryUsage().rss / 2 ** 20);
  const parts = [`${name} ${rows}: cold ${ms(cold)}, warm ${ms(warm)}, process ${memory} MB`];
  const reference = c?.(population);
  if (reference) {
    parts.push(`C ${ms(reference.seconds)}, ratio ${(warm / reference.seconds).toFixed(2)}`);
    parts.push(`worst difference to C ${worst(F, reference.F)}`);
  }
  if (rows <= TEXTBOOK_ROWS) {
    let expected: Float64Array = new Float64Array(0);
    const textbook = timed(() => {
      expected = textbookInbreeding(population.sire, population.dam);
    }, 2);
    parts.push(`textbook ${ms(textbook.warm)}, ratio ${(warm / textbook.warm).toFixed(3)}`);
    parts.push(`worst difference to textbook ${worst(F, expected)}`);
  }
  console.log(parts.join('; '));
}

/** The same pedigree with two candidates for the sire of every tenth sire family, in both ways. */
function timeCandidates(population: Population): void {
  const certain = pedigreeFromColumns(population);
  const plain = timed(() => inbreeding({ ...certain }), 40).warm;
  for (const paternity of [EACH_OWN_SIRE, ONE_SIRE]) {
    const { pedigree, count } = withCandidates(certain, paternity);
    const { warm } = timed(() => inbreeding({ ...pedigree }), 40);
    console.log(
      `candidates, ${paternity.kind}, ${count} clutches uncertain: ${ms(warm)}, ratio to certain sires ${(warm / plain).toFixed(2)}`,
    );
  }
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
function timeGroups(population: Population, name: string): void {
  const pedigree = pedigreeFromColumns(population);
  inbreeding(pedigree);
  const young: number[] = [];
  for (let i = pedigree.size - 1; i >= 0 && young.length < 1000; i--) {
    if (pedigree.dam[i] >= 0 && pedigree.sire[pedigree.sire[i]] >= 0) young.push(i);
  }
  for (const k of [100, 1000]) {
    const group = young.slice(0, k);
    console.log(
      `relatedness of ${k} in ${name}: ${ms(timed(() => relatedness(pedigree, group)).warm)}`,
    );
  }
  console.log(
    `mean kinship of 1000 in ${name}: ${ms(timed(() => meanKinship(pedigree, young)).warm)}`,
  );
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

/** Runs the reference program on a population; null without gcc. */
function compile(folder: string): ((population: Population) => Reference) | null {
  const program = join(folder, 'per-sire');
  const source = fileURLToPath(new URL('../../bench/pedigree/per-sire.c', import.meta.url));
  try {
    execFileSync('gcc', ['--version'], { stdio: 'ignore' });
  } catch {
    return null;
  }
  execFileSync('gcc', ['-O3', '-march=native', '-o', program, source]);
  return ({ sire, dam }) => {
    const input = join(folder, 'rows');
    const output = join(folder, 'F');
    writeFileSync(input, Buffer.concat([Int32Array.of(sire.length), sire, dam].map(bytes)));
    const printed = execFileSync(program, [
      input,
      output,
      String(repetitionsFor(sire.length)),
    ]).toString();
    const seconds = printed.trim().split('\n').slice(1).map(Number);
    const F = new Float64Array(sire.length);
    bytes(F).set(readFileSync(output));
    return { seconds: Math.min(...seconds), F };
  };
}

function bytes(column: Int32Array | Float64Array): Uint8Array {
  return new Uint8Array(column.buffer, column.byteOffset, column.byteLength);
}

function timed(act: () => void, repetitions = 5): { cold: number; warm: number } {
  const seconds = Array.from({ length: repetitions }, () => {
    const start = performance.now();
    act();
    return (performance.now() - start) / 1000;
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
