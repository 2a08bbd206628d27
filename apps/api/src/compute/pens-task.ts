import {
  DEFAULT_PEN_SETTINGS,
  ifMoved,
  PEN_RULES,
  type PenFlag,
  type PenIfMoved,
  penConflicts,
  readStays,
  type StayInput,
  type Yard,
  type YardAnimal,
  type YardPen,
} from '@scutewright/housing';
import { relatedness } from '@scutewright/pedigree';
import { type AnimalOdds, targetChances } from '@scutewright/planning';
import type { Definitions } from './egg-looks.js';
import { keptPedigree, type PedigreeInput } from './kept-pedigree.js';

export interface YardInput extends PedigreeInput {
  readonly animals: readonly YardAnimal[];
  /** By place in `animals`: position in the pedigree. */
  readonly positions: Int32Array;
  /** By place in `animals`: equivalent generations recorded behind it. */
  readonly generations: Float64Array;
  readonly pens: readonly YardPen[];
  readonly stays: readonly StayInput[];
  readonly from: number;
  readonly horizon: number;
}

export interface PensInput extends YardInput {
  readonly definitions: Definitions;
  /** Genotype odds by place in `animals`; null where they are not worked out yet. */
  readonly odds: readonly AnimalOdds[] | null;
}

export interface PensAnswer {
  readonly flags: readonly PenFlag[];
  /** By flag: what the young of its two animals could show, where it is about such a pair. */
  readonly young: readonly (readonly TraitChance[] | null)[];
  readonly rules: readonly {
    readonly rule: string;
    readonly title: string;
    readonly setting: string;
    readonly source: string;
  }[];
}

export interface TraitChance {
  readonly trait: string;
  /** Per young; the parents' odds multiplied, so approximate for kin. */
  readonly chance: number;
}

/** What the rules of pens find between two days. */
export function penConflictsTask(input: PensInput): PensAnswer {
  const flags = penConflicts(yardOf(input));
  return {
    flags,
    young: flags.map((flag) => (flag.rule === 'close-relatives' ? youngOf(input, flag) : null)),
    rules: PEN_RULES.map(({ id, title, setting, source }) => ({
      ...{ rule: id, title, source },
      setting: setting(DEFAULT_PEN_SETTINGS),
    })),
  };
}

export interface IfMovedInput extends YardInput {
  readonly animal: string;
  /** Pens that it could go to. */
  readonly candidates: readonly string[];
  readonly first: number;
}

/** Pens with the least against an animal, best first. */
export function ifMovedTask({ animal, candidates, first, ...input }: IfMovedInput): PenIfMoved[] {
  return ifMoved(yardOf(input), animal, candidates).slice(0, first);
}

function yardOf(input: YardInput): Yard {
  const at = new Map(input.animals.map(({ id }, place) => [id, place]));
  const kinship = kinOfPlaces(input);
  return {
    animals: input.animals,
    pens: input.pens,
    stays: readStays(input.stays, []),
    from: input.from,
    horizon: input.horizon,
    settings: DEFAULT_PEN_SETTINGS,
    kinship: (a, b) => kinship(at.get(a) ?? 0, at.get(b) ?? 0),
  };
}

/**
 * Kinship of two animals by place; null where nothing is recorded behind either, which is not the same as none. Reckoned
 * a pen at a time: the rules ask for pairs that share one, or for one that would join it.
 */
function kinOfPlaces(input: YardInput): (one: number, other: number) => number | null {
  const { animals, positions, generations, stays } = input;
  const pedigree = keptPedigree(input);
  const places = new Map(animals.map(({ id }, place) => [id, place]));
  const byPen = new Map<string, Set<number>>();
  const penOf = new Map<number, string>();
  for (const { animal, pen } of stays) {
    const place = places.get(animal);
    if (place === undefined) continue;
    byPen.set(pen, (byPen.get(pen) ?? new Set()).add(place));
    penOf.set(place, pen);
  }
  const known = new Map<number, Map<number, number>>();
  const reckon = (group: readonly number[]): void => {
    const a = relatedness(
      pedigree,
      Int32Array.from(group, (place) => positions[place]),
    );
    for (const [i, one] of group.entries()) {
      const row = known.get(one) ?? new Map<number, number>();
      for (const [j, other] of group.entries()) row.set(other, a[i * group.length + j]);
      known.set(one, row);
    }
  };
  return (one, other) => {
    if (!known.get(one)?.has(other)) {
      reckon([...new Set([one, other, ...(byPen.get(penOf.get(other) ?? '') ?? [])])]);
    }
    const value = known.get(one)?.get(other) ?? 0;
    const isUnknown = value === 0 && generations[one] === 0 && generations[other] === 0;
    return isUnknown ? null : value / 2;
  };
}

/** What the young of a flag's two animals could show, likeliest first; null unless they are a male and a female. */
function youngOf({ animals, definitions, odds }: PensInput, flag: PenFlag): TraitChance[] | null {
  if (!odds) return null;
  const places = flag.animals.map((code) => animals.findIndex(({ id }) => id === code));
  const male = places.find((place) => animals[place].sex === 'm');
  const female = places.find((place) => animals[place].sex === 'f');
  if (male === undefined || female === undefined) return null;
  return definitions.traits
    .map(({ id }): TraitChance => {
      const asked = { trait: id, target: 'shown' };
      const [chance] = targetChances(definitions, asked, [odds[male]], [odds[female]]);
      return { trait: id, chance };
    })
    .sort((a, b) => b.chance - a.chance);
}
