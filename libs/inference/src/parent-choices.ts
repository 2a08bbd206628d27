import { ClutchParents, equalIf, type Selector } from './clutch-parents.js';
import type { YoungChoice } from './compiled-program.js';
import { BASE } from './fold-young.js';
import type { ProgramDraft } from './program-draft.js';

/** Combinations of sires of the young of a clutch that are listed together, at most. */
const MOST_JOINT = 4096;

/** Variables of an animal's parents by block; `BASE` for one nobody recorded. */
export interface Parents {
  readonly sire: readonly number[];
  readonly dam: readonly number[];
}

/** Who the parents are, where that is open: those of each clutch, and the choices of young that choose for themselves. */
export class ParentChoices {
  readonly list: YoungChoice[] = [];
  private readonly clutchParents = new Map<number, ClutchParents>();
  /** Clutches of which some young may be of another one. */
  private readonly shared = new Set<number>();

  constructor(private readonly draft: ProgramDraft) {
    for (const find of draft.program.finds) {
      for (const clutch of find.clutches) this.shared.add(clutch);
    }
  }

  parentsOfClutch(clutch: number): ClutchParents {
    let parents = this.clutchParents.get(clutch);
    if (!parents) {
      parents = new ClutchParents(
        this.draft.program.clutches[clutch],
        this.draft.blocks,
        this.draft.builder,
        this.draft.variableOf,
        this.shared.has(clutch),
      );
      this.clutchParents.set(clutch, parents);
    }
    return parents;
  }

  /** Variables of an animal's parents by block; null for a founder. */
  of(animal: number): Parents | null {
    const { program, blocks, variableOf } = this.draft;
    const clutch = program.clutch[animal];
    if (clutch >= 0) {
      const parents = this.parentsOfClutch(clutch);
      if (parents.sire) return { sire: parents.sire, dam: parents.dam };
      return this.add(animal, [clutch], new Float64Array([1])).parents;
    }
    const [sire, dam] = [program.sire[animal], program.dam[animal]];
    if (sire < 0 && dam < 0) return null;
    const at = (parent: number): number[] =>
      blocks.map((_, b) => (parent < 0 ? BASE : variableOf(parent, b)));
    return { sire: at(sire), dam: at(dam) };
  }

  /**
   * A young that chooses its sire, and perhaps its clutch, by itself: a choice variable and latent parents that
   * equal whom it chooses. `weights` may be null when the choice of clutch is weighed elsewhere.
   */
  add(
    animal: number,
    clutches: ArrayLike<number>,
    weights: Float64Array | null,
  ): { choice: YoungChoice; parents: Parents } {
    const { builder, blocks } = this.draft;
    const of = Array.from(clutches, (clutch) => this.parentsOfClutch(clutch));
    const states = of.flatMap((parents, k) =>
      parents.sources.map((source, place) => ({ clutch: clutches[k], source, k, place })),
    );
    const variable = builder.selector(states.length);
    if (weights) builder.fill([variable], ([s]) => weights[states[s].k]);
    for (const [k, parents] of of.entries()) {
      const weigh = (mode: number, s: number): number =>
        states[s].k === k ? parents.chance[mode][states[s].place] : 1;
      if (parents.mode >= 0) builder.fill([parents.mode, variable], ([mode, s]) => weigh(mode, s));
      else builder.fill([variable], ([s]) => weigh(0, s));
    }
    const sire = blocks.map((block, b) => {
      const all = Int32Array.from({ length: block.states }, (_, state) => state);
      const latent = builder.variable(all.filter((state) => block.fits(state, 'm')));
      const bySource = new Map<number, number[]>();
      for (const [s, { source, k }] of states.entries()) {
        const from =
          of[k].sire && of[k].sources.length === 1 ? of[k].sire![b] : of[k].sourceAt(source, b);
        bySource.set(from, [...(bySource.get(from) ?? []), s]);
      }
      for (const [from, chosen] of bySource) {
        if (from === BASE) {
          builder.fill([variable, latent], ([s, g]) => (chosen.includes(s) ? block.base.m[g] : 1));
        } else {
          equalIf(builder, variable, chosen, latent, from);
        }
      }
      return latent;
    });
    const dam = blocks.map((block, b) => {
      if (of.length === 1) return of[0].dam[b];
      const all = Int32Array.from({ length: block.states }, (_, state) => state);
      const latent = builder.variable(all.filter((state) => block.fits(state, 'f')));
      const byDam = new Map<number, number[]>();
      for (const [s, { k }] of states.entries()) {
        byDam.set(of[k].dam[b], [...(byDam.get(of[k].dam[b]) ?? []), s]);
      }
      for (const [from, chosen] of byDam) equalIf(builder, variable, chosen, latent, from);
      return latent;
    });
    const choice: YoungChoice = { animal, variable, states };
    this.list.push(choice);
    return { choice, parents: { sire, dam } };
  }

  /** Ties the choices of a clutch's young by a table of ones, so that they stand in one clique. */
  join(): Map<number, YoungChoice[]> {
    const byClutch = new Map<number, YoungChoice[]>();
    for (const choice of this.list) {
      const clutches = new Set(choice.states.map((state) => state.clutch));
      if (clutches.size > 1) continue;
      const [clutch] = clutches;
      byClutch.set(clutch, [...(byClutch.get(clutch) ?? []), choice]);
    }
    for (const [clutch, choices] of byClutch) {
      const size = choices.reduce((product, choice) => product * choice.states.length, 1);
      if (size > MOST_JOINT) byClutch.delete(clutch);
      else {
        choices.sort((one, other) => one.animal - other.animal);
        this.draft.builder.fill(
          choices.map((choice) => choice.variable),
          () => 1,
        );
      }
    }
    return byClutch;
  }

  /** By clutch where there is a choice, in the order in which the clutches were asked for. */
  selectors(role: 'sire' | 'dam'): Map<number, Selector> {
    const map = new Map<number, Selector>();
    for (const [clutch, parents] of this.clutchParents) {
      const selector = role === 'sire' ? parents.sireSelector : parents.damSelector;
      if (selector) map.set(clutch, selector);
    }
    return map;
  }
}
