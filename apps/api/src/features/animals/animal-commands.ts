import { randomUUID } from 'node:crypto';
import { Injectable } from '@nestjs/common';
import { type PartialDate, parsePartialDate } from '@scutewright/basics';
import type {
  AddAnimalInput,
  EditAnimalInput,
  RemoveAnimalInput,
  Sex,
} from '@scutewright/commands';
import { command } from '../../db/command.js';
import { Database, type Tx } from '../../db/database.js';
import { dateColumns } from '../../db/date-columns.js';
import type { ProgramAccess } from '../../db/in-program.js';
import { notFound, UserError } from '../../graphql/errors.js';
import { checkParents, type ParentSets } from './check-parents.js';

/** Adding, correcting and removing animals. Each is one command. */
@Injectable()
export class AnimalCommands {
  constructor(private readonly database: Database) {}

  add(right: ProgramAccess, input: AddAnimalInput): Promise<{ animalId: string }> {
    const { programId } = right;
    const request = { id: input.commandId, kind: 'add-animal' };
    return command(this.database, right, request, async (tx) => {
      await refuseTakenCode(tx, programId, input.code, null);
      const animalId = randomUUID();
      const hatched = input.hatched ? parsePartialDate(input.hatched) : null;
      const parents = { sires: input.sires ?? [], dams: input.dams ?? [] };
      const hasParents = parents.sires.length + parents.dams.length > 0;
      const clutchId = hasParents ? randomUUID() : null;
      if (clutchId) {
        await tx.clutch.create({ data: { programId, id: clutchId } });
        await writeParents(tx, programId, clutchId, parents, { animalId, hatched });
      }
      await tx.animal.create({
        data: {
          programId,
          id: animalId,
          clutchId,
          code: input.code,
          species: input.species,
          name: input.name || null,
          origin: input.origin ?? 'HATCHED_HERE',
          notes: input.notes || null,
          ...dateColumns('hatched', hatched),
        },
      });
      if (input.sex) await writeSex(tx, programId, animalId, input.sex);
      return { sentence: `Added ${input.code}`, result: { animalId } };
    });
  }

  edit(right: ProgramAccess, input: EditAnimalInput): Promise<{ animalId: string }> {
    const { programId } = right;
    const { animalId } = input;
    const request = { id: input.commandId, kind: 'edit-animal' };
    return command(this.database, right, request, async (tx) => {
      const animal = await findAnimal(tx, programId, animalId);
      if (input.code && input.code !== animal.code) {
        await refuseTakenCode(tx, programId, input.code, animalId);
      }
      const hatchedText = input.hatched === undefined ? animal.hatched : input.hatched || null;
      const hatched = hatchedText ? parsePartialDate(hatchedText) : null;
      let { clutchId } = animal;
      let mates = 0;
      if (input.sires || input.dams) {
        mates = clutchId ? (await tx.animal.count({ where: { programId, clutchId } })) - 1 : 0;
        const kept = clutchId
          ? await readParents(tx, programId, clutchId)
          : { sires: [], dams: [] };
        const parents = { sires: input.sires ?? kept.sires, dams: input.dams ?? kept.dams };
        if (!clutchId) {
          clutchId = randomUUID();
          await tx.clutch.create({ data: { programId, id: clutchId } });
        }
        await tx.candidate.deleteMany({ where: { programId, clutchId } });
        await writeParents(tx, programId, clutchId, parents, { animalId, hatched });
      } else if (input.hatched !== undefined && clutchId) {
        await checkParents(tx, programId, await readParents(tx, programId, clutchId), {
          animalId,
          hatched,
        });
      }
      await tx.animal.update({
        where: { programId_id: { programId, id: animalId } },
        data: {
          clutchId,
          code: input.code,
          species: input.species,
          origin: input.origin,
          name: input.name === undefined ? undefined : input.name || null,
          notes: input.notes === undefined ? undefined : input.notes || null,
          ...(input.hatched === undefined ? {} : dateColumns('hatched', hatched)),
        },
      });
      if (input.sex) await writeSex(tx, programId, animalId, input.sex);
      const code = input.code ?? animal.code;
      const sentence =
        mates > 0
          ? `Corrected ${code}; its parents also for ${mates} clutch ${mates === 1 ? 'mate' : 'mates'}`
          : `Corrected ${code}`;
      return { sentence, result: { animalId } };
    });
  }

  remove(right: ProgramAccess, input: RemoveAnimalInput): Promise<{ animalId: string }> {
    const { programId } = right;
    const { animalId } = input;
    const request = { id: input.commandId, kind: 'remove-animal' };
    return command(this.database, right, request, async (tx) => {
      const animal = await findAnimal(tx, programId, animalId);
      const young = await tx.animal.findMany({
        where: { programId, clutch: { candidates: { some: { animalId } } } },
        select: { code: true },
        take: 4,
      });
      if (young.length > 0) {
        const codes = young.slice(0, 3).map(({ code }) => code);
        const more = young.length > 3 ? ' and others' : '';
        throw new UserError(
          'CONFLICT',
          `${animal.code} is a possible parent of ${codes.join(', ')}${more}.`,
          {
            thing: animal.code,
            place: 'input.animalId',
            remedy:
              'Correct the parents of these first, or keep the animal as known only as an ancestor.',
          },
        );
      }
      await tx.observation.deleteMany({
        where: { programId, OR: [{ animalId }, { otherAnimalId: animalId }] },
      });
      await tx.stay.deleteMany({ where: { programId, animalId } });
      await tx.transfer.deleteMany({ where: { programId, animalId } });
      await tx.possibleClutch.deleteMany({ where: { programId, animalId } });
      await tx.lotChange.updateMany({ where: { programId, animalId }, data: { animalId: null } });
      await tx.animal.delete({ where: { programId_id: { programId, id: animalId } } });
      return { sentence: `Removed ${animal.code}`, result: { animalId } };
    });
  }
}

async function findAnimal(tx: Tx, programId: string, id: string) {
  const animal = await tx.animal.findUnique({ where: { programId_id: { programId, id } } });
  if (!animal) throw notFound('such animal', 'input.animalId', 'Look it up in the register again.');
  return animal;
}

async function refuseTakenCode(
  tx: Tx,
  programId: string,
  code: string,
  but: string | null,
): Promise<void> {
  const other = await tx.animal.findUnique({
    where: { programId_code: { programId, code } },
    select: { id: true },
  });
  if (!other || other.id === but) return;
  throw new UserError('CODE_TAKEN', `Another animal already has the code ${code}.`, {
    thing: code,
    place: 'input.code',
    remedy: 'Choose another code, or open that animal and edit it.',
  });
}

async function readParents(tx: Tx, programId: string, clutchId: string): Promise<ParentSets> {
  const rows = await tx.candidate.findMany({ where: { programId, clutchId } });
  const of = (parent: 'SIRE' | 'DAM') =>
    rows
      .filter((row) => row.parent === parent)
      .map(({ animalId, probability }) => ({ animalId, probability }));
  return { sires: of('SIRE'), dams: of('DAM') };
}

async function writeParents(
  tx: Tx,
  programId: string,
  clutchId: string,
  parents: ParentSets,
  young: { animalId: string; hatched: PartialDate | null },
): Promise<void> {
  const weighed = await checkParents(tx, programId, parents, young);
  await tx.candidate.createMany({
    data: weighed.map((candidate) => ({
      programId,
      id: randomUUID(),
      clutchId,
      basis: 'BY_HAND' as const,
      ...candidate,
    })),
  });
}

/** The sex as somebody stated it in the register; other sex records are left as they are. */
async function writeSex(tx: Tx, programId: string, animalId: string, sex: Sex): Promise<void> {
  const where = { programId, animalId, kind: 'sex', method: 'stated' };
  const stated = await tx.observation.findFirst({ where });
  if (stated) {
    if ((stated.value as { sex?: string }).sex === sex) return;
    const key = { programId_id: { programId, id: stated.id } };
    if (sex === 'UNKNOWN') await tx.observation.delete({ where: key });
    else await tx.observation.update({ where: key, data: { value: { sex } } });
  } else if (sex !== 'UNKNOWN') {
    await tx.observation.create({ data: { ...where, id: randomUUID(), value: { sex } } });
  }
}
