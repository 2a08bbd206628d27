import { Args, ID, Int, Query, Resolver } from '@nestjs/graphql';
import { type PairingSettings, pairingSettingsSchema } from '@scutewright/commands';
import { Access, Right } from '../../auth/access.js';
import { ComputePool } from '../../compute/compute-pool.js';
import type { ProgramAccess } from '../../db/in-program.js';
import { notFound, UserError } from '../../graphql/errors.js';
import { check, inputType } from '../../graphql/input-from-zod.js';
import { sexFinding } from '../../snapshot/findings.js';
import type { Snapshot, TraitRow } from '../../snapshot/snapshot.js';
import { Snapshots } from '../../snapshot/snapshots.js';
import { today } from '../../snapshot/today.js';
import { Animal } from '../animals/animal.types.js';
import { positionOf } from '../animals/positions.js';
import { traitType } from '../genes/gene-finding.js';
import { GenesOfProgram } from '../genes/genes-of-program.js';
import { Kin } from '../lineage/kin.js';
import { JointParents } from './joint-parents.js';
import { PairingSuggestions, SeasonPairings } from './pairings.types.js';
import { breeders } from './possible-mates.js';
import { rankInput, settingsOf, weighedPair, weighingAssumptions } from './weigh-pairs.js';

/** Animals weighed at once at most: their relatedness is a square. */
const MOST_WEIGHED = 3000;
const PairingSettingsInput = inputType(pairingSettingsSchema);

@Resolver()
export class MatesResolver {
  constructor(
    private readonly snapshots: Snapshots,
    private readonly pool: ComputePool,
    private readonly genes: GenesOfProgram,
    private readonly kin: Kin,
    private readonly parents: JointParents,
  ) {}

  @Access('READER')
  @Query(() => PairingSuggestions, {
    description: 'Possible mates of an animal by expected healthy young of a trait',
  })
  async suggestPairings(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Args('animalId', { type: () => ID }) animalId: string,
    @Args('traitId', { type: () => ID, nullable: true, description: 'The first trait if left out' })
    traitId?: string,
    @Args('first', { type: () => Int, defaultValue: 20, description: '1 to 200' }) first = 20,
    @Args('settings', { type: () => PairingSettingsInput, nullable: true }) given?: unknown,
  ): Promise<PairingSuggestions> {
    const settings = check(pairingSettingsSchema, given ?? {}, 'settings');
    const snapshot = await this.snapshots.current(right);
    const animal = positionOf(snapshot, animalId, 'animalId');
    const trait = traitOf(snapshot, traitId);
    const { sex } = sexFinding(snapshot, animal);
    if (sex === 'UNKNOWN') {
      throw new UserError(
        'BAD_USER_INPUT',
        `The sex of ${snapshot.animals.codes[animal]} is not known, so no mates can be named.`,
        {
          thing: snapshot.animals.codes[animal],
          place: 'animalId',
          remedy: 'Record its sex first, or choose another animal.',
        },
      );
    }
    const species = snapshot.animals.species[animal];
    const found = breeders(snapshot, today(), settings, species);
    const generations = await this.generations(snapshot);
    const [males, females] =
      sex === 'MALE'
        ? [[animal], this.known(found.females, generations, settings)]
        : [this.known(found.males, generations, settings), [animal]];
    const weighing = { snapshot, trait, males, females, settings, generations };
    const genes = await this.genes.answerFor(snapshot);
    const ranked = await this.pool.run('rank', rankInput(weighing, genes));
    const limit = settings.highestF ?? 1;
    const within = ranked.filter(({ F }) => F <= limit);
    this.parents.expect(weighing, within[0], genes);
    const figures = settingsOf(snapshot, species, settings);
    return {
      animal: new Animal(snapshot, animal),
      trait: traitType(trait),
      suggestions: within
        .slice(0, Math.max(1, Math.min(200, first)))
        .map((pair, i) => weighedPair(weighing, pair, i === 0 ? null : within[i - 1])),
      over: ranked
        .filter(({ F }) => F > limit)
        .slice(0, 5)
        .map((pair) => weighedPair(weighing, pair, within[0] ?? null)),
      weighed: ranked.length,
      settings: figures,
      leftOut: [...found.leftOut],
      assumptions: weighingAssumptions(snapshot, figures),
    };
  }

  @Access('READER')
  @Query(() => SeasonPairings, {
    description: 'The best male for each female by expected healthy young of a trait',
  })
  async seasonPairings(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Args('traitId', { type: () => ID, nullable: true, description: 'The first trait if left out' })
    traitId?: string,
    @Args('first', { type: () => Int, defaultValue: 12, description: '1 to 200' }) first = 12,
    @Args('settings', { type: () => PairingSettingsInput, nullable: true }) given?: unknown,
  ): Promise<SeasonPairings> {
    const settings = check(pairingSettingsSchema, given ?? {}, 'settings');
    const snapshot = await this.snapshots.current(right);
    const trait = traitOf(snapshot, traitId);
    const species = commonSpecies(snapshot);
    const found = breeders(snapshot, today(), settings, species);
    const generations = await this.generations(snapshot);
    const males = this.known(found.males, generations, settings);
    const females = this.known(found.females, generations, settings);
    if (males.length + females.length > MOST_WEIGHED) {
      throw new UserError(
        'BAD_USER_INPUT',
        `${males.length} males and ${females.length} females are more than the ${MOST_WEIGHED} that are weighed at once.`,
        {
          place: 'settings.penId',
          remedy:
            snapshot.pens.length > 0
              ? 'Choose a pen, or ask for the mates of one animal.'
              : 'Record who lives where, or ask for the mates of one animal.',
        },
      );
    }
    const weighing = { snapshot, trait, males, females, settings, generations };
    const genes = await this.genes.answerFor(snapshot);
    const answer = await this.pool.run('bestMates', {
      ...rankInput(weighing, genes),
      highestF: settings.highestF ?? 1,
      first: Math.max(1, Math.min(200, first)),
    });
    this.parents.expect(weighing, answer.pairs[0]?.best, genes);
    const figures = settingsOf(snapshot, species, settings);
    const pairs = answer.pairs.map(({ best, next }, i) => ({
      pair: weighedPair(weighing, best, i === 0 ? null : answer.pairs[i - 1].best),
      next: next && weighedPair(weighing, next, best),
    }));
    const [top] = pairs;
    return {
      trait: traitType(trait),
      sentence: !top
        ? 'No two animals here can be paired by the records.'
        : top.pair.value === 0
          ? `No pair here can give ${trait.name}, as far as the records go.`
          : `For ${trait.name}, ${top.pair.sire.code} with ${top.pair.dam.code} stands first: ${top.pair.value < 0.05 ? 'hardly any young' : `about ${top.pair.value.toFixed(1)} young`} of that kind a season.`,
      pairs,
      females: answer.females,
      over: answer.over.map((pair) => weighedPair(weighing, pair, answer.pairs[0]?.best ?? null)),
      weighed: answer.weighed,
      settings: figures,
      leftOut: [...found.leftOut],
      assumptions: [
        ...weighingAssumptions(snapshot, figures),
        'Each female is weighed for herself: a male may stand with several.',
      ],
    };
  }

  private async generations(snapshot: Snapshot): Promise<Float64Array> {
    return (await this.kin.inbreeding(snapshot)).equivalentGenerations;
  }

  private known(
    positions: readonly number[],
    generations: Float64Array,
    { onlyKnownKin }: PairingSettings,
  ): readonly number[] {
    return onlyKnownKin ? positions.filter((position) => generations[position] > 0) : positions;
  }
}

function traitOf(snapshot: Snapshot, traitId: string | undefined): TraitRow {
  const trait = traitId ? snapshot.traits.find(({ id }) => id === traitId) : snapshot.traits[0];
  if (!trait)
    throw notFound(
      'such trait',
      'traitId',
      'Choose one of the traits of the program; add one if there is none.',
    );
  return trait;
}

/** The species most animals of the program are of. */
function commonSpecies({ animals }: Snapshot): string {
  const counts = new Map<string, number>();
  for (const species of animals.species) counts.set(species, (counts.get(species) ?? 0) + 1);
  return [...counts].sort((a, b) => b[1] - a[1])[0]?.[0] ?? '';
}
