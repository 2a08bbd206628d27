import {
  Args,
  Field,
  Float,
  ID,
  Int,
  ObjectType,
  Parent,
  Query,
  ResolveField,
  Resolver,
} from '@nestjs/graphql';
import { Access, Right } from '../../auth/access.js';
import { KNOWN_GENERATIONS } from '../../compute/inbreeding-task.js';
import type { ProgramAccess } from '../../db/in-program.js';
import { UserError } from '../../graphql/errors.js';
import {
  candidatesOf,
  candidatesOfClutch,
  clutchesOf,
  unrecordedShare,
} from '../../snapshot/findings.js';
import { NONE, type Snapshot } from '../../snapshot/snapshot.js';
import { Snapshots } from '../../snapshot/snapshots.js';
import { Animal } from '../animals/animal.types.js';
import { positionOf, positionsOf } from '../animals/positions.js';
import { youngOf } from '../genes/gene-finding.js';
import { GenesOfProgram } from '../genes/genes-of-program.js';
import { descendantCounts, possibleYoung } from './descendants.js';
import { Kin } from './kin.js';
import { kinWords, pathsSentence } from './kin-words.js';
import {
  CommonAncestor,
  type FatherChance,
  KinPaths,
  Lineage,
  RelatednessAnswer,
} from './lineage.types.js';

@ObjectType({ description: 'How inbred an animal is, and how much the figure stands on' })
export class InbreedingFinding {
  @Field(() => Float, {
    description: 'Inbreeding coefficient F, 0 to 1, expected over the possible fathers',
  })
  value: number;
  @Field(() => [Float], {
    description: 'Share of ancestral places recorded, 0 to 1: parents first, then grandparents ...',
  })
  completeness: number[];
  @Field(() => Float, { description: 'Equivalent complete generations recorded' })
  equivalentGenerations: number;
  @Field(() => String, { description: 'The finding in one sentence' }) sentence: string;
  @Field(() => [String], { description: 'What the figure takes for granted' })
  assumptions: string[];
  @Field(() => [CommonAncestor], {
    description: 'Whom its parents share; at most five, largest first',
  })
  commonAncestors: CommonAncestor[];
  @Field(() => Int, { description: 'The revision it was computed at' }) revision: number;
}

/** Animals drawn at most: beyond that a page is no drawing any more. */
const MOST_SHOWN = 1000;
const MOST_COMPARED = 40;
const MOST_YOUNG = 200;
const MOST_PATHS = 24;

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
      this.genes.answerFor(snapshot),
      this.kin.inbreeding(snapshot),
    ]);
    const id = (row: number) => snapshot.animals.ids[row];
    const fathers = fatherChances(snapshot, position, genes.sires[String(position)]);
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
          probability: genes.sires[String(young[0]?.row)]?.[String(row)] ?? probability,
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
      assumptions: assumptionsOf(new Animal(snapshot, position)),
    };
  }

  @Access('READER')
  @Query(() => RelatednessAnswer, { description: 'How related some animals are, two by two' })
  async relatedness(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Args('animalIds', { type: () => [ID], description: '2 to 40' }) animalIds: string[],
  ): Promise<RelatednessAnswer> {
    const snapshot = await this.snapshots.current(right);
    return relatednessAnswer(
      this.kin,
      snapshot,
      positionsOf(snapshot, [...new Set(animalIds)], 'animalIds'),
    );
  }

  @Access('READER')
  @Query(() => KinPaths, { description: 'Over which ancestors two animals are related' })
  async kinPaths(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Args('animalId', { type: () => ID }) animalId: string,
    @Args('otherId', { type: () => ID }) otherId: string,
  ): Promise<KinPaths> {
    const snapshot = await this.snapshots.current(right);
    const a = positionOf(snapshot, animalId, 'animalId');
    const b = positionOf(snapshot, otherId, 'otherId');
    if (a === b) {
      throw new UserError('BAD_USER_INPUT', 'These are one and the same animal.', {
        place: 'otherId',
        remedy: 'Choose another animal.',
      });
    }
    const [{ paths, total, remainder }, [figure]] = await Promise.all([
      this.kin.paths(snapshot, a, b, MOST_PATHS),
      this.kin.pairs(snapshot, [a, b]),
    ]);
    const animal = (row: number | null) => (row === null ? null : new Animal(snapshot, row));
    return {
      a: new Animal(snapshot, a),
      b: new Animal(snapshot, b),
      sentence: pathsSentence(snapshot, figure, paths, remainder),
      youngF: total,
      lowest: figure.lowest / 2,
      highest: figure.highest / 2,
      paths: paths.map(({ through, ancestor, contribution }) => ({
        animals: through.map(animal),
        ancestor: animal(ancestor),
        share: contribution,
      })),
      remainder,
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

export async function relatednessAnswer(
  kin: Kin,
  snapshot: Snapshot,
  positions: readonly number[],
): Promise<RelatednessAnswer> {
  if (positions.length < 1 || positions.length > MOST_COMPARED) {
    throw new UserError(
      'BAD_USER_INPUT',
      `Up to ${MOST_COMPARED} animals are compared at once, not ${positions.length}.`,
      {
        place: 'animalIds',
        remedy: 'Choose fewer animals.',
      },
    );
  }
  const [figures, { equivalentGenerations }] = await Promise.all([
    kin.pairs(snapshot, positions),
    kin.inbreeding(snapshot),
  ]);
  const pairs = figures.map((figure) => ({
    a: new Animal(snapshot, figure.a),
    b: new Animal(snapshot, figure.b),
    relatedness: figure.relatedness,
    lowest: figure.lowest,
    highest: figure.highest,
    youngF: figure.relatedness / 2,
    words: kinWords(snapshot, figure),
  }));
  const close = pairs.filter(({ highest }) => highest > 0);
  const back = Math.min(...positions.map((position) => equivalentGenerations[position]));
  const books =
    back < 0.05
      ? 'Of one of them the books hold no parent at all.'
      : `The books go back ${back.toFixed(1)} full generations for the one of which least is known.`;
  return {
    animals: positions.map((position) => new Animal(snapshot, position)),
    pairs,
    generationsKnown: positions.map((position) => equivalentGenerations[position]),
    sentence:
      pairs.length === 0
        ? books
        : close.length === 0
          ? `No two of them share a parent or an ancestor in our books. ${books}`
          : `${close.length} of ${pairs.length} pairs are related in our books. ${books}`,
    assumptions: [
      'Animals whose parents are not recorded are taken as unrelated to each other: what the books do not hold may still be so.',
      'A male that nobody recorded is taken as a stranger.',
    ],
  };
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

function lineageSentence(
  snapshot: Snapshot,
  position: number,
  fathers: readonly FatherChance[],
  known: readonly number[],
): string {
  const { codes, names } = snapshot.animals;
  const call = (row: number) => names[row] ?? codes[row];
  const [sire] = candidatesOf(snapshot, snapshot.sires, position);
  const [dam] = candidatesOf(snapshot, snapshot.dams, position);
  const generations = known.filter((share) => share > 0).length;
  if (!sire && !dam) return `Nothing is recorded of the parents of ${call(position)}.`;
  const clutches = clutchesOf(snapshot, position);
  const mother = dam
    ? `${call(dam.position)}${dam.probability === 1 ? '' : ' (perhaps)'}`
    : 'a mother nobody recorded';
  const back = `the books go back ${generations} ${generations === 1 ? 'generation' : 'generations'}`;
  if (snapshot.animals.clutch[position] === NONE) {
    const of = clutches.map(
      ({ clutch, probability }) =>
        `${snapshot.clutches.codes[clutch] ?? 'a clutch without a code'} (${hundredths(probability)} in 100)`,
    );
    const rest = unrecordedShare(clutches);
    if (rest > 0) of.push(`a clutch nobody recorded (${hundredths(rest)} in 100)`);
    return `${call(position)} may be of ${of.join(' or ')}; ${back}.`;
  }
  if (fathers.length === 0)
    return `${call(position)} is a young of ${sire ? call(sire.position) : 'a father nobody recorded'} and ${mother}; ${back}.`;
  const [best] = fathers;
  const who = best.animal ? call(best.animal.position) : 'a male nobody recorded';
  return `${call(position)} is a young of ${mother}; its father is one of ${fathers.length}, most likely ${who} in ${hundredths(best.after)} of 100; ${back}.`;
}

function inbreedingSentence(value: number, known: readonly number[]): string {
  const generations = known.filter((share) => share > 0).length;
  if (generations === 0) {
    return 'Nothing is recorded of its parents, so its inbreeding is not known.';
  }
  const back = `our books go back ${generations} ${generations === 1 ? 'generation' : 'generations'}`;
  const parents = Math.round(known[0] * 100);
  const share = known[0] < 1 ? `, and of its parents ${parents} % are recorded` : '';
  if (value === 0) return `Its parents share no ancestor in our books; ${back}${share}.`;
  return `F is ${value.toFixed(3)}: about ${Math.round(value * 100)} in 100 of its genes came down twice from one ancestor; ${back}${share}.`;
}

function assumptionsOf(animal: Animal): string[] {
  const list = ['Animals whose parents are not recorded are taken as unrelated to each other.'];
  const clutches = clutchesOf(animal.snapshot, animal.position);
  if (clutches.length > 1) {
    list.push(
      `Figures are means over the ${clutches.length} clutches that it may be of, by their probabilities; mother and father of one clutch go together.`,
    );
  }
  if (animal.sire.candidates.length > 1) {
    list.push(
      'Figures of relatedness are means over its possible fathers, by their probabilities.',
    );
  }
  if (animal.sire.unrecorded > 0 && clutches.length > 0) {
    list.push('A male that nobody recorded is taken as a stranger.');
  }
  return list;
}

/** Of 100, never rounded to none or all. */
const hundredths = (chance: number): number => Math.min(99, Math.max(1, Math.round(chance * 100)));
