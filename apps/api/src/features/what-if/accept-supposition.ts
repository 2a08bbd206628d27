import { randomUUID } from 'node:crypto';
import { Injectable } from '@nestjs/common';
import { parsePartialDate } from '@scutewright/basics';
import { command } from '../../db/command.js';
import { Database, type Tx } from '../../db/database.js';
import type { ProgramAccess } from '../../db/in-program.js';
import { notFound, UserError } from '../../graphql/errors.js';
import { candidatesOf, unrecordedShare } from '../../snapshot/findings.js';
import type { Snapshot } from '../../snapshot/snapshot.js';
import {
  NAMED_FATHERS_KEEP,
  type RecordRef,
  SEVERAL_SIRES_RATE,
  withoutMisread,
} from '../../snapshot/supposed-snapshot.js';
import { checkParents } from '../animals/check-parents.js';
import type { ReadSupposition } from './read-supposition.js';

/** Writes what was supposed: the same change that `supposedSnapshot` makes in columns, made in the rows. */
@Injectable()
export class AcceptSupposition {
  constructor(private readonly database: Database) {}

  async write(
    right: ProgramAccess,
    snapshot: Snapshot,
    { supposed, words, mayBeWritten }: ReadSupposition,
    commandId: string,
  ): Promise<void> {
    if (!mayBeWritten) {
      throw new UserError('CONFLICT', 'This can be looked at but not written as one act.', {
        place: 'input.supposition',
        remedy:
          'Its clutch mates may have other fathers, or its fathers follow from who was where: change what is written of the animal or its clutch instead.',
      });
    }
    const { programId } = right;
    const { ids } = snapshot.animals;
    const request = { id: commandId, kind: 'accept-supposition' };
    await command(this.database, right, request, async (tx) => {
      if (supposed.kind === 'STRIKE_RECORD') {
        await strike(tx, programId, snapshot, supposed.record);
      } else {
        const animal = await tx.animal.findUnique({
          where: { programId_id: { programId, id: ids[supposed.animal] } },
        });
        if (!animal) throw gone();
        if (supposed.kind === 'FATHER') {
          const fatherId = supposed.father === null ? null : ids[supposed.father];
          await setFather(tx, programId, animal, fatherId);
        } else if (supposed.kind === 'OTHER_FATHER') {
          if (!animal.clutchId) throw gone();
          await makeRoom(tx, programId, animal.clutchId, hasRoom(snapshot, supposed.animal));
        } else {
          await tx.animal.update({
            where: { programId_id: { programId, id: animal.id } },
            data: { clutchId: null },
          });
        }
      }
      return { sentence: words, result: {} };
    });
  }
}

async function setFather(
  tx: Tx,
  programId: string,
  animal: { id: string; clutchId: string | null; hatched: string | null },
  fatherId: string | null,
): Promise<void> {
  const clutchId = animal.clutchId ?? randomUUID();
  if (!animal.clutchId) {
    await tx.clutch.create({ data: { programId, id: clutchId } });
    await tx.animal.update({
      where: { programId_id: { programId, id: animal.id } },
      data: { clutchId },
    });
  }
  await tx.candidate.deleteMany({ where: { programId, clutchId, parent: 'SIRE' } });
  const sires = fatherId ? [{ animalId: fatherId, probability: 1 }] : [];
  const hatched = animal.hatched ? parsePartialDate(animal.hatched) : null;
  const weighed = await checkParents(
    tx,
    programId,
    { sires, dams: [] },
    { animalId: animal.id, hatched },
  );
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

const hasRoom = (snapshot: Snapshot, animal: number): boolean =>
  unrecordedShare(candidatesOf(snapshot, snapshot.sires, animal)) > 0;

async function makeRoom(
  tx: Tx,
  programId: string,
  clutchId: string,
  isThereRoom: boolean,
): Promise<void> {
  if (!isThereRoom)
    await tx.candidate.updateMany({
      where: { programId, clutchId, parent: 'SIRE' },
      data: { probability: { multiply: NAMED_FATHERS_KEEP } },
    });
  const young = await tx.animal.count({ where: { programId, clutchId } });
  if (young < 2) return;
  await tx.clutch.updateMany({
    where: { programId, id: clutchId, paternity: 'ONE_SIRE' },
    data: { paternity: 'MIXED', paternityRate: SEVERAL_SIRES_RATE },
  });
}

async function strike(
  tx: Tx,
  programId: string,
  snapshot: Snapshot,
  { id, trait }: RecordRef,
): Promise<void> {
  const key = { programId_id: { programId, id } };
  const row = await tx.observation.findUnique({ where: key });
  if (!row) throw gone();
  const check = snapshot.colourChecks.find((entry) => entry.id === id);
  const left = check ? withoutMisread(check, trait) : null;
  if (!left) {
    await tx.observation.delete({ where: key });
    return;
  }
  const idsOf = (list: readonly number[]) => list.map((position) => snapshot.traits[position].id);
  const value = { ...(row.value as object), seen: idsOf(left.seen), absent: idsOf(left.absent) };
  await tx.observation.update({ where: key, data: { value } });
}

const gone = () =>
  notFound('such record any more', 'input.supposition', 'It was changed meanwhile; look again.');
