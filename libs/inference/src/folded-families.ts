import { invariant } from '@scutewright/basics';
import type { Group } from './animal-evidence.js';
import { spreadOver } from './evidence.js';
import { FoldedYoung } from './fold-young.js';
import type { Parents } from './parent-choices.js';
import type { ProgramDraft } from './program-draft.js';

/** Combinations of the parents' states for which young are summed out by hand, at most. */
const MOST_FOLDED = 6561;

/** The young without young of their own, family by family, summed out before the network is solved. */
export class FoldedFamilies {
  private readonly families = new Map<string, FoldedYoung>();

  constructor(private readonly draft: ProgramDraft) {}

  canFold(animal: number): boolean {
    const { program, findOf, own, blocks } = this.draft;
    const hasParents =
      findOf.has(animal) ||
      program.clutch[animal] >= 0 ||
      program.sire[animal] >= 0 ||
      program.dam[animal] >= 0;
    if (!hasParents) return false;
    return own.foldedGroups(animal).every((group) => {
      const most = group.blocks.reduce((product, b) => product * blocks[b].states ** 2, 1);
      return group.blocks.length === 1 || most <= MOST_FOLDED;
    });
  }

  /** The family of these parents at these blocks. */
  of(blocks: readonly number[], parents: Parents): FoldedYoung {
    const slots = blocks.map((b) => ({ sire: parents.sire[b], dam: parents.dam[b] }));
    const key = `${blocks}|${slots.map(({ sire, dam }) => `${sire},${dam}`)}`;
    let family = this.families.get(key);
    if (!family) {
      family = new FoldedYoung(
        blocks.map((b) => this.draft.blocks[b]),
        slots,
        this.draft.builder,
      );
      this.families.set(key, family);
    }
    return family;
  }

  fold(animal: number, parents: Parents | null): void {
    invariant(parents, 'only young with a parent are folded');
    for (const group of this.draft.own.foldedGroups(animal)) {
      const family = this.of(group.blocks, parents);
      // A silent young has weight 1 in every combination, a sex-linked block given its sex included.
      if (group.informative) family.add(group.m, 1);
      this.draft.readers.push({
        kind: 'folded',
        animal,
        blocks: group.blocks,
        family,
        likelihood: group.m,
      });
      this.addRecords(animal, group, family);
    }
  }

  private addRecords(animal: number, group: Group, family: FoldedYoung): void {
    const sex = this.draft.own.sexOf(animal);
    for (const { record, blocks, m, f } of this.draft.own.likelihoods[animal]) {
      if (!group.blocks.includes(blocks[0]) || (m !== f && !sex)) continue;
      const own = spreadOver(
        this.draft.own.soften(sex === 'f' ? f : m),
        blocks,
        group.blocks,
        this.draft.blocks,
      );
      this.draft.recordReaders.push({ record, kind: 'folded', family, likelihood: group.m, own });
    }
  }

  /** Hands the families' tables to the network, once all young are in. */
  close(): void {
    const { builder, readers } = this.draft;
    const read = new Set(readers.map((r) => (r.kind === 'folded' ? r.family : null)));
    for (const family of this.families.values()) {
      this.draft.logConstant += family.close(builder, read.has(family));
    }
  }
}
