import { Args, ID, Int, Query, Resolver } from '@nestjs/graphql';
import { INBREEDING_COSTS, inbreedingSurvival, pairingValue } from '@scutewright/planning';
import { Access, Right } from '../../auth/access.js';
import { ComputePool } from '../../compute/compute-pool.js';
import { inferenceInput, lociOfRule } from '../../compute/inference-input.js';
import type { CrossFigures } from '../../compute/pairing-task.js';
import type { ProgramAccess } from '../../db/in-program.js';
import { notFound, UserError } from '../../graphql/errors.js';
import { housedAnimals, sexFinding } from '../../snapshot/findings.js';
import type { Snapshot } from '../../snapshot/snapshot.js';
import { Snapshots } from '../../snapshot/snapshots.js';
import { today } from '../../snapshot/today.js';
import { Animal } from '../animals/animal.types.js';
import { positionOf } from '../animals/positions.js';
import { traitType } from '../genes/gene-finding.js';
import { geneAssumptions, geneRow } from '../genes/genes.resolver.js';
import { GenesOfProgram } from '../genes/genes-of-program.js';
import { Kin } from '../lineage/kin.js';
import { youngSentence } from '../lineage/kin-words.js';
import { pairCautions } from './pair-cautions.js';
import { CrossAnswer, PairingSuggestions, type TargetOdds } from './pairings.types.js';
import { FERTILITY, HATCH, seasonDefaults } from './season-defaults.js';

const [COST] = INBREEDING_COSTS;
/** Shares below this call for no caution of the trait. */
const RARE = 0.005;

@Resolver()
export class PairingsResolver {
  constructor(
    private readonly snapshots: Snapshots,
    private readonly pool: ComputePool,
    private readonly genes: GenesOfProgram,
    private readonly kin: Kin,
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
    const genes = await this.genes.answerFor(snapshot);
    if (!genes.isPossible) {
      throw new UserError(
        'CONFLICT',
        'Some colour records of this program contradict each other, so odds cannot be given.',
        {
          place: 'programId',
          remedy: 'Look at the contradictions under Genes and mend one of their records.',
        },
      );
    }
    const program = inferenceInput(snapshot, today());
    const [joint, [pair]] = await Promise.all([
      this.pool.run('jointParents', { program, sire, dam }),
      this.kin.pairs(snapshot, [sire, dam]),
    ]);
    const definitions = definitionsOf(snapshot);
    const figures = await this.pool.run('cross', {
      definitions,
      joint: joint.byLocus,
      eggs,
    });
    const F = pair.relatedness / 2;
    const shown = snapshot.traits.filter(({ name }) => (classShare(figures, name) ?? 0) >= RARE);
    const targets = targetsOf(snapshot, figures);
    return {
      sire: new Animal(snapshot, sire),
      dam: new Animal(snapshot, dam),
      eggs,
      sentence: crossSentence(targets, eggs),
      caveat: crossCaveat(targets),
      traits: snapshot.traits.map((trait) => ({
        trait: traitType(trait),
        classes: (figures.classes[trait.name] ?? []).map(({ name, share }) => ({
          name: name === 'shown' ? trait.name : `not ${trait.name}`,
          share,
          isTarget: name === 'shown',
        })),
      })),
      targets,
      inbreeding: {
        value: F,
        lowest: pair.lowest / 2,
        highest: pair.highest / 2,
        isRangeExact: pair.isExact,
        sentence: youngSentence(F, pair.lowest / 2, pair.highest / 2),
        commonAncestors: pair.ancestors.map(({ row, contribution }) => ({
          animal: new Animal(snapshot, row),
          contribution,
        })),
      },
      parents: [sire, dam].map((position) => geneRow(snapshot, genes, position)),
      cautions: pairCautions(F, pair.highest / 2, shown),
      assumptions: [
        ...geneAssumptions(snapshot),
        ...(joint.isExact
          ? []
          : ['Approximate: the records of this program are too entangled to count every case.']),
        'Odds are of young that hatch; every egg of a clutch shares its parents.',
        ...(snapshot.loci.length > 1
          ? ['Different genes are taken as passed on independently.']
          : []),
      ],
    };
  }

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
  ): Promise<PairingSuggestions> {
    const snapshot = await this.snapshots.current(right);
    const animal = positionOf(snapshot, animalId, 'animalId');
    const trait = traitId ? snapshot.traits.find(({ id }) => id === traitId) : snapshot.traits[0];
    if (!trait)
      throw notFound(
        'such trait',
        'traitId',
        'Choose one of the traits of the program; add one if there is none.',
      );
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
    const { mates, leftOut } = possibleMates(snapshot, animal, sex);
    const genes = await this.genes.answerFor(snapshot);
    const codes = new Set(lociOfRule(trait.definition.when));
    const definitions = definitionsOf(snapshot);
    const odds = (position: number) =>
      Object.fromEntries([...codes].map((code) => [code, genes.genotypes[String(position)][code]]));
    const [kinships, chances] = await Promise.all([
      this.kin.with(snapshot, animal, mates),
      this.pool.run('targets', {
        definitions: {
          loci: definitions.loci.filter(({ id }) => codes.has(id)),
          traits: definitions.traits.filter(({ id }) => id === trait.name),
        },
        trait: trait.name,
        animal: odds(animal),
        mates: mates.map(odds),
        isSire: sex === 'MALE',
      }),
    ]);
    const suggestions = mates.map((mate, i) => {
      const dam = sex === 'MALE' ? mate : animal;
      const season = seasonDefaults(snapshot.animals.species[dam]);
      const F = kinships[i] / 2;
      const value = pairingValue({
        clutches: season.clutches,
        eggsPerClutch: season.eggsPerClutch,
        fertility: FERTILITY,
        hatch: HATCH,
        F,
        target: chances[i],
        lethalEquivalents: COST.lethalEquivalents,
      });
      return {
        mate: new Animal(snapshot, mate),
        value: value.value,
        F,
        parts: {
          eggs: value.eggs,
          fertility: FERTILITY,
          hatch: HATCH,
          inbreedingSurvival: inbreedingSurvival(COST.lethalEquivalents, F),
          target: chances[i],
        },
        sentence: `${value.value < 0.05 ? 'Hardly any' : `About ${value.value.toFixed(1)}`} healthy ${trait.name} young in a season; F of the young ${F.toFixed(3)}.`,
        cautions: pairCautions(F, F, []),
      };
    });
    suggestions.sort((a, b) => b.value - a.value || a.F - b.F);
    const { source } = seasonDefaults(snapshot.animals.species[animal]);
    return {
      animal: new Animal(snapshot, animal),
      trait: traitType(trait),
      suggestions: suggestions.slice(0, Math.max(1, Math.min(200, first))),
      leftOut,
      assumptions: [
        ...geneAssumptions(snapshot),
        "Approximate for mates that are related to it: the two animals' odds are multiplied here; open a pairing for the exact odds.",
        `Eggs: ${source}. Fertile ${FERTILITY * 100} %, hatching ${HATCH * 100} % of these: common practice, no source.`,
        `Inbreeding cost: ${COST.lethalEquivalents} lethal equivalents, ${COST.source}; ${COST.measuredOn}.`,
      ],
    };
  }
}

function definitionsOf(snapshot: Snapshot) {
  return {
    loci: snapshot.loci.map(({ code, definition }) => ({
      id: code,
      alleles: definition.alleles,
      inheritance: definition.inheritance,
    })),
    traits: snapshot.traits.map(({ name, definition }) => ({ id: name, when: definition.when })),
  };
}

function refuseImpossible(snapshot: Snapshot, sire: number, dam: number): void {
  const { codes, species } = snapshot.animals;
  const refuse = (message: string, place: string, remedy: string): never => {
    throw new UserError('BAD_USER_INPUT', message, { place, remedy });
  };
  if (sire === dam)
    refuse('An animal cannot be paired with itself.', 'damId', 'Choose two animals.');
  if (sexFinding(snapshot, sire).sex === 'FEMALE')
    refuse(`${codes[sire]} is female.`, 'sireId', 'Choose a male, or swap the two.');
  if (sexFinding(snapshot, dam).sex === 'MALE')
    refuse(`${codes[dam]} is male.`, 'damId', 'Choose a female, or swap the two.');
  if (species[sire] !== species[dam]) {
    refuse(
      `${codes[sire]} and ${codes[dam]} are of different species.`,
      'damId',
      'Keep species apart: choose two of one species.',
    );
  }
}

function possibleMates(
  snapshot: Snapshot,
  animal: number,
  sex: 'MALE' | 'FEMALE',
): { mates: number[]; leftOut: string[] } {
  const { animals } = snapshot;
  const mates: number[] = [];
  let unsexed = 0;
  let others = 0;
  let gone = 0;
  const penned = housedAnimals(snapshot);
  for (let i = 0; i < animals.count; i++) {
    if (i === animal) continue;
    const found = sexFinding(snapshot, i).sex;
    if (found === sex) continue;
    if (animals.origins[i] === 'ANCESTOR_ONLY' || (penned.size > 0 && !penned.has(i))) gone++;
    else if (animals.species[i] !== animals.species[animal]) others++;
    else if (found === 'UNKNOWN') unsexed++;
    else mates.push(i);
  }
  const leftOut = [
    unsexed > 0 ? `${unsexed} of unknown sex` : '',
    others > 0 ? `${others} of other species` : '',
    gone > 0 ? `${gone} that are in no pen` : '',
  ].filter(Boolean);
  return { mates, leftOut };
}

function classShare(figures: CrossFigures, trait: string): number | null {
  return figures.classes[trait]?.find(({ name }) => name === 'shown')?.share.value ?? null;
}

function targetsOf(snapshot: Snapshot, figures: CrossFigures): TargetOdds[] {
  return figures.targets.map((target) => {
    const trait = snapshot.traits.find(({ name }) => name === target.trait);
    if (!trait)
      throw new Error(`The odds speak of a trait '${target.trait}' that was not asked for`);
    return {
      trait: traitType(trait),
      share: target.share,
      clutch: target.counts.map(({ exactly, atLeast }, count) => ({ count, exactly, atLeast })),
      atLeastOne: target.atLeastOne,
      eggsNeeded: [...target.eggsNeeded],
      limit: target.limit,
      cases: target.cases.map(({ perEgg, weight }) => ({
        sentence:
          perEgg.value === 0
            ? `No young shows ${target.trait}`
            : `Of the young, ${perEgg.said} ${perEgg.said === 'all' ? 'show' : 'shows'} ${target.trait}`,
        probability: weight,
        perEgg,
      })),
    };
  });
}

/** The trait that most of the young would show. */
function likeliest(targets: readonly TargetOdds[]): TargetOdds | undefined {
  return [...targets].sort((a, b) => b.share.value - a.share.value)[0];
}

function crossSentence(targets: readonly TargetOdds[], eggs: number): string {
  const best = likeliest(targets);
  if (!best) return 'The program has no trait yet, so there is nothing to reckon.';
  if (best.share.value === 0)
    return 'None of their eggs can show any trait of the program, as far as the records go.';
  const { trait, share, atLeastOne } = best;
  if (share.ofTwenty === 0) {
    const one =
      atLeastOne.value < 0.01 ? 'fewer than 1' : String(Math.floor(atLeastOne.value * 100));
    return `Hardly any young from this pair can show a trait: ${trait.name} in ${share.said}; at least one in a clutch of ${eggs}: ${one} in 100.`;
  }
  const about = share.about ? 'About ' : '';
  return `${about}${share.ofTwenty} of 20 young from this pair should be ${trait.name}; at least one in a clutch of ${eggs}: ${Math.floor(atLeastOne.value * 100)} in 100.`;
}

function crossCaveat(targets: readonly TargetOdds[]): string | null {
  const split = likeliest(targets);
  if (!split || split.share.ofTwenty === 0) return null;
  const never = split.cases.find(({ perEgg }) => perEgg.value === 0);
  return never
    ? `But it is all or nothing: in ${never.probability.said} cases the parents do not carry it, and then no egg of theirs ever shows ${split.trait.name}.`
    : null;
}
