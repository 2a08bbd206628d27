import { Args, ID, Query, Resolver } from '@nestjs/graphql';
import { type FounderKinInput, founderKinSchema } from '@scutewright/commands';
import { Access, Right } from '../../auth/access.js';
import type { ProgramAccess } from '../../db/in-program.js';
import { UserError } from '../../graphql/errors.js';
import { Input } from '../../graphql/input-from-zod.js';
import type { Snapshot } from '../../snapshot/snapshot.js';
import { Snapshots } from '../../snapshot/snapshots.js';
import { Animal } from '../animals/animal.types.js';
import { positionOf, positionsOf } from '../animals/positions.js';
import { readFounderKin, supposedKinSentence } from './founder-kin.js';
import { Kin } from './kin.js';
import { kinWords, nearerWords, pathsSentence } from './kin-words.js';
import { KinPaths, KinSupposed, RelatednessAnswer } from './lineage.types.js';
import { kinAssumptions } from './lineage-words.js';

const MOST_COMPARED = 40;
const MOST_PATHS = 24;

@Resolver()
export class RelatednessResolver {
  constructor(
    private readonly snapshots: Snapshots,
    private readonly kin: Kin,
  ) {}

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
    const [a, b] = twoAnimals(snapshot, animalId, otherId);
    const [{ paths, total, remainder, founders }, [figure]] = await Promise.all([
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
      foundersOfA: founders[0].map((row) => new Animal(snapshot, row)),
      foundersOfB: founders[1].map((row) => new Animal(snapshot, row)),
    };
  }

  @Access('READER')
  @Query(() => KinSupposed, {
    description:
      'What F of a young of the two would be if two founders were kin. Nothing is written',
  })
  async kinSupposed(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Args('animalId', { type: () => ID }) animalId: string,
    @Args('otherId', { type: () => ID }) otherId: string,
    @Input(founderKinSchema) input: FounderKinInput,
  ): Promise<KinSupposed> {
    const snapshot = await this.snapshots.current(right);
    const [a, b] = twoAnimals(snapshot, animalId, otherId);
    const kin = readFounderKin(snapshot, input);
    const [[now], then] = await Promise.all([
      this.kin.pairs(snapshot, [a, b]),
      this.kin.pairIf(snapshot, a, b, kin),
    ]);
    return {
      sentence: supposedKinSentence(snapshot, kin, now, then),
      youngFNow: now.relatedness / 2,
      youngF: then.relatedness / 2,
      lowest: then.lowest / 2,
      highest: then.highest / 2,
    };
  }
}

function twoAnimals(snapshot: Snapshot, animalId: string, otherId: string): [number, number] {
  const a = positionOf(snapshot, animalId, 'animalId');
  const b = positionOf(snapshot, otherId, 'otherId');
  if (a !== b) return [a, b];
  throw new UserError('BAD_USER_INPUT', 'These are one and the same animal.', {
    place: 'otherId',
    remedy: 'Choose another animal.',
  });
}

/** How related animals are, two by two; one alone has no pair, and is told how far the books go back. */
async function relatednessAnswer(
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
    worst: figure.worst,
    youngF: figure.relatedness / 2,
    words: `${kinWords(snapshot, figure)}${nearerWords(figure)}`,
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
    assumptions: kinAssumptions(snapshot, positions),
  };
}
