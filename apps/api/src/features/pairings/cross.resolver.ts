import { Args, ID, Int, Query, Resolver } from '@nestjs/graphql';
import { Access, Right } from '../../auth/access.js';
import { ComputePool } from '../../compute/compute-pool.js';
import type { LookFigure, TraitFigure } from '../../compute/cross-task.js';
import { definitionsOf, linkageOf } from '../../compute/definitions-of.js';
import type { ProgramAccess } from '../../db/in-program.js';
import { UserError } from '../../graphql/errors.js';
import { sexOf } from '../../snapshot/findings.js';
import type { Snapshot } from '../../snapshot/snapshot.js';
import { Snapshots } from '../../snapshot/snapshots.js';
import { Animal } from '../animals/animal.types.js';
import { positionOf } from '../animals/positions.js';
import { traitType } from '../genes/gene-finding.js';
import { geneAssumptions } from '../genes/genes.resolver.js';
import { doubtfulOf, GenesOfProgram } from '../genes/genes-of-program.js';
import { Kin } from '../lineage/kin.js';
import { caseWords, lookName, plainSentence } from './cross-words.js';
import { JointParents } from './joint-parents.js';
import { CrossAnswer, type EggLook, type Odds, type TargetOdds } from './pairings.types.js';

/** Shares below this call for no caution of the trait. */
const RARE = 0.005;

@Resolver()
export class CrossResolver {
  constructor(
    private readonly snapshots: Snapshots,
    private readonly pool: ComputePool,
    private readonly genes: GenesOfProgram,
    private readonly kin: Kin,
    private readonly jointParents: JointParents,
  ) {}

  @Access('READER')
  @Query(() => CrossAnswer, {
    description: 'What the eggs of two animals can be, and what it costs',
  })
  async crossOdds(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Args('sireId', { type: () => ID }) sireId: string,
    @Args('damId', { type: () => ID }) damId: string,
    @Args('eggs', { type: () => Int, defaultValue: 12, description: '1 to 200' }) eggs: number,
  ): Promise<CrossAnswer> {
    if (eggs < 1 || eggs > 200) {
      throw new UserError('BAD_USER_INPUT', `A clutch has 1 to 200 eggs here, not ${eggs}.`, {
        place: 'eggs',
        remedy: 'Give a number of eggs from 1 to 200.',
      });
    }
    const snapshot = await this.snapshots.current(right);
    const sire = positionOf(snapshot, sireId, 'sireId');
    const dam = positionOf(snapshot, damId, 'damId');
    refuseImpossible(snapshot, sire, dam);
    return new CrossAnswer(new Animal(snapshot, sire), new Animal(snapshot, dam), eggs, {
      pair: once(async () => (await this.kin.pairs(snapshot, [sire, dam]))[0]),
      genes: once(() => this.genes.answerFor(snapshot)),
      odds: once(() => this.odds(snapshot, sire, dam, eggs)),
    });
  }

  private async odds(snapshot: Snapshot, sire: number, dam: number, eggs: number): Promise<Odds> {
    const genes = await this.genes.answerFor(snapshot);
    const doubtful = doubtfulOf(genes);
    const joint = await this.jointParents.joint(snapshot, sire, dam, genes);
    if (!joint.isPossible) {
      throw new UserError(
        'CONFLICT',
        'Colour records of this program contradict each other in more ways than could be listed, so odds cannot be given.',
        {
          place: 'programId',
          remedy: 'Look at the contradictions under Genes and mend one of their records.',
        },
      );
    }
    const figures = await this.pool.run('cross', {
      definitions: definitionsOf(snapshot),
      linkage: linkageOf(snapshot),
      joint: joint.byTrait,
      eggs,
    });
    const { codes } = snapshot.animals;
    const targets = figures.map((figure) =>
      targetOf(snapshot, figure, { sire: codes[sire], dam: codes[dam] }),
    );
    const visible = snapshot.traits.filter(({ name }) =>
      figures.some(({ trait, share }) => trait === name && share.value >= RARE),
    );
    const assumptions = [
      ...(doubtful.length > 0
        ? [
            `${doubtful.length} colour records that contradict each other are left out until that is settled under Genes.`,
          ]
        : []),
      ...geneAssumptions(snapshot),
      ...(joint.isExact
        ? []
        : ['Approximate: the records of this program are too entangled to count every case.']),
      'Odds are of young that hatch; every egg of a clutch shares its parents.',
      ...(joint.apart.length > 0
        ? [
            `Approximate for ${joint.apart.join(' and ')}: what the records say of its genes together was too much to count, so each gene was taken by itself.`,
          ]
        : []),
      ...(snapshot.loci.length > 1
        ? ['Genes that are not said to lie on one chromosome are taken as passed on independently.']
        : []),
    ];
    return { targets, visible, assumptions };
  }
}

/** Works it out at the first call only. */
function once<Answer>(work: () => Promise<Answer>): () => Promise<Answer> {
  let answer: Promise<Answer> | undefined;
  return () => {
    answer ??= work();
    return answer;
  };
}

function refuseImpossible(snapshot: Snapshot, sire: number, dam: number): void {
  const { codes, species } = snapshot.animals;
  const refuse = (message: string, place: string, remedy: string): never => {
    throw new UserError('BAD_USER_INPUT', message, { place, remedy });
  };
  if (sire === dam)
    refuse('An animal cannot be paired with itself.', 'damId', 'Choose two animals.');
  if (sexOf(snapshot, sire) === 'FEMALE')
    refuse(`${codes[sire]} is female.`, 'sireId', 'Choose a male, or swap the two.');
  if (sexOf(snapshot, dam) === 'MALE')
    refuse(`${codes[dam]} is male.`, 'damId', 'Choose a female, or swap the two.');
  if (species[sire] !== species[dam]) {
    refuse(
      `${codes[sire]} and ${codes[dam]} are of different species.`,
      'damId',
      'Keep species apart: choose two of one species.',
    );
  }
}

function targetOf(
  snapshot: Snapshot,
  figure: TraitFigure,
  codes: { readonly sire: string; readonly dam: string },
): TargetOdds {
  const trait = snapshot.traits.find(({ name }) => name === figure.trait);
  if (!trait) throw new Error(`The odds speak of a trait '${figure.trait}' that was not asked for`);
  const words = caseWords(figure, codes);
  return {
    trait: traitType(trait),
    share: figure.share,
    looks: looksOf(figure.looks),
    plainSentence: plainSentence(figure),
    clutch: figure.counts.map(({ exactly, atLeast }, count) => ({ count, exactly, atLeast })),
    atLeastOne: figure.atLeastOne,
    eggsNeeded: [...figure.eggsNeeded],
    limit: figure.limit,
    cases: figure.cases.map(({ weight, share, looks }, i) => ({
      sentence: words[i],
      probability: weight,
      perEgg: share,
      looks: looksOf(looks),
    })),
  };
}

const looksOf = (looks: readonly LookFigure[]): EggLook[] =>
  looks.map((look) => ({ ...look, name: lookName(look) }));
