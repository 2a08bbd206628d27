/**
 * Slow, plain twins of the kernels, and random pedigrees to try them on. Nothing here uses the
 * library's own methods: the tabular method and the mean over every assignment of sires.
 */

import type { Paternity, PedigreeRow } from '@scutewright/pedigree';
import fc from 'fast-check';

/** One laying of a random pedigree. Parents are numbers of earlier animals. */
export interface TwinClutch {
  readonly young: readonly number[];
  readonly sires: readonly (readonly [number, number])[];
  readonly dams: readonly (readonly [number, number])[];
  readonly paternity: Paternity;
}

/** An animal that may be of several clutches, by their numbers; the rest: of parents nobody recorded. */
export interface TwinFind {
  readonly animal: number;
  readonly clutches: readonly (readonly [number, number])[];
}

/** Animals 0..n-1 in order of birth, each in exactly one clutch or found. */
export interface TwinPedigree {
  readonly size: number;
  readonly clutches: readonly TwinClutch[];
  readonly finds: readonly TwinFind[];
  /** Order in which the rows are handed to the library. */
  readonly order: readonly number[];
}

type Matrix = number[][];

/** Certain parents; -1 unknown. Animals in order of birth. The tabular method. */
export function tabular(parents: readonly (readonly [number, number])[]): Matrix {
  const n = parents.length;
  const a: Matrix = Array.from({ length: n }, () => new Array<number>(n).fill(0));
  for (let i = 0; i < n; i++) {
    const [s, d] = parents[i];
    for (let j = 0; j < i; j++) {
      a[i][j] = ((s < 0 ? 0 : a[s][j]) + (d < 0 ? 0 : a[d][j])) / 2;
      a[j][i] = a[i][j];
    }
    a[i][i] = 1 + (s < 0 || d < 0 ? 0 : a[s][d] / 2);
  }
  return a;
}

/** The definition: the mean of the tabular matrix over every assignment of parents. */
export function enumerated(pedigree: TwinPedigree): Matrix {
  const n = pedigree.size;
  const mean: Matrix = Array.from({ length: n }, () => new Array<number>(n).fill(0));
  eachAssignment(pedigree, (a, probability) => {
    for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) mean[i][j] += probability * a[i][j];
  });
  return mean;
}

/** Calls `visit` with the tabular matrix of every assignment of parents. */
export function eachAssignment(
  pedigree: TwinPedigree,
  visit: (a: Matrix, probability: number) => void,
): void {
  const [find, ...others] = pedigree.finds;
  if (find) {
    // Of each clutch in turn it is one more young; of none, an animal without parents.
    for (const [c, p] of withRest(find.clutches, -1)) {
      const clutches = pedigree.clutches.map((each, k) =>
        k === c ? { ...each, young: [...each.young, find.animal] } : each,
      );
      const certain = { ...pedigree, clutches, finds: others };
      eachAssignment(certain, (a, probability) => visit(a, p * probability));
    }
    return;
  }
  const perClutch = pedigree.clutches.map(outcomes);
  const next = (c: number, probability: number, chosen: readonly Outcome[]): void => {
    if (c === perClutch.length) visit(assigned(pedigree, chosen), probability);
    else
      for (const each of perClutch[c])
        next(c + 1, probability * each.probability, [...chosen, each]);
  };
  next(0, 1, []);
}

/** Parents of each young of a clutch; a negative number names a stranger of this clutch. */
interface Outcome {
  readonly probability: number;
  readonly sires: readonly number[];
  readonly dam: number;
}

/** The tabular matrix of one assignment, with the strangers as founders before everybody. */
function assigned(pedigree: TwinPedigree, chosen: readonly Outcome[]): Matrix {
  const strangers = new Map<string, number>();
  const name = (c: number, parent: number): number | string =>
    parent >= 0 ? parent : `${c}:${parent}`;
  chosen.forEach(({ sires, dam }, c) => {
    for (const parent of [...sires, dam]) {
      const key = name(c, parent);
      if (typeof key === 'string' && !strangers.has(key)) strangers.set(key, strangers.size);
    }
  });
  const shift = strangers.size;
  const at = (key: number | string): number =>
    typeof key === 'string' ? (strangers.get(key) ?? -1) : key + shift;
  const parents: [number, number][] = Array.from({ length: shift + pedigree.size }, () => [-1, -1]);
  pedigree.clutches.forEach(({ young }, c) => {
    young.forEach((i, k) => {
      parents[i + shift] = [at(name(c, chosen[c].sires[k])), at(name(c, chosen[c].dam))];
    });
  });
  return tabular(parents)
    .slice(shift)
    .map((row) => row.slice(shift));
}

/** Every way the clutch can have come about. Strangers: -1 the clutch's own male, -2 its female, -3 - k that of young k. */
function outcomes(clutch: TwinClutch): Outcome[] {
  const { young, paternity } = clutch;
  const n = young.length;
  const one = withRest(clutch.sires, -1);
  const shared = one.map(([sire, p]) => ({ p, sires: young.map(() => sire) }));
  let own: { p: number; sires: number[] }[] = [{ p: 1, sires: [] }];
  for (let k = 0; k < n; k++) {
    own = own.flatMap(({ p, sires }) =>
      withRest(clutch.sires, -3 - k).map(([sire, q]) => ({ p: p * q, sires: [...sires, sire] })),
    );
  }
  let ways: { p: number; sires: number[] }[];
  if (paternity.kind === 'ONE_SIRE' || clutch.sires.some(([, p]) => p === 1)) ways = shared;
  else if (paternity.kind === 'EACH_OWN_SIRE') ways = own;
  else {
    const several = paternity.kind === 'MIXED' ? own : twoSires(one, withRest(clutch.sires, -3), n);
    ways = [
      ...shared.map(({ p, sires }) => ({ p: p * (1 - paternity.rate), sires })),
      ...several.map(({ p, sires }) => ({ p: p * paternity.rate, sires })),
    ];
  }
  return ways.flatMap(({ p, sires }) =>
    withRest(clutch.dams, -2).map(([dam, q]) => ({ probability: p * q, sires, dam })),
  );
}

/** Two draws given that they differ, each young of either by a coin. */
function twoSires(
  first: readonly (readonly [number, number])[],
  second: readonly (readonly [number, number])[],
  n: number,
): { p: number; sires: number[] }[] {
  const pairs = first.flatMap(([a, p]) =>
    second.filter(([b]) => b !== a).map(([b, q]) => ({ a, b, p: p * q })),
  );
  const total = pairs.reduce((sum, each) => sum + each.p, 0);
  return pairs.flatMap(({ a, b, p }) =>
    Array.from({ length: 2 ** n }, (_, coins) => ({
      p: p / total / 2 ** n,
      sires: Array.from({ length: n }, (_, k) => ((coins >> k) & 1 ? b : a)),
    })),
  );
}

function withRest(
  candidates: readonly (readonly [number, number])[],
  stranger: number,
): (readonly [number, number])[] {
  const rest = 1 - candidates.reduce((sum, [, p]) => sum + p, 0);
  return rest > 1e-12 ? [...candidates, [stranger, rest]] : [...candidates];
}

/** Certain parents of a twin without candidates, animals in order of birth; -1 unknown. */
export function certainParents(pedigree: TwinPedigree): [number, number][] {
  const parents = Array.from({ length: pedigree.size }, (): [number, number] => [-1, -1]);
  for (const { young, sires, dams } of pedigree.clutches) {
    for (const i of young) parents[i] = [sires[0]?.[0] ?? -1, dams[0]?.[0] ?? -1];
  }
  return parents;
}

/**
 * Every outcome of every meiosis. `visit` gets the two genes of each animal, founder genes being numbers of their own.
 * With `single` (0: even animals, the males; 1: odd ones) a sex chromosome: that sex has one copy, from the other parent.
 */
export function eachGeneDrop(
  parents: readonly (readonly [number, number])[],
  visit: (genes: readonly (readonly number[])[]) => void,
  single: 0 | 1 | null = null,
): void {
  const n = parents.length;
  const genes: number[][] = Array.from({ length: n }, () => []);
  const next = (i: number): void => {
    if (i === n) {
      visit(genes);
      return;
    }
    const copies = [0, 1].filter((side) => single === null || i % 2 !== single || side !== single);
    const sources = copies.map((side) => {
      const parent = parents[i][side];
      return parent < 0 ? [-1 - 2 * i - side] : genes[parent];
    });
    const choose = (k: number, taken: number[]): void => {
      if (k === sources.length) {
        genes[i] = taken;
        next(i + 1);
        return;
      }
      for (const gene of sources[k]) choose(k + 1, [...taken, gene]);
    };
    choose(0, []);
  };
  next(0);
}

/** The tabular method with uncertain parents: a second twin that needs no enumeration. */
export function tabularWithCandidates(pedigree: TwinPedigree): Matrix {
  const n = pedigree.size;
  const a: Matrix = Array.from({ length: n }, () => new Array<number>(n).fill(0));
  const mean = (list: readonly (readonly [number, number])[], j: number): number =>
    list.reduce((sum, [k, p]) => sum + p * a[k][j], 0);
  for (const { young, sires, dams, paternity } of pedigree.clutches) {
    const own = withRest(sires, -1);
    const marginal = marginals(own, paternity);
    const known = marginal.filter(([k]) => k >= 0);
    const sireDam = known.reduce((sum, [k, p]) => sum + p * mean(dams, k), 0);
    const sireSire = mates(own, paternity, (k, l) => (k < 0 || l < 0 ? Number(k === l) : a[k][l]));
    const damDam = withRest(dams, -2).reduce((sum, [k, p]) => sum + p * (k < 0 ? 1 : a[k][k]), 0);
    const before = Array.from({ length: n }, (_, j) => (mean(known, j) + mean(dams, j)) / 2);
    const born = Math.min(...young);
    for (const i of young) {
      for (let j = 0; j < born; j++) {
        a[i][j] = before[j];
        a[j][i] = before[j];
      }
      for (const j of young) a[i][j] = (sireSire + damDam + 2 * sireDam) / 4;
      a[i][i] = 1 + sireDam / 2;
    }
  }
  return a;
}

/** Probability of each sire for one young. */
function marginals(
  own: readonly (readonly [number, number])[],
  paternity: Paternity,
): (readonly [number, number])[] {
  if (paternity.kind !== 'TWO_SIRES' || own.some(([k, p]) => k >= 0 && p === 1)) return [...own];
  const total = pairTotal(own);
  return own.map(([k, p]) => {
    const partner = 1 - (k < 0 ? 0 : p);
    return [k, (1 - paternity.rate) * p + (paternity.rate * p * partner) / total] as const;
  });
}

/** P(two draws differ); two strangers always do. */
function pairTotal(own: readonly (readonly [number, number])[]): number {
  return 1 - own.reduce((sum, [k, p]) => sum + (k < 0 ? 0 : p * p), 0);
}

/** E a(sire of one young, sire of a clutch mate). */
function mates(
  own: readonly (readonly [number, number])[],
  paternity: Paternity,
  a: (k: number, l: number) => number,
): number {
  const same = own.reduce((sum, [k, p]) => sum + p * a(k, k), 0);
  if (paternity.kind === 'ONE_SIRE' || own.some(([k, p]) => k >= 0 && p === 1)) return same;
  let apart = 0;
  let differ = 0;
  for (const [k, p] of own) {
    for (const [l, q] of own) {
      const value = k < 0 && l < 0 ? 0 : a(k, l);
      apart += p * q * value;
      if (k !== l) differ += p * q * value;
    }
  }
  if (paternity.kind === 'EACH_OWN_SIRE') return apart;
  if (paternity.kind === 'MIXED') return (1 - paternity.rate) * same + paternity.rate * apart;
  const total = pairTotal(own);
  const ofEither = marginals(own, { kind: 'TWO_SIRES', rate: 1 });
  const coinSame = ofEither.reduce((sum, [k, p]) => sum + p * a(k, k), 0);
  return (1 - paternity.rate) * same + (paternity.rate * (coinSame + differ / total)) / 2;
}

const id = (animal: number): string => `n${animal}`;

/** The rows of a random pedigree, shuffled, as a caller would hand them over. */
export function toRows(pedigree: TwinPedigree): {
  rows: PedigreeRow[];
  paternity: Record<string, Paternity>;
} {
  const paternity: Record<string, Paternity> = {};
  const rows = new Array<PedigreeRow>(pedigree.size);
  pedigree.clutches.forEach(({ young, sires, dams, paternity: kind }, c) => {
    const clutch = `c${c}`;
    paternity[clutch] = kind;
    for (const i of young) {
      rows[i] = {
        id: id(i),
        clutch,
        ...(sires.length > 0 && { sire: toParent(sires) }),
        ...(dams.length > 0 && { dam: toParent(dams) }),
      };
    }
  });
  for (const { animal, clutches } of pedigree.finds) {
    rows[animal] = {
      id: id(animal),
      possibleClutches: clutches.map(([c, probability]) => {
        const { sires, dams } = pedigree.clutches[c];
        return { clutch: `c${c}`, probability, sire: toParent(sires), dam: toParent(dams) };
      }),
    };
  }
  return { rows: pedigree.order.map((i) => rows[i]), paternity };
}

function toParent(list: readonly (readonly [number, number])[]): PedigreeRow['sire'] {
  if (list.length === 0) return null;
  if (list.length === 1 && list[0][1] === 1) return id(list[0][0]);
  return list.map(([animal, probability]) => ({ id: id(animal), probability }));
}

const PATERNITIES: fc.Arbitrary<Paternity> = fc.oneof(
  fc.constant<Paternity>({ kind: 'ONE_SIRE' }),
  fc.constant<Paternity>({ kind: 'EACH_OWN_SIRE' }),
  fc.constantFrom(0, 0.25, 0.46, 1).map((rate): Paternity => ({ kind: 'MIXED', rate })),
  fc.constantFrom(0.3, 1).map((rate): Paternity => ({ kind: 'TWO_SIRES', rate })),
);

/**
 * Random pedigrees: even animals are males, odd ones females; loops, half-founders, overlapping generations,
 * clutches of one to three, at most `uncertain` clutches with one to four candidates on a side, and at most `found`
 * animals that may be of one to three of the clutches before them.
 */
export function pedigrees(
  clutches: number,
  uncertain: number,
  found = 0,
): fc.Arbitrary<TwinPedigree> {
  const FOUND = found > 0 ? (['found', 'found', 'found'] as const) : [];
  const laying = fc.record({
    count: fc.integer({ min: 1, max: 3 }),
    picks: fc.array(fc.nat(10_000), { minLength: 10, maxLength: 10 }),
    weights: fc.array(fc.constantFrom(1, 2, 3, 5), { minLength: 8, maxLength: 8 }),
    kind: fc.constantFrom(
      'none',
      'half',
      'certain',
      'certain',
      'certain',
      'sires',
      'both',
      ...FOUND,
    ),
    candidates: fc.integer({ min: 0, max: 4 }),
    missing: fc.constantFrom(0, 0, 0, 2),
    paternity: PATERNITIES,
  });
  return fc.array(laying, { minLength: 2, maxLength: clutches }).chain((plans) => {
    const built: TwinClutch[] = [];
    const finds: TwinFind[] = [];
    let size = 0;
    let left = uncertain;
    for (const plan of plans) {
      if (plan.kind === 'found' && built.length > 1 && finds.length < found) {
        // The last clutches: those of the first two are founders' and have no parents.
        const near = range(built.length).slice(-4).reverse();
        const clutches = several(near, plan.picks, plan.weights, plan.count, plan.missing);
        finds.push({ animal: size++, clutches });
        continue;
      }
      const males = range(size).filter((i) => i % 2 === 0);
      const females = range(size).filter((i) => i % 2 === 1);
      const isOpen = left > 0 && (plan.kind === 'sires' || plan.kind === 'both');
      if (isOpen) left--;
      const kind = isOpen || plan.kind === 'none' || plan.kind === 'half' ? plan.kind : 'certain';
      const count = built.length < 2 ? 2 : plan.count;
      const one = (pool: readonly number[], pick: number): [number, number][] =>
        pool.length > 0 ? [[pool[pick % pool.length], 1]] : [];
      built.push({
        young: Array.from({ length: count }, (_, k) => size + k),
        sires:
          kind === 'none'
            ? []
            : isOpen
              ? several(males, plan.picks, plan.weights, plan.candidates, plan.missing)
              : one(males, plan.picks[0]),
        dams:
          kind === 'none' || kind === 'half'
            ? []
            : kind === 'both'
              ? several(females, plan.picks.slice(5), plan.weights.slice(4), 2, plan.missing)
              : one(females, plan.picks[5]),
        paternity: plan.paternity,
      });
      size += count;
    }
    return fc
      .shuffledSubarray(range(size), { minLength: size, maxLength: size })
      .map((order) => ({ size, clutches: built, finds, order }));
  });
}

function several(
  pool: readonly number[],
  picks: readonly number[],
  weights: readonly number[],
  most: number,
  missing: number,
): [number, number][] {
  const chosen = [...new Set(picks.slice(0, most).map((pick) => pool[pick % pool.length]))].filter(
    (animal) => animal !== undefined,
  );
  const total = chosen.reduce((sum, _, k) => sum + weights[k], missing);
  return chosen.map((animal, k) => [animal, weights[k] / total]);
}

function range(n: number): number[] {
  return Array.from({ length: n }, (_, i) => i);
}
