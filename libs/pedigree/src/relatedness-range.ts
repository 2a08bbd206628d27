import type { Random } from '@scutewright/basics';
import { solvedPedigree } from './inbreeding.js';
import { candidatesOf, compactLineage, type Lineage } from './lineage.js';
import { EACH_OWN_SIRE } from './paternity.js';
import { type AnimalKey, drawAt, type Pedigree, rowsOf } from './pedigree.js';
import { pedigreeFromColumns } from './pedigree-from-columns.js';
import { relatedness } from './relatedness.js';
import { relatednessOfFew } from './relatedness-of-few.js';
import {
  pickHypothesis,
  pickIndex,
  type SireHypothesis,
  sireHypotheses,
} from './sire-hypotheses.js';

/** What a figure comes to over the possible parents of every clutch that matters to it. */
export interface FigureRange {
  /** Exact: the expectation. Sampled: the mean of the samples. */
  readonly mean: number;
  /** Least and greatest value possible (exact) or met (sampled). */
  readonly lowest: number;
  readonly highest: number;
  /** Every value with its probability, ascending. */
  readonly outcomes: readonly { readonly value: number; readonly probability: number }[];
  /** True where every assignment of parents was counted. */
  readonly exact: boolean;
  /** Of the mean; 0 where exact. */
  readonly standardError: number;
}

export interface RangeOptions {
  /** Up to this many assignments of parents are counted one by one; default 2,000. */
  readonly mostAssignments?: number;
  /** For sampling beyond that; without it RangeError is thrown. */
  readonly random?: Random;
  /** Default 1,000. */
  readonly samples?: number;
}

/** The range of the inbreeding coefficient of an animal. Cost: assignments (or samples) x ancestors. */
export function inbreedingRange(
  pedigree: Pedigree,
  id: AnimalKey,
  options: RangeOptions = {},
): FigureRange {
  return figureRange(pedigree, [id], (A) => A[0] - 1, options);
}

/**
 * The range of the relatedness a_ij of two animals; half of it is the F of a young of theirs.
 * Cost: assignments (or samples) x ancestors.
 */
export function relatednessRange(
  pedigree: Pedigree,
  a: AnimalKey,
  b: AnimalKey,
  options: RangeOptions = {},
): FigureRange {
  return figureRange(pedigree, [a, b], (A) => A[1], options);
}

/** One uncertain parent that matters, with the animals under it, or one found animal with its eggs; in local numbers. */
interface OpenDraw {
  readonly local: number;
  readonly column: Column;
  readonly young: readonly number[];
  readonly candidates: Int32Array;
  readonly hypotheses: readonly SireHypothesis[];
  readonly pick: (random: Random) => SireHypothesis;
}

function figureRange(
  pedigree: Pedigree,
  ids: readonly AnimalKey[],
  figure: (A: Float64Array) => number,
  { mostAssignments = 2000, random, samples = 1000 }: RangeOptions,
): FigureRange {
  const lineage = compactLineage(pedigree, solvedPedigree(pedigree), rowsOf(pedigree, ids));
  const open = openDraws(pedigree, lineage);
  const evaluate = evaluator(pedigree, lineage, figure);
  const tally = new Map<number, number>();
  const add = (value: number, probability: number): void => {
    // Values that differ by rounding only are one value.
    const key = Math.round(value * 1e12) / 1e12;
    tally.set(key, (tally.get(key) ?? 0) + probability);
  };
  const exact = countAssignments(open) <= mostAssignments;
  if (exact) {
    visitAssignments(open, (parents, probability) => add(evaluate(parents), probability));
  } else {
    if (!random) {
      throw new RangeError(
        `More than ${mostAssignments} assignments of parents matter here: pass a random source.`,
      );
    }
    for (let n = 0; n < samples; n++) add(evaluate(drawParents(open, random)), 1 / samples);
  }
  const outcomes = [...tally]
    .map(([value, probability]) => ({ value, probability }))
    .sort((x, y) => x.value - y.value);
  const mean = outcomes.reduce((sum, { value, probability }) => sum + value * probability, 0);
  const variance = outcomes.reduce(
    (sum, { value, probability }) => sum + (value - mean) ** 2 * probability,
    0,
  );
  return {
    mean,
    lowest: outcomes[0].value,
    highest: outcomes[outcomes.length - 1].value,
    outcomes,
    exact,
    standardError: exact ? 0 : Math.sqrt(variance / Math.max(1, samples - 1)),
  };
}

type Column = 'sire' | 'dam' | 'egg';

/** A parent chosen for one animal, or the egg that it was. */
interface Chosen {
  readonly child: number;
  readonly column: Column;
  readonly parent: number;
}

function openDraws(pedigree: Pedigree, lineage: Lineage): OpenDraw[] {
  const { count, node, sire, dam } = lineage;
  const found = new Map<number, OpenDraw & { young: number[] }>();
  const columns = { SIRE: 'sire', DAM: 'dam', EGG: 'egg' } as const;
  for (let i = 0; i < count; i++) {
    const recorded = drawAt(pedigree, node[i]);
    if (!recorded) continue;
    const isEgg = recorded.side === 'EGG';
    // Of an egg there is one young; what its probabilities lack stands for parents nobody recorded.
    const draw = isEgg ? { ...recorded, paternity: EACH_OWN_SIRE } : recorded;
    const hypotheses = sireHypotheses(draw);
    found.set(i, {
      local: i,
      column: columns[draw.side],
      young: isEgg ? [i] : [],
      candidates: candidatesOf(lineage, i),
      hypotheses,
      pick: (random) => pickHypothesis(hypotheses, random),
    });
  }
  const isUnder = (parent: number): boolean => parent >= 0 && node[parent] >= pedigree.size;
  for (let i = 0; i < count; i++) {
    if (isUnder(sire[i])) found.get(sire[i])?.young.push(i);
    if (isUnder(dam[i])) found.get(dam[i])?.young.push(i);
  }
  return [...found.values()];
}

/** The parents one young can have under a hypothesis, with probabilities. */
function choices(
  open: OpenDraw,
  { shares, strangers }: SireHypothesis,
  count: number,
): [number, number][] {
  const found: [number, number][] = [];
  let rest = 1;
  shares.forEach((share, e) => {
    if (share > 0) found.push([open.candidates[e], share]);
    rest -= share;
  });
  if (rest < 1e-12) return found;
  if (strangers === Number.POSITIVE_INFINITY) found.push([-1, rest]);
  else if (strangers === 2) found.push([open.local, rest / 2], [open.local + count, rest / 2]);
  else found.push([open.local, rest]);
  return found;
}

function countAssignments(open: readonly OpenDraw[]): number {
  return open.reduce(
    (product, draw) =>
      product *
      draw.hypotheses.reduce(
        (sum, each) => sum + choices(draw, each, 0).length ** draw.young.length,
        0,
      ),
    1,
  );
}

/** Calls `visit` with the parents of every assignment and its probability. */
function visitAssignments(
  open: readonly OpenDraw[],
  visit: (parents: readonly Chosen[], probability: number) => void,
): void {
  const parents: Chosen[] = [];
  const nextDraw = (d: number, probability: number): void => {
    if (d === open.length) {
      visit(parents, probability);
      return;
    }
    const draw = open[d];
    for (const hypothesis of draw.hypotheses) {
      const list = choices(draw, hypothesis, SECOND);
      const nextYoung = (k: number, p: number): void => {
        if (k === draw.young.length) {
          nextDraw(d + 1, p);
          return;
        }
        for (const [parent, share] of list) {
          parents.push({ child: draw.young[k], column: draw.column, parent });
          nextYoung(k + 1, p * share);
          parents.pop();
        }
      };
      nextYoung(0, probability * hypothesis.probability);
    }
  };
  nextDraw(0, 1);
}

/** Added to a draw's local number: the second male nobody recorded of a clutch with two. */
const SECOND = 0x40000000;

function drawParents(open: readonly OpenDraw[], random: Random): Chosen[] {
  return open.flatMap((draw) => {
    const list = choices(draw, draw.pick(random), SECOND);
    const weights = list.map(([, share]) => share);
    return draw.young.map((child) => ({
      child,
      column: draw.column,
      parent: list[Math.min(pickIndex(weights, random), list.length - 1)][0],
    }));
  });
}

/** The figure in the pedigree with the chosen parents: local numbers, then the second strangers. */
function evaluator(
  pedigree: Pedigree,
  lineage: Lineage,
  figure: (A: Float64Array) => number,
): (parents: readonly Chosen[]) => number {
  const { count, node, at } = lineage;
  const isAnimal = (i: number): boolean => node[i] < pedigree.size;
  const base = (column: Int32Array): Int32Array =>
    Int32Array.from({ length: 2 * count }, (_, i) =>
      i < count && isAnimal(i) ? Math.max(-1, column[i]) : -1,
    );
  const sire = base(lineage.sire);
  const dam = base(lineage.dam);
  const local = new Map(Array.from(node, (row, i) => [row, i] as const));
  const founderKin = pedigree.founderKin.flatMap(({ a, b, relatedness }) => {
    const i = local.get(a);
    const j = local.get(b);
    return i === undefined || j === undefined ? [] : [{ a: i, b: j, relatedness }];
  });
  return (parents) => {
    for (const { child, column, parent } of parents) {
      if (column === 'egg') continue;
      (column === 'sire' ? sire : dam)[child] = parent >= SECOND ? parent - SECOND + count : parent;
    }
    // No other animal is of the egg chosen, so the animal takes the egg's parents.
    for (const { child, column, parent } of parents) {
      if (column !== 'egg') continue;
      sire[child] = parent < 0 ? -1 : sire[parent];
      dam[child] = parent < 0 ? -1 : dam[parent];
    }
    const few = relatednessOfFew(sire, dam, count, at, founderKin);
    if (few) return figure(few);
    const certain = {
      ...pedigreeFromColumns({ sire: sire.slice(), dam: dam.slice() }),
      founderKin,
    };
    return figure(relatedness(certain, at));
  };
}
