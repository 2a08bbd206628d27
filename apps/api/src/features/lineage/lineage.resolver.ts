import { Args, ID, Int, Parent, Query, ResolveField, Resolver } from '@nestjs/graphql';
import { Access, Right } from '../../auth/access.js';
import { KNOWN_GENERATIONS } from '../../compute/inbreeding-task.js';
import type { ProgramAccess } from '../../db/in-program.js';
import {
  candidatesOf,
  candidatesOfClutch,
  clutchesOf,
  unrecordedShare,
} from '../../snapshot/findings.js';
import type { Snapshot } from '../../snapshot/snapshot.js';
import { Snapshots } from '../../snapshot/snapshots.js';
import { Animal } from '../animals/animal.types.js';
import { positionOf } from '../animals/positions.js';
import { youngOf } from '../genes/gene-finding.js';
import { GenesOfProgram } from '../genes/genes-of-program.js';
import { descendantCounts, possibleYoung } from './descendants.js';
import { Kin } from './kin.js';
import {
  type CommonAncestor,
  type FatherChance,
  InbreedingFinding,
  Lineage,
} from './lineage.types.js';
import { assumptionsOf, inbreedingSentence, lineageSentence } from './lineage-words.js';

/** Animals drawn at most: beyond that a page is no drawing any more. */
const MOST_SHOWN = 1000;
const MOST_YOUNG = 200;

@Resolver(() => Animal)
export class LineageResolver {
  constructor(
    private readonly snapshots: Snapshots,
    private readonly kin: Kin,
    private readonly genes: GenesOfProgram,
  ) {}

  @ResolveField(() => InbreedingFinding)
  async inbreeding(@Parent() animal: Animal): Promise<InbreedingFinding> {
    const { snapshot, position } = animal;
    const answer = await this.kin.inbreeding(snapshot);
    const start = position * KNOWN_GENERATIONS;
    const known = [...answer.known.subarray(start, start + KNOWN_GENERATIONS)];
    const value = answer.inbreeding[position];
    return {
      value,
      completeness: known,
      equivalentGenerations: answer.equivalentGenerations[position],
      sentence: inbreedingSentence(value, known),
      assumptions: assumptionsOf(animal),
      commonAncestors: value > 0 ? await this.sharedByParents(snapshot, position) : [],
      revision: snapshot.revision,
    };
  }

  @Access('READER')
  @Query(() => Lineage, {
    description: 'Ancestors and descendants of an animal, placed for drawing',
  })
  async lineage(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Args('animalId', { type: () => ID }) animalId: string,
    @Args('up', { type: () => Int, defaultValue: 4, description: 'Generations back, 0 to 30' })
    up: number,
    @Args('down', { type: () => Int, defaultValue: 1, description: 'Generations on, 0 to 30' })
    down: number,
  ): Promise<Lineage> {
    const snapshot = await this.snapshots.current(right);
    const position = positionOf(snapshot, animalId, 'animalId');
    const shown = relatives(snapshot, position, Math.min(up, 30), Math.min(down, 30));
    const [{ layout, known, founders, unrecorded }, genes, { inbreeding }] = await Promise.all([
      this.kin.lineage(snapshot, position, shown),
      this.genes.soonFor(snapshot),
      this.kin.inbreeding(snapshot),
    ]);
    const id = (row: number) => snapshot.animals.ids[row];
    const fathers = fatherChances(snapshot, position, genes?.sires[String(position)]);
    return {
      animal: new Animal(snapshot, position),
      sentence: lineageSentence(snapshot, position, fathers, known),
      width: layout.width,
      generations: layout.generations,
      animals: layout.animals.map(({ row, x, generation }) => ({
        animal: new Animal(snapshot, row),
        x,
        generation,
      })),
      pairs: layout.pairs.map(({ x, generation, parents, young }) => ({
        x,
        generation,
        isRelated: young.some(({ row }) => inbreeding[row] > 0),
        parents: parents.map(({ row, probability, line }) => ({
          animalId: id(row),
          // By all records; a mother, and a father nobody weighs, as who was where has it.
          probability: genes?.sires[String(young[0]?.row)]?.[String(row)] ?? probability,
          line: [...line],
        })),
        young: young.map(({ row, line }) => ({ animalId: id(row), line: [...line] })),
      })),
      founders: founders.map(({ row, share }) => ({ animal: new Animal(snapshot, row), share })),
      unrecorded,
      completeness: known,
      young: possibleYoung(snapshot, position).slice(0, MOST_YOUNG),
      descendants: descendantCounts(snapshot, position),
      fathers,
      areGenesPending: genes === null,
      assumptions: assumptionsOf(new Animal(snapshot, position)),
    };
  }

  private async sharedByParents(snapshot: Snapshot, position: number): Promise<CommonAncestor[]> {
    const [laying] = clutchesOf(snapshot, position);
    if (!laying) return [];
    const [sire] = candidatesOfClutch(snapshot.sires, laying.clutch);
    const [dam] = candidatesOfClutch(snapshot.dams, laying.clutch);
    if (!sire || !dam) return [];
    const [pair] = await this.kin.pairs(snapshot, [sire.position, dam.position]);
    return pair.ancestors.map(({ row, contribution }) => ({
      animal: new Animal(snapshot, row),
      contribution,
    }));
  }
}

/** The animal with its ancestors and descendants, nearest first, at most MOST_SHOWN. */
function relatives(snapshot: Snapshot, position: number, up: number, down: number): number[] {
  const shown = new Set([position]);
  const spread = (depth: number, next: (from: number) => readonly number[]): void => {
    let front = [position];
    for (let step = 0; step < depth && front.length > 0; step++) {
      const reached: number[] = [];
      for (const from of front) {
        for (const to of next(from)) {
          if (shown.has(to) || shown.size >= MOST_SHOWN) continue;
          shown.add(to);
          reached.push(to);
        }
      }
      front = reached;
    }
  };
  const parents = (of: number) =>
    [snapshot.sires, snapshot.dams].flatMap((columns) =>
      candidatesOf(snapshot, columns, of).map((each) => each.position),
    );
  spread(up, parents);
  spread(down, (of) => youngOf(snapshot, of));
  return [...shown];
}

function fatherChances(
  snapshot: Snapshot,
  position: number,
  after: Readonly<Record<string, number>> | undefined,
): FatherChance[] {
  const before = candidatesOf(snapshot, snapshot.sires, position);
  if (before.length === 1 && before[0].probability === 1) return [];
  const list: FatherChance[] = before.map((candidate) => ({
    animal: new Animal(snapshot, candidate.position),
    before: candidate.probability,
    after: after ? (after[String(candidate.position)] ?? 0) : candidate.probability,
    basis: candidate.basis,
  }));
  const rest = unrecordedShare(before);
  if (before.length > 0 && rest > 0) {
    list.push({
      animal: null,
      before: rest,
      after: after ? (after.unknown ?? 0) : rest,
      basis: 'ASSUMED',
    });
  }
  return list.sort((a, b) => b.after - a.after);
}
