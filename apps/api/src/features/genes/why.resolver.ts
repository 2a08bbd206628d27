import { Args, ID, Query, Resolver } from '@nestjs/graphql';
import { Access, Right } from '../../auth/access.js';
import { ComputePool } from '../../compute/compute-pool.js';
import type { GenesAnswer } from '../../compute/genes-task.js';
import { inferenceInput } from '../../compute/inference-input.js';
import type { WhyAnswer } from '../../compute/why-task.js';
import type { ProgramAccess } from '../../db/in-program.js';
import { notFound } from '../../graphql/errors.js';
import { candidatesOf, housedAnimals, sexOf } from '../../snapshot/findings.js';
import { PerSnapshot } from '../../snapshot/per-snapshot.js';
import type { Snapshot } from '../../snapshot/snapshot.js';
import { Snapshots } from '../../snapshot/snapshots.js';
import { today } from '../../snapshot/today.js';
import { Animal } from '../animals/animal.types.js';
import { positionOf } from '../animals/positions.js';
import { geneFinding, traitType } from './gene-finding.js';
import { doubtfulOf, GenesOfProgram } from './genes-of-program.js';
import { RecordWords } from './record-words.js';
import { stepSentence } from './step-sentence.js';
import { FatherWhy, GeneWhy } from './why.types.js';

/** Young that a year's test mating is ranked by. Chosen by us: no source. */
const YOUNG_PER_YEAR = 10;
const MOST_STEPS = 6;

/** Why, and what would settle it: computed by the workers when somebody asks, never before, and kept with the snapshot. */
@Resolver()
export class WhyResolver {
  private readonly geneWhys = new PerSnapshot<Promise<GeneWhy>>();
  private readonly fatherWhys = new PerSnapshot<Promise<FatherWhy>>();

  constructor(
    private readonly snapshots: Snapshots,
    private readonly genes: GenesOfProgram,
    private readonly pool: ComputePool,
  ) {}

  @Access('READER')
  @Query(() => GeneWhy, {
    description:
      'The records behind what one animal carries, each with what it would be without it',
  })
  async geneWhy(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Args('animalId', { type: () => ID }) animalId: string,
    @Args('locusId', { type: () => ID }) locusId: string,
  ): Promise<GeneWhy> {
    const snapshot = await this.snapshots.current(right);
    const animal = positionOf(snapshot, animalId, 'animalId');
    const locus = snapshot.loci.findIndex(({ id }) => id === locusId);
    if (locus < 0)
      throw notFound('such gene', 'locusId', 'Choose one of the genes of the program.');
    const weigh = () => this.weighGene(snapshot, animal, locus);
    return this.geneWhys.of(snapshot, weigh, `${animal} ${locus}`);
  }

  private async weighGene(snapshot: Snapshot, animal: number, locus: number): Promise<GeneWhy> {
    const genes = await this.genes.answerFor(snapshot);
    const input = {
      program: inferenceInput(snapshot, today()),
      doubtful: doubtfulOf(genes),
      animal,
    };
    const trait = snapshot.traits.findIndex((one) =>
      traitType(one).loci.includes(snapshot.loci[locus].code),
    );
    const finding = geneFinding(snapshot, genes, animal, locus);
    const [why, steps] = await Promise.all([
      this.pool.run('whyGenotype', { ...input, locus }),
      trait >= 0 && finding.certainCopies === null
        ? this.pool.run('nextSteps', {
            ...input,
            locus,
            trait,
            mates: Object.fromEntries(
              possibleMates(snapshot, animal).map((mate) => [mate, genes.genotypes[String(mate)]]),
            ),
            youngPerYear: YOUNG_PER_YEAR,
          })
        : [],
    ]);
    const words = new RecordWords(snapshot);
    const carriers = carrierStates(snapshot, locus, why);
    const share = (chances: readonly number[]) =>
      chances.reduce((sum, p, i) => sum + (carriers[i] ? p : 0), 0);
    const names = { snapshot, animal, trait };
    return {
      sentence: whySentence(why, finding.certainCopies),
      carries: finding.carries.value,
      genotypes: finding.genotypes,
      records: why.records.map(({ record, without, weight }) => ({
        ...words.tell(record),
        weight,
        carriesWithout: without.every((p) => p === 0) ? null : share(without),
      })),
      approximation: approximationOf(why, share(why.now)),
      steps: steps.slice(0, MOST_STEPS).map((step) => ({
        kind: step.kind,
        animal: new Animal(snapshot, step.animal),
        bits: step.bits,
        sentence: stepSentence(step, names),
      })),
      notes: notesOf(snapshot, genes, trait, finding.certainCopies),
      revision: snapshot.revision,
    };
  }

  @Access('READER')
  @Query(() => FatherWhy, {
    description: 'The colour records that moved the possible fathers of one animal',
  })
  async fatherWhy(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Args('animalId', { type: () => ID }) animalId: string,
  ): Promise<FatherWhy> {
    const snapshot = await this.snapshots.current(right);
    const animal = positionOf(snapshot, animalId, 'animalId');
    return this.fatherWhys.of(snapshot, () => this.weighFathers(snapshot, animal), animal);
  }

  private async weighFathers(snapshot: Snapshot, animal: number): Promise<FatherWhy> {
    const genes = await this.genes.answerFor(snapshot);
    const program = inferenceInput(snapshot, today());
    const why = await this.pool.run('whyFather', { program, doubtful: doubtfulOf(genes), animal });
    const words = new RecordWords(snapshot);
    const father = (name: string) =>
      name === 'unknown' ? null : new Animal(snapshot, Number(name));
    return {
      sentence: fatherSentence(why),
      records: why.records.map(({ record, without, weight }) => ({
        ...words.tell(record),
        weight,
        without: without.map((probability, i) => ({ animal: father(why.names[i]), probability })),
      })),
      approximation: approximationOf(why),
      steps: fatherSteps(snapshot, animal),
      revision: snapshot.revision,
    };
  }
}

/** Null where all was weighed together. */
function approximationOf({ near }: WhyAnswer, alone?: number): string | null {
  if (near === null) return null;
  const gives = alone === undefined ? '' : `, which alone gives ${Math.round(alone * 100)} in 100`;
  return `Approximate: the nearest records, weighed within the near family of ${near} animals${gives}.`;
}

/** By genotype of the answer: whether it holds a rarer allele. */
function carrierStates(snapshot: Snapshot, locus: number, { names }: WhyAnswer): boolean[] {
  const [common] = snapshot.loci[locus].definition.alleles;
  return names.map((genotype) => genotype.split('/').some((allele) => allele !== common));
}

/** Animals of the other sex and the same species that are here, or all such where no pens are recorded. */
function possibleMates(snapshot: Snapshot, animal: number): number[] {
  const own = sexOf(snapshot, animal);
  const housed = housedAnimals(snapshot);
  const { species, count } = snapshot.animals;
  const mates: number[] = [];
  for (let mate = 0; mate < count; mate++) {
    const sex = sexOf(snapshot, mate);
    if (mate === animal || species[mate] !== species[animal] || sex === 'UNKNOWN') continue;
    if (sex === own || (housed.size > 0 && !housed.has(mate))) continue;
    mates.push(mate);
  }
  return mates;
}

function whySentence({ records }: WhyAnswer, certainCopies: number | null): string {
  if (records.length === 0) {
    return certainCopies === null
      ? 'No single record says anything of it: it rests on how common the gene is among founders.'
      : 'No single record changes it: others say the same.';
  }
  const count =
    records.length === 1 ? 'One record changes it' : `${records.length} records change it`;
  return `${count}, each shown with the chance to carry as it would be without that one.`;
}

function notesOf(
  snapshot: Snapshot,
  genes: GenesAnswer,
  trait: number,
  certainCopies: number | null,
): string[] {
  const notes: string[] = [];
  if (trait >= 0 && certainCopies === null) {
    notes.push(`No DNA test for ${snapshot.traits[trait].name} is known to us.`);
    notes.push(
      'Plain young never prove that a gene is absent; one that shows it proves it present.',
    );
  }
  if (!genes.isPossible)
    notes.push('Records that contradict each other are left out here until that is settled.');
  return notes;
}

function fatherSentence({ names, records }: WhyAnswer): string {
  if (names.length === 0) return 'Its father is certain, or nobody is named.';
  if (records.length === 0)
    return 'No colour moves its possible fathers: the chances are those of who was where.';
  return `${records.length === 1 ? 'One colour record moves' : `${records.length} colour records move`} its possible fathers.`;
}

function fatherSteps(snapshot: Snapshot, animal: number): string[] {
  const fathers = candidatesOf(snapshot, snapshot.sires, animal);
  if (fathers.length === 0 || fathers[0].probability === 1) return [];
  const codes = fathers.map(({ position }) => snapshot.animals.codes[position]);
  const list = codes.length > 4 ? `the ${codes.length} males` : codes.join(', ');
  return [
    `A DNA test of parentage of it, its mother and ${list} would settle it; ask a laboratory whether markers exist for the species.`,
    'Colour checks of its clutch mates count too: each that shows a recessive trait rules out every male that cannot carry it.',
    ...(fathers.length > 1
      ? [
          'From now on, one male at a time with a female for a season narrows it; sperm is kept for years.',
        ]
      : []),
  ];
}
