import { Args, ID, Query, Resolver } from '@nestjs/graphql';
import { Access, Right } from '../../auth/access.js';
import type { ProgramAccess } from '../../db/in-program.js';
import { Snapshots } from '../../snapshot/snapshots.js';
import { positionsOf } from '../animals/positions.js';
import { geneRow } from '../genes/genes.resolver.js';
import type { GeneRow } from '../genes/genes.types.js';
import { GenesOfProgram } from '../genes/genes-of-program.js';
import { Kin } from '../lineage/kin.js';
import { relatednessAnswer } from '../lineage/lineage.resolver.js';
import type { RelatednessAnswer } from '../lineage/lineage.types.js';
import { saleCautions } from './sale-cautions.js';
import { SaleCheck } from './sales.types.js';

@Resolver()
export class SalesResolver {
  constructor(
    private readonly snapshots: Snapshots,
    private readonly genes: GenesOfProgram,
    private readonly kin: Kin,
  ) {}

  @Access('READER')
  @Query(() => SaleCheck, {
    description: 'What can honestly be said of some animals before they go',
  })
  async saleCheck(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Args('animalIds', { type: () => [ID], description: '1 to 40' }) animalIds: string[],
  ): Promise<SaleCheck> {
    const snapshot = await this.snapshots.current(right);
    const positions = positionsOf(snapshot, [...new Set(animalIds)], 'animalIds');
    const [related, genes] = await Promise.all([
      relatednessAnswer(this.kin, snapshot, positions),
      this.genes.answerFor(snapshot),
    ]);
    const rows = positions.map((position) => geneRow(snapshot, genes, position));
    const mustTell = [...tellKin(related), ...rows.flatMap(tellRow)];
    const species = [...new Set(positions.map((position) => snapshot.animals.species[position]))];
    return {
      animals: related.animals,
      sentence: related.sentence,
      relatedness: related,
      genes: rows,
      cautions: saleCautions(species),
      mustTell,
      letter: letterOf(snapshot.programName, related, rows, mustTell),
    };
  }
}

function tellKin({ pairs }: RelatednessAnswer): string[] {
  return pairs
    .filter(({ highest }) => highest > 0)
    .map(
      ({ a, b, words, youngF }) =>
        `${a.code} and ${b.code}: ${words}; their young would have F ${youngF.toFixed(3)}.`,
    );
}

function tellRow({ animal, findings }: GeneRow): string[] {
  const told: string[] = [];
  if (animal.sex.sex === 'UNKNOWN') told.push(`The sex of ${animal.code} is not known.`);
  const fathers = animal.sire.candidates.length;
  if (fathers > 1) told.push(`The father of ${animal.code} is one of ${fathers} males.`);
  if (animal.clutch && animal.sire.unrecorded > 0)
    told.push(`The father of ${animal.code} may be a male that nobody recorded.`);
  for (const { locus, label, carries, certainCopies } of findings) {
    if (certainCopies === 0 || label === 'not known') continue;
    const odds = certainCopies === null ? ` (${carries.said})` : '';
    told.push(`${animal.code} at ${locus.name}: ${label}${odds}.`);
  }
  return told;
}

/** Plain text. What is not in the records is said to be unknown, never left to be guessed. */
function letterOf(
  program: string,
  related: RelatednessAnswer,
  rows: readonly GeneRow[],
  mustTell: readonly string[],
): string {
  const each = rows.map(({ animal, findings }) => {
    const hatched = animal.hatched?.text ?? 'date not known';
    const unknown = findings
      .filter(({ label }) => label === 'not known')
      .map(({ locus }) => locus.name);
    const rest = unknown.length > 0 ? `; not known at ${unknown.join(', ')}` : '';
    return `- ${animal.code}, ${animal.species}, hatched ${hatched}, sex ${animal.sex.sex.toLowerCase()}${rest}`;
  });
  return [
    `From the records of ${program}:`,
    '',
    ...each,
    '',
    related.sentence,
    ...mustTell.map((sentence) => `- ${sentence}`),
    '',
    "This says what the records hold. 'No shared parent in our books' does not mean that animals are unrelated; odds are odds, not a promise.",
    'Papers, permits and the health of the animals are between you, your permit office and a veterinarian.',
  ].join('\n');
}
