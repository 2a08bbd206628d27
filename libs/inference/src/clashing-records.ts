import { seededRandom } from '@scutewright/basics';
import { closeUpwards, recordedAnimals } from './close-upwards.js';
import { compileProgram } from './compile-program.js';
import { Evidence } from './evidence.js';
import { allelismCases } from './infer-program.js';
import { layOutBlocks } from './lay-out-blocks.js';
import type { Program } from './program.js';
import { planNetwork, totalOfPlanned } from './solve-network.js';

export interface Clashes {
  /** Smallest sets of records (positions, ascending) that cannot all be true; each is harmless without any one of its records. */
  readonly sets: readonly (readonly number[])[];
  /** False when the search stopped at its bound and there may be more sets. */
  readonly complete: boolean;
}

/** Nodes of the search at most: each costs one solution of the program without tables, or a few. */
const MOST_NODES = 400;

/**
 * All smallest sets of clashing records. One set by halving (Junker 2004, QuickXplain, AAAI: 167), all of them by the tree of
 * hitting sets (Reiter 1987, Artificial Intelligence 32:57, doi 10.1016/0004-3702(87)90062-2). `most` sets are listed at most.
 */
export function clashingRecords(program: Program, most = 50): Clashes {
  const oracle = new Oracle(program);
  const everything = program.records.map((_, record) => record);
  const sets: number[][] = [];
  if (oracle.possible(everything)) return { sets, complete: true };
  const removedSets = new Set<string>(['']);
  const queue: number[][] = [[]];
  for (let node = 0; node < queue.length; node++) {
    if (node >= MOST_NODES) return { sets: sortSets(sets), complete: false };
    const removed = queue[node];
    let clash = sets.find((set) => !set.some((record) => removed.includes(record)));
    if (!clash) {
      const rest = everything.filter((record) => !removed.includes(record));
      if (oracle.possible(rest)) continue;
      clash = smallestClash(oracle, rest);
      // A program that cannot be, whatever the records, is a fault of its parents and base frequencies.
      sets.push(clash);
      if (sets.length >= most) return { sets: sortSets(sets), complete: false };
    }
    for (const record of clash) {
      const next = [...removed, record].sort((a, b) => a - b);
      const key = next.join();
      if (removedSets.has(key)) continue;
      removedSets.add(key);
      queue.push(next);
    }
  }
  return { sets: sortSets(sets), complete: true };
}

function sortSets(sets: number[][]): number[][] {
  return sets.sort((a, b) => a.length - b.length || compareLists(a, b));
}

function compareLists(a: readonly number[], b: readonly number[]): number {
  for (const [i, value] of a.entries()) if (value !== b[i]) return value - b[i];
  return 0;
}

/** Whether records can all be true, of one program, asked many times. */
class Oracle {
  private readonly cases: readonly Evidence[];

  constructor(private readonly program: Program) {
    this.cases = allelismCases(program).map(
      ({ oneGene }) => new Evidence(program, layOutBlocks(program, oneGene)),
    );
  }

  possible(records: readonly number[]): boolean {
    const without = new Uint8Array(this.program.records.length).fill(1);
    for (const record of records) without[record] = 0;
    const part = { ...this.program, records: this.program.records.filter((_, i) => !without[i]) };
    const include = closeUpwards(this.program, recordedAnimals(part));
    return this.cases.some((evidence) => {
      const settings = { include, without, soft: 0, jointSires: false };
      const compiled = compileProgram(this.program, evidence, settings);
      if (compiled.logConstant === Number.NEGATIVE_INFINITY) return false;
      const planned = planNetwork(compiled.network, seededRandom(1), 2);
      return totalOfPlanned(planned) > Number.NEGATIVE_INFINITY;
    });
  }
}

/** One smallest clashing set among records that clash. */
function smallestClash(oracle: Oracle, records: readonly number[]): number[] {
  const explain = (
    background: readonly number[],
    changed: boolean,
    open: readonly number[],
  ): number[] => {
    if (changed && !oracle.possible(background)) return [];
    if (open.length === 1) return [...open];
    const half = open.length >> 1;
    const [first, second] = [open.slice(0, half), open.slice(half)];
    const fromSecond = explain([...background, ...first], true, second);
    const fromFirst = explain([...background, ...fromSecond], fromSecond.length > 0, first);
    return [...fromFirst, ...fromSecond];
  };
  return explain([], false, records).sort((a, b) => a - b);
}
