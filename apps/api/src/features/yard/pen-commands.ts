import { randomUUID } from 'node:crypto';
import { Injectable } from '@nestjs/common';
import {
  type AddPenInput,
  type CorrectStayInput,
  type EditPenInput,
  penFeaturesSchema,
  type RemovePenInput,
} from '@scutewright/commands';
import { command } from '../../db/command.js';
import { Database, type Tx } from '../../db/database.js';
import { dateColumns } from '../../db/date-columns.js';
import type { ProgramAccess } from '../../db/in-program.js';
import { notFound, UserError } from '../../graphql/errors.js';
import { stayDays, surelyOverlap } from '../../snapshot/stay-days.js';

/** Setting up, correcting and removing pens, and correcting who was in them. Each is one command. */
@Injectable()
export class PenCommands {
  constructor(private readonly database: Database) {}

  add(right: ProgramAccess, input: AddPenInput): Promise<{ penId: string }> {
    const { programId } = right;
    return command(this.database, right, { id: input.commandId, kind: 'add-pen' }, async (tx) => {
      await refuseTakenName(tx, programId, input.name, null);
      refuseLine(input.corners);
      const penId = randomUUID();
      await tx.pen.create({
        data: {
          programId,
          id: penId,
          name: input.name,
          areaM2: input.areaM2 ?? areaOf(input.corners),
          isQuarantine: input.isQuarantine ?? false,
          features: featuresOf({}, input),
        },
      });
      return { sentence: `Added pen ${input.name}`, result: { penId } };
    });
  }

  edit(right: ProgramAccess, input: EditPenInput): Promise<{ penId: string }> {
    const { programId } = right;
    const { penId } = input;
    return command(this.database, right, { id: input.commandId, kind: 'edit-pen' }, async (tx) => {
      const pen = await findPen(tx, programId, penId);
      if (input.name && input.name !== pen.name)
        await refuseTakenName(tx, programId, input.name, penId);
      refuseLine(input.corners);
      await tx.pen.update({
        where: { programId_id: { programId, id: penId } },
        data: {
          name: input.name,
          areaM2: input.areaM2 === undefined ? (areaOf(input.corners) ?? undefined) : input.areaM2,
          isQuarantine: input.isQuarantine,
          features: featuresOf(pen.features, input),
        },
      });
      return { sentence: `Corrected pen ${input.name ?? pen.name}`, result: { penId } };
    });
  }

  remove(right: ProgramAccess, input: RemovePenInput): Promise<object> {
    const { programId } = right;
    const { penId } = input;
    return command(
      this.database,
      right,
      { id: input.commandId, kind: 'remove-pen' },
      async (tx) => {
        const pen = await findPen(tx, programId, penId);
        const stays = await tx.stay.count({ where: { programId, penId } });
        const records = await tx.observation.count({ where: { programId, penId } });
        const clutches = await tx.clutch.count({ where: { programId, penId } });
        if (stays + records + clutches > 0) {
          throw new UserError(
            'CONFLICT',
            `${pen.name} stands in ${stays} stays and ${records + clutches} other records.`,
            {
              thing: pen.name,
              place: 'input.penId',
              remedy: 'Keep it, or correct these records first.',
            },
          );
        }
        await tx.pen.delete({ where: { programId_id: { programId, id: penId } } });
        return { sentence: `Removed pen ${pen.name}`, result: {} };
      },
    );
  }

  correctStay(right: ProgramAccess, input: CorrectStayInput): Promise<{ penId: string }> {
    const { programId } = right;
    const key = { programId_id: { programId, id: input.stayId } };
    return command(
      this.database,
      right,
      { id: input.commandId, kind: 'correct-stay' },
      async (tx) => {
        const stay = await tx.stay.findUnique({
          where: key,
          include: { pen: { select: { name: true } } },
        });
        if (!stay)
          throw notFound(
            'such stay',
            'input.stayId',
            'Somebody corrected it meanwhile; look again.',
          );
        const who = await whose(tx, stay);
        if (input.isMistake) {
          await tx.stay.delete({ where: key });
          return { sentence: `${who} was not in ${stay.pen.name}`, result: { penId: stay.penId } };
        }
        const from = input.from === undefined ? stay.from : input.from;
        const to = input.to === undefined ? stay.to : input.to;
        const { first, last } = stayDays(from, to);
        if (last < first) {
          throw new UserError(
            'BAD_USER_INPUT',
            `The stay would end on ${to}, before it starts on ${from}.`,
            {
              thing: who,
              place: 'input.to',
              remedy: 'Correct one of the two dates.',
            },
          );
        }
        if (stay.animalId) {
          const others = await tx.stay.findMany({
            where: { programId, animalId: stay.animalId, id: { not: stay.id } },
            include: { pen: { select: { name: true } } },
          });
          const clash = others.find((other) =>
            surelyOverlap(stayDays(from, to), stayDays(other.from, other.to)),
          );
          if (clash) {
            throw new UserError(
              'CONFLICT',
              `${who} would be in two pens at once: it is written in ${clash.pen.name} from ${clash.from ?? 'nobody knows when'} to ${clash.to ?? 'today'}.`,
              { thing: who, place: 'input.from', remedy: 'Correct the other stay first.' },
            );
          }
        }
        await tx.stay.update({
          where: key,
          data: { ...dateColumns('from', from), ...dateColumns('to', to) },
        });
        return {
          sentence: `${who} in ${stay.pen.name} ${from ?? '?'} to ${to ?? 'today'}`,
          result: { penId: stay.penId },
        };
      },
    );
  }
}

/** Code of the animal or lot of a stay. */
async function whose(
  tx: Tx,
  {
    programId,
    animalId,
    lotId,
  }: { programId: string; animalId: string | null; lotId: string | null },
): Promise<string> {
  const select = { code: true } as const;
  if (animalId) {
    const where = { programId_id: { programId, id: animalId } };
    return (await tx.animal.findUniqueOrThrow({ where, select })).code;
  }
  const where = { programId_id: { programId, id: lotId ?? '' } };
  return `lot ${(await tx.lot.findUniqueOrThrow({ where, select })).code}`;
}

async function findPen(tx: Tx, programId: string, id: string) {
  const pen = await tx.pen.findUnique({ where: { programId_id: { programId, id } } });
  if (!pen) throw notFound('such pen', 'input.penId', 'Look it up among the pens again.');
  return pen;
}

async function refuseTakenName(
  tx: Tx,
  programId: string,
  name: string,
  but: string | null,
): Promise<void> {
  const other = await tx.pen.findUnique({
    where: { programId_name: { programId, name } },
    select: { id: true },
  });
  if (!other || other.id === but) return;
  throw new UserError('CODE_TAKEN', `There is a pen ${name} already.`, {
    thing: name,
    place: 'input.name',
    remedy: 'Choose another name.',
  });
}

function featuresOf(stored: unknown, input: AddPenInput | EditPenInput): object {
  const known = penFeaturesSchema.parse(stored);
  return {
    list: input.features ?? known.list,
    capacity: input.capacity === undefined ? known.capacity : input.capacity,
    corners: input.corners ?? known.corners,
    sharesFenceWith: input.sharesFenceWith ?? known.sharesFenceWith,
  };
}

type Corners = readonly { readonly x: number; readonly y: number }[];

function refuseLine(corners: Corners | undefined): void {
  if (!corners || corners.length === 0 || corners.length >= 3) return;
  throw new UserError('BAD_USER_INPUT', 'An outline needs at least three corners.', {
    place: 'input.corners',
    remedy: 'Give three or more, or none.',
  });
}

/** Square metres inside an outline (the surveyor's formula); null without one. */
function areaOf(corners: Corners | undefined): number | null {
  if (!corners || corners.length < 3) return null;
  const twice = corners.reduce((sum, { x, y }, i) => {
    const next = corners[(i + 1) % corners.length];
    return sum + x * next.y - next.x * y;
  }, 0);
  return Math.abs(twice) / 2 || null;
}
