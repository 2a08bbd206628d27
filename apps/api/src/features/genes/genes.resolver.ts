import { Args, ID, Query, Resolver } from '@nestjs/graphql';
import { Access, Right } from '../../auth/access.js';
import type { GenesAnswer } from '../../compute/genes-task.js';
import { ASSUMED_FREQUENCY, freeFounderOf } from '../../compute/inference-input.js';
import type { ProgramAccess } from '../../db/in-program.js';
import type { Snapshot } from '../../snapshot/snapshot.js';
import { Snapshots } from '../../snapshot/snapshots.js';
import { Animal } from '../animals/animal.types.js';
import { positionsOf } from '../animals/positions.js';
import { geneFinding, locusType, traitType } from './gene-finding.js';
import { type Contradiction, type GeneRow, GenotypeOdds } from './genes.types.js';
import { GenesOfProgram } from './genes-of-program.js';

@Resolver()
export class GenesResolver {
  constructor(
    private readonly snapshots: Snapshots,
    private readonly genes: GenesOfProgram,
  ) {}

  @Access('READER')
  @Query(() => GenotypeOdds, {
    description: 'Who carries what, by all records together; all animals if none are named',
  })
  async genotypeOdds(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Args('animalIds', { type: () => [ID], nullable: true }) animalIds?: string[],
  ): Promise<GenotypeOdds> {
    const snapshot = await this.snapshots.current(right);
    const positions = animalIds
      ? positionsOf(snapshot, animalIds, 'animalIds')
      : [...snapshot.animals.ids.keys()];
    const genes = await this.genes.answerFor(snapshot);
    return {
      loci: snapshot.loci.map(locusType),
      traits: snapshot.traits.map(traitType),
      rows: positions.map((position) => geneRow(snapshot, genes, position)),
      contradictions: contradictionsOf(snapshot, genes),
      isPossible: genes.isPossible,
      precision: genes.precision,
      assumptions: geneAssumptions(snapshot),
      revision: snapshot.revision,
    };
  }
}

/** One animal at every locus of the program. */
export function geneRow(snapshot: Snapshot, genes: GenesAnswer, position: number): GeneRow {
  return {
    animal: new Animal(snapshot, position),
    findings: snapshot.loci.map((_, locus) => geneFinding(snapshot, genes, position, locus)),
  };
}

export function geneAssumptions(snapshot: Snapshot): string[] {
  const unset = snapshot.loci
    .filter(({ definition }) => !definition.frequencies)
    .map(({ name }) => name);
  const list = ['Founders are taken as unrelated, and each gene as passed on by chance.'];
  if (unset.length > 0) {
    list.push(
      `For ${unset.join(', ')} nobody said how common it is among founders: 1 in ${1 / ASSUMED_FREQUENCY} copies is assumed.`,
    );
  }
  const { loci, locusPairs } = snapshot;
  for (const { first, second, kind, chance } of locusPairs) {
    const names = `${loci[first].name} and ${loci[second].name}`;
    list.push(
      kind === 'LINKED'
        ? `${names} lie on one chromosome, ${chance} apart; the odds of one pair take each gene by itself: approximate for looks of both.`
        : `${names} may be one gene: ${chance} before the records. The odds of one pair take them as two.`,
    );
  }
  for (const { name, definition } of loci) {
    if (definition.founders) {
      list.push(
        definition.founders.rule === 'ONLY'
          ? `Only the founders named for ${name} may carry it; a parent nobody recorded may too.`
          : `The founders named for ${name} are taken as free of it.`,
      );
    }
  }
  return list;
}

function contradictionsOf(snapshot: Snapshot, genes: GenesAnswer): Contradiction[] {
  const checks = new Map(snapshot.colourChecks.map((check) => [check.id, check]));
  const declarations = new Map(snapshot.declarations.map((entry) => [entry.id, entry]));
  const { codes } = snapshot.animals;
  return genes.clashes.map((records) => {
    const animals = new Set<number>();
    const sentences = records.map((record) => {
      const [id, trait] = record.split('/');
      const check = checks.get(id);
      const said = declarations.get(id);
      const free = freeFounderOf(record);
      const animal = check?.animal ?? said?.animal ?? free?.animal ?? 0;
      animals.add(animal);
      if (free) {
        return `${codes[animal]} is set as a founder free of ${snapshot.loci[free.locus].name}`;
      }
      if (said) return `${codes[animal]} was declared ${said.alleles.join('/')}`;
      const at = Number(trait);
      const verb = check?.seen.includes(at) ? 'shows' : 'was looked at and does not show';
      return `${codes[animal]} ${verb} ${snapshot.traits[at].name}`;
    });
    return {
      records: sentences,
      animals: [...animals].map((position) => new Animal(snapshot, position)),
      explanations: [
        'Another male is the father (sperm kept from earlier years counts too)',
        'Eggs or young were mixed up',
        'The colour was misread',
        'Two lines that look alike are different genes',
      ],
    };
  });
}
