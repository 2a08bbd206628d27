import { seededRandom } from '@scutewright/basics';
import { closeUpwards, recordedAnimals } from './close-upwards.js';
import { compileProgram } from './compile-program.js';
import { Evidence } from './evidence.js';
import { allelismCases } from './infer-program.js';
import { layOutBlocks } from './lay-out-blocks.js';
import { byNearness } from './nearest-records.js';
import type { Program } from './program.js';
import { planNetwork, totalOfPlanned } from './solve-network.js';

export interface Clashes {
  /**
   * Smallest sets of records (positions, ascending) that cannot all be true; each is harmless without any one of its records. Without
   * the records of all sets the others can be true, unless `most` cut the list short.
   */
  readonly sets: readonly (readonly number[])[];
  /** False when the search stopped at its bound and there may be more sets. */
  readonly complete: boolean;
}

/** Nodes of the search for sets that overlap, at most: each costs one solution of the program without tables. */
const MOST_NODES = 400;
/** The same as animals looked at, so that a large program waits no longer than a small one. */
const MOST_ANIMALS = 30_000;
/** Where more table entries would be needed, only what single families rule out is found. */
const MOST_ENTRIES = 2 ** 22;

/**
 * The smallest sets of clashing records, `most` at most. First sets that share no record, until the rest can be true; then, by the
 * tree of hitting sets (Reiter 1987, Artificial Intelligence 32:57, doi 10.1016/0004-3702(87)90062-2), those that overlap them. One
 * set is found by halving (Junker 2004, QuickXplain, AAAI: 167) among the records nearest to the animal that was left without a genotype.
 */
export function clashingRecords(program: Program, most = Number.POSITIVE_INFINITY): Clashes {
  const oracle = new Oracle(program);
  const everything = program.records.map((_, record) => record);
  const sets: number[][] = [];
  let rest = everything;
  while (!oracle.possible(rest)) {
    if (sets.length >= most) return { sets: sortSets(sets), complete: false };
    const clash = smallestClash(oracle, program, rest);
    sets.push(clash);
    // A program that cannot be, whatever the records, is a fault of its parents and base frequencies.
    if (clash.length === 0) return { sets, complete: true };
    rest = rest.filter((record) => !clash.includes(record));
  }
  if (sets.length === 0) return { sets, complete: oracle.isSure };
  const complete = addOverlapping(oracle, program, sets, most);
  return { sets: sortSets(sets), complete: complete && oracle.isSure };
}

/** Every way to take a record out of each set found so far shows whether another set is left. Answers whether all were tried. */
function addOverlapping(oracle: Oracle, program: Program, sets: number[][], most: number): boolean {
  const nodes = Math.min(MOST_NODES, Math.ceil(MOST_ANIMALS / program.sex.length));
  const removedSets = new Set<string>(['']);
  const queue: number[][] = [[]];
  for (let node = 0; node < queue.length; node++) {
    if (node >= nodes) return false;
    const removed = queue[node];
    let clash = sets.find((set) => !set.some((record) => removed.includes(record)));
    if (!clash) {
      const rest = [...program.records.keys()].filter((record) => !removed.includes(record));
      if (oracle.possible(rest)) continue;
      if (sets.length >= most) return false;
      clash = smallestClash(oracle, program, rest);
      sets.push(clash);
    }
    for (const record of clash) {
      const next = [...removed, record].sort((a, b) => a - b);
      const key = next.join();
      if (removedSets.has(key)) continue;
      removedSets.add(key);
      queue.push(next);
    }
  }
  return true;
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
  /** False once a part was too large to be solved, and taken as possible. */
  isSure = true;
  /** The animal that was left without a genotype when it last said no, where that is known. */
  emptied: number | null = null;
  private readonly cases: readonly Evidence[];

  constructor(private readonly program: Program) {
    this.cases = allelismCases(program).map(
      ({ oneGene }) => new Evidence(program, layOutBlocks(program, oneGene)),
    );
  }

  possible(records: readonly number[]): boolean {
    this.emptied = null;
    const without = new Uint8Array(this.program.records.length).fill(1);
    for (const record of records) without[record] = 0;
    const part = { ...this.program, records: this.program.records.filter((_, i) => !without[i]) };
    const include = closeUpwards(this.program, recordedAnimals(part));
    return this.cases.some((evidence) => {
      const settings = { include, without, soft: 0, jointSires: false };
      const compiled = compileProgram(this.program, evidence, settings);
      if (compiled.logConstant === Number.NEGATIVE_INFINITY) return false;
      const planned = planNetwork(compiled.network, seededRandom(1), 1, MOST_ENTRIES);
      const { possible, kept } = planned.reduced;
      if (!possible) {
        const empty = compiled.readers.find(
          (reader) => reader.kind === 'variable' && kept[reader.variable].length === 0,
        );
        this.emptied = empty?.animal ?? null;
        return false;
      }
      if (planned.plan.entries > MOST_ENTRIES) {
        this.isSure = false;
        return true;
      }
      return totalOfPlanned(planned) > Number.NEGATIVE_INFINITY;
    });
  }
}

/** Records looked at first around an animal that was left without a genotype; then twice as many, and so on. */
const FIRST_NEAR = 16;

/** One smallest clashing set among records that clash, as the oracle has just said of them. */
function smallestClash(oracle: Oracle, program: Program, records: readonly number[]): number[] {
  const from = oracle.emptied;
  const open = from === null ? records : nearestClash(oracle, program, records, from);
  return smallestOf(oracle, open);
}

/** So many of the records nearest to an animal that they clash. */
function nearestClash(
  oracle: Oracle,
  program: Program,
  records: readonly number[],
  animal: number,
): readonly number[] {
  const asked = new Set(records);
  const nearest = byNearness(program, animal).filter((record) => asked.has(record));
  for (let count = FIRST_NEAR; count < nearest.length; count *= 2) {
    const some = nearest.slice(0, count);
    if (!oracle.possible(some)) return some;
  }
  return nearest;
}

function smallestOf(oracle: Oracle, records: readonly number[]): number[] {
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
  if (records.length === 0 || !oracle.possible([])) return [];
  return explain([], false, records).sort((a, b) => a - b);
}
