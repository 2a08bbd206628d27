import { Args, ID, Query, Resolver } from '@nestjs/graphql';
import { type BuyerAnimal, buyerAnimalSchema, buyerSchema } from '@scutewright/commands';
import { Access, Right } from '../../auth/access.js';
import { ComputePool } from '../../compute/compute-pool.js';
import { KNOWN_GENERATIONS } from '../../compute/inbreeding-task.js';
import type { ProgramAccess } from '../../db/in-program.js';
import { UserError } from '../../graphql/errors.js';
import { check, inputType } from '../../graphql/input-from-zod.js';
import type { Snapshot } from '../../snapshot/snapshot.js';
import { Snapshots } from '../../snapshot/snapshots.js';
import { Animal } from '../animals/animal.types.js';
import { positionsOf } from '../animals/positions.js';
import { geneRow } from '../genes/genes.resolver.js';
import { GenesOfProgram } from '../genes/genes-of-program.js';
import { Kin } from '../lineage/kin.js';
import { kinAssumptions } from '../lineage/lineage-words.js';
import { saleCautions } from './sale-cautions.js';
import { salePairs } from './sale-pairs.js';
import { saleSheet } from './sale-sheet.js';
import { letterOf, pairCaution, saleSentence, tellKin, tellRow } from './sale-words.js';
import { BuyerFile, type SaleAnimal, SaleCheck } from './sales.types.js';
import { withBuyer } from './with-buyer.js';

const MOST_COMPARED = 40;
const MOST_FILE = 900_000;
const BuyerAnimalInput = inputType(buyerAnimalSchema);

@Resolver()
export class SalesResolver {
  constructor(
    private readonly snapshots: Snapshots,
    private readonly pool: ComputePool,
    private readonly genes: GenesOfProgram,
    private readonly kin: Kin,
  ) {}

  @Access('READER')
  @Query(() => SaleCheck, {
    description:
      "What can honestly be said of some animals before they go, and of them with the buyer's own",
  })
  async saleCheck(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Args('animalIds', { type: () => [ID], description: "Ours; with the buyer's 1 to 40" })
    animalIds: string[],
    @Args('buyer', {
      type: () => [BuyerAnimalInput],
      nullable: true,
      description: "The buyer's animals with their forebears; asked about, never written",
    })
    given?: unknown,
  ): Promise<SaleCheck> {
    const buyer: BuyerAnimal[] = check(buyerSchema, given ?? [], 'buyer');
    const own = await this.snapshots.current(right);
    const going = positionsOf(own, [...new Set(animalIds)], 'animalIds');
    const { snapshot, asked, ours } = withBuyer(own, buyer);
    const positions = [...new Set([...going, ...asked])];
    refuseMany(positions.length);
    const [figures, { equivalentGenerations, inbreeding, known }, genes] = await Promise.all([
      this.kin.pairs(snapshot, positions),
      this.kin.inbreeding(snapshot),
      this.genes.answerFor(own),
    ]);
    const animals = positions.map((position): SaleAnimal => {
      const animal = new Animal(snapshot, position);
      const from = position * KNOWN_GENERATIONS;
      return {
        id: animal.id,
        code: animal.code,
        name: animal.name,
        sex: animal.sex.sex,
        isBuyers: position >= ours || !going.includes(position),
        generationsKnown: equivalentGenerations[position],
        known: [...known.subarray(from, from + 3)],
      };
    });
    const pairs = salePairs(snapshot, figures, equivalentGenerations, ours);
    const rows = going.map((position) => geneRow(own, genes, position));
    const sheets = going.map((position, i) =>
      saleSheet({
        snapshot: own,
        position,
        genes: rows[i],
        inbreeding: inbreeding[position],
        generations: equivalentGenerations[position],
      }),
    );
    const sentence = saleSentence(animals, pairs);
    const mustTell = [...tellKin(animals, pairs), ...rows.flatMap(tellRow)];
    return {
      animals,
      sentence,
      pairs,
      genes: rows,
      cautions: [
        ...pairCaution(animals, pairs),
        ...saleCautions(going.map((at) => factsOf(own, at))),
      ],
      mustTell,
      sheets,
      letter: letterOf(own.programName, sheets, sentence, mustTell),
      assumptions: [
        ...kinAssumptions(snapshot, positions),
        ...(buyer.length > 0
          ? [
              "The buyer's animals and their parents are as the buyer tells them; nothing of them is kept here.",
            ]
          : []),
      ],
    };
  }

  @Access('READER')
  @Query(() => BuyerFile, {
    description: "Reads a buyer's program file or spreadsheet; keeps nothing",
  })
  async readBuyerFile(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Args('text', { type: () => String, description: 'The file as text, at most 900 kB' })
    text: string,
  ): Promise<BuyerFile> {
    if (text.length > MOST_FILE) {
      throw new UserError('BAD_USER_INPUT', 'The file is larger than 900 kB.', {
        place: 'text',
        remedy:
          'Take out what the sale does not need: the animals asked about and their forebears are enough.',
      });
    }
    const snapshot = await this.snapshots.current(right);
    const { rows, faults, unread } = await this.pool.run('buyerFile', { text });
    const { positionByCode } = snapshot.animals;
    return {
      animals: rows.map((row) => {
        const same = positionByCode.get(row.code);
        return {
          ...row,
          sex: row.sex === 'm' ? 'MALE' : row.sex === 'f' ? 'FEMALE' : 'UNKNOWN',
          sires: [...row.sires],
          dams: [...row.dams],
          sameCode: same === undefined ? null : new Animal(snapshot, same),
        };
      }),
      unread,
      faults: [...faults],
    };
  }
}

function refuseMany(count: number): void {
  if (count >= 1 && count <= MOST_COMPARED) return;
  throw new UserError(
    'BAD_USER_INPUT',
    `Up to ${MOST_COMPARED} animals are compared at once, not ${count}.`,
    { place: 'animalIds', remedy: count === 0 ? 'Choose one at least.' : 'Choose fewer animals.' },
  );
}

function factsOf({ animals, season }: Snapshot, position: number) {
  const taken = season.measurements.get(position) ?? [];
  const last = (kind: 'scl' | 'mass') => taken.filter((each) => each.kind === kind).at(-1);
  const [scl, mass] = [last('scl'), last('mass')];
  return {
    code: animals.codes[position],
    species: animals.species[position],
    scl: scl ? { mm: scl.value, date: scl.date } : null,
    mass: mass ? { g: mass.value, date: mass.date } : null,
  };
}
