import type { Block } from './block.js';
import { BASE } from './fold-young.js';
import type { NetworkBuilder } from './network-builder.js';
import type { Clutch } from './program.js';

/** Stands for an animal's position where the parent is one nobody recorded. */
export const NOBODY = -1;

/** A male that may have sired young of the clutch. `shared`: the one unknown male of the whole clutch; `own`: one for this young alone. */
export type SireSource =
  | { readonly kind: 'animal'; readonly animal: number }
  | { readonly kind: 'shared' | 'own'; readonly animal: typeof NOBODY };

/** A variable that says which animal a parent is. */
export interface Selector {
  readonly variable: number;
  /** By state: the animal's position, or `NOBODY`. */
  readonly animals: readonly number[];
}

/** Finds the variable of an animal's genotype at a block. */
export type GenotypeVariable = (animal: number, block: number) => number;

/**
 * The parents of a clutch as variables. A parent that may be one of several is a latent animal beside a
 * selector: one small factor per candidate says 'if it is this one, the genotypes are equal', so that no candidates need be
 * tabulated together.
 */
export class ClutchParents {
  readonly dam: readonly number[];
  readonly damSelector: Selector | null;
  /** By block the sire of the whole clutch; null where the young may have different sires. */
  readonly sire: readonly number[] | null;
  readonly sireSelector: Selector | null;
  /** Where each young has a choice of its own: the males it may fall on. */
  readonly sources: readonly SireSource[];
  /** Variable that says how the clutch was sired, or -1 when each young draws alone. */
  readonly mode: number;
  /** `chance[mode][source]`. */
  readonly chance: readonly (readonly number[])[];
  private readonly unknownSire: number[] = [];

  /** `apart`: some young may be of another clutch, so that each young needs a choice of its own. */
  constructor(
    clutch: Clutch,
    private readonly blocks: readonly Block[],
    private readonly builder: NetworkBuilder,
    private readonly genotype: GenotypeVariable,
    apart: boolean,
  ) {
    const dams = candidates(clutch.dams, clutch.damWeights);
    this.damSelector = dams.length > 1 ? this.select(dams) : null;
    this.dam = blocks.map((_, b) =>
      this.damSelector ? this.latent(dams, this.damSelector, b, 'f') : this.certain(dams, b, 'f'),
    );
    const sires = candidates(clutch.sires, clutch.sireWeights);
    const single = clutch.paternity.kind === 'single' || onlyOneSire(clutch, sires);
    const singly = sires.map(
      ({ animal }): SireSource =>
        animal === NOBODY ? { kind: 'shared', animal } : { kind: 'animal', animal },
    );
    if (single) {
      this.sireSelector = sires.length > 1 ? this.select(sires) : null;
      this.sire = blocks.map((_, b) =>
        this.sireSelector
          ? this.latent(sires, this.sireSelector, b, 'm', apart)
          : sires[0].animal === NOBODY
            ? this.unknownSireAt(b)
            : genotype(sires[0].animal, b),
      );
      this.sources = singly;
      this.mode = this.sireSelector?.variable ?? -1;
      this.chance = singly.map((_, state) => singly.map((__, source) => Number(source === state)));
      return;
    }
    this.sire = null;
    this.sireSelector = null;
    const weights = sires.map(({ weight }) => weight);
    const { kind, rate } = clutch.paternity;
    if (kind === 'two sires') {
      this.sources = singly;
      const { modes, chance } = twoSires(weights, rate);
      this.chance = chance;
      this.mode = this.modeVariable(modes);
      return;
    }
    const apartFromOthers = sires.map(
      ({ animal }): SireSource =>
        animal === NOBODY ? { kind: 'own', animal } : { kind: 'animal', animal },
    );
    if (kind === 'independent') {
      this.sources = apartFromOthers;
      this.chance = [weights];
      this.mode = -1;
      return;
    }
    const own = apartFromOthers.filter((source) => source.kind === 'own');
    this.sources = [...singly, ...own];
    const drawn = sires.map(({ animal, weight }) => (animal === NOBODY ? 0 : weight));
    const unknown = sires.filter(({ animal }) => animal === NOBODY).map(({ weight }) => weight);
    this.chance = [
      ...singly.map((_, state) => this.sources.map((__, source) => Number(source === state))),
      [...drawn, ...unknown],
    ];
    this.mode = this.modeVariable([...weights.map((weight) => weight * (1 - rate)), rate]);
  }

  /** The genotype variable of a source at a block; `BASE` for an unknown male of this young alone. */
  sourceAt(source: SireSource, block: number): number {
    if (source.kind === 'own') return BASE;
    return source.kind === 'shared'
      ? this.unknownSireAt(block)
      : this.genotype(source.animal, block);
  }

  private unknownSireAt(b: number): number {
    this.unknownSire[b] ??= this.stranger(b, 'm');
    return this.unknownSire[b];
  }

  private certain(parents: readonly Candidate[], b: number, sex: 'm' | 'f'): number {
    const { animal } = parents[0];
    return animal === NOBODY ? this.stranger(b, sex) : this.genotype(animal, b);
  }

  /** An unrelated animal of the base population. */
  private stranger(b: number, sex: 'm' | 'f'): number {
    const base = this.blocks[b].base[sex];
    const variable = this.builder.variable(possible(base));
    this.builder.fill([variable], ([state]) => base[state]);
    return variable;
  }

  private select(parents: readonly Candidate[]): Selector {
    const variable = this.modeVariable(parents.map(({ weight }) => weight));
    return { variable, animals: parents.map(({ animal }) => animal) };
  }

  private modeVariable(weights: readonly number[]): number {
    const variable = this.builder.selector(weights.length);
    this.builder.fill([variable], ([state]) => weights[state]);
    return variable;
  }

  /** The parent itself: equal to the candidate that the selector names. */
  private latent(
    parents: readonly Candidate[],
    selector: Selector,
    b: number,
    sex: 'm' | 'f',
    named = false,
  ): number {
    const { builder, blocks } = this;
    const states = new Set<number>();
    for (const { animal } of parents) {
      const those =
        animal === NOBODY
          ? possible(blocks[b].base[sex])
          : builder.states[this.genotype(animal, b)];
      for (const state of those) if (blocks[b].fits(state, sex)) states.add(state);
    }
    const parent = builder.variable(Int32Array.from([...states].sort((x, y) => x - y)));
    for (const [state, { animal }] of parents.entries()) {
      if (animal === NOBODY && !named) {
        const base = blocks[b].base[sex];
        builder.fill([selector.variable, parent], ([s, g]) => (s === state ? base[g] : 1));
      } else {
        const candidate = animal === NOBODY ? this.unknownSireAt(b) : this.genotype(animal, b);
        equalIf(builder, selector.variable, [state], parent, candidate);
      }
    }
    return parent;
  }
}

/** 'If the selector is in one of these states, the two genotypes are equal.' */
export function equalIf(
  builder: NetworkBuilder,
  selector: number,
  chosen: readonly number[],
  one: number,
  other: number,
): void {
  builder.fill([selector, one, other], ([s, a, b]) => (chosen.includes(s) && a !== b ? 0 : 1));
}

interface Candidate {
  readonly animal: number;
  readonly weight: number;
}

/** Candidates of a positive weight, each once, and `NOBODY` with what they lack to 1. */
function candidates(animals: Int32Array, weights: Float64Array): Candidate[] {
  const list: Candidate[] = [];
  let rest = 1;
  for (const [i, animal] of animals.entries()) {
    if (weights[i] > 0) list.push({ animal, weight: weights[i] });
    rest -= weights[i];
  }
  // A remainder of rounding is nobody's.
  if (rest > 1e-9 || list.length === 0) list.push({ animal: NOBODY, weight: rest });
  else
    for (const [i, entry] of list.entries())
      list[i] = { ...entry, weight: entry.weight / (1 - rest) };
  return list;
}

/** Whether different sires cannot occur: one recorded male for certain, or no second one to share with. */
function onlyOneSire(clutch: Clutch, sires: readonly Candidate[]): boolean {
  const { kind, rate } = clutch.paternity;
  if (sires.length > 1) return kind !== 'independent' && rate === 0;
  return sires[0].animal !== NOBODY || kind === 'two sires' || (kind === 'multiple' && rate === 0);
}

function twoSires(
  weights: readonly number[],
  rate: number,
): { modes: number[]; chance: number[][] } {
  const modes = weights.map((weight) => weight * (1 - rate));
  const chance = weights.map((_, state) => weights.map((__, source) => Number(source === state)));
  let pairs = 0;
  for (const [i, p] of weights.entries()) for (const q of weights.slice(i + 1)) pairs += p * q;
  for (let i = 0; i < weights.length; i++) {
    for (let j = i + 1; j < weights.length; j++) {
      modes.push((rate * weights[i] * weights[j]) / pairs);
      chance.push(weights.map((_, source) => (source === i || source === j ? 0.5 : 0)));
    }
  }
  return { modes, chance };
}

function possible(base: Float64Array): Int32Array {
  const states: number[] = [];
  for (let state = 0; state < base.length; state++) if (base[state] > 0) states.push(state);
  return Int32Array.from(states);
}
