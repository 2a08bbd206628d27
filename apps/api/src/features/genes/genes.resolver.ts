import { Args, ID, Query, Resolver } from '@nestjs/graphql';
import { Access, Right } from '../../auth/access.js';
import type { GenesAnswer } from '../../compute/genes-task.js';
import { ASSUMED_FREQUENCY } from '../../compute/inference-input.js';
import type { ProgramAccess } from '../../db/in-program.js';
import type { Snapshot } from '../../snapshot/snapshot.js';
import { Snapshots } from '../../snapshot/snapshots.js';
import { Animal } from '../animals/animal.types.js';
import { positionsOf } from '../animals/positions.js';
import { geneFinding, locusType, traitType } from './gene-finding.js';
import { type Contradiction, type GeneRow, GenotypeOdds } from './genes.types.js';
import { GenesOfProgram } from './genes-of-program.js';
import { RecordWords } from './record-words.js';

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
        ? `${names} lie on one chromosome, ${chance} apart; mates are ranked as if they did not.`
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
  if (genes.clashes.length === 0) return [];
  const words = new RecordWords(snapshot);
  return genes.clashes.map((recordIds) => {
    const told = recordIds.map((id) => words.tell(id));
    const animals = new Map(told.flatMap(({ animal }) => (animal ? [[animal.id, animal]] : [])));
    return {
      snapshot,
      recordIds: [...recordIds],
      records: told.map(({ sentence }) => sentence),
      animals: [...animals.values()],
      explanations: [
        'Another male is the father (sperm kept from earlier years counts too)',
        'Eggs or young were mixed up',
        'The colour was misread',
        'Two lines that look alike are different genes',
      ],
    };
  });
}
